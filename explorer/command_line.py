"""The command line: ``danglewise`` opens the app, with a command it answers and ends.

Exit 0 is done, 2 the maker's or a file's fault, 1 ours, 130 stopped by Ctrl+C before there
was an answer. With ``--json`` every fault is a document.
"""

import argparse
import errno
import importlib
import io
import ipaddress
import json
import os
import re
import sys
from types import ModuleType

from explorer.commands.options import Parser, join_negatives
from explorer.commands.own_output import kept_for_the_answer
from explorer.errors import BriefError
from explorer.stopping import CODE, loading, stopped_words, written
from palettes.errors import ChartError, clipped, quoted

# Commands by name; each module has SUMMARY, add_options and run, and is imported when it is asked.
COMMANDS = (
    "fit", "order", "judge", "palette", "propose", "change", "gallery", "picture", "sheet", "kit",
    "shelf",
)  # fmt: skip
# Ports that need no rights of an administrator (RFC 6335, 2011: below 1024 lie the system's own).
LEAST_PORT, MOST_PORT = 1024, 65535
# What a system says of a place that has no room left; not every system knows both.
_FULL = {errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)}
# What moves a terminal's cursor, or turns writing round (Unicode Standard Annex 9, 2023).
_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
_NETWORK_CARE = (
    "Everyone in this network can now open the app, and all that is typed there travels "
    "unencrypted. Others share a shelf of the lesson's, and see nothing of yours; whoever uses "
    "this computer does. Press Ctrl+C when the lesson is over."
)


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; the exit code."""
    written.clear()
    typed = sys.argv[1:] if arguments is None else arguments
    as_json = "--json" in typed
    given = join_negatives(typed)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A console that lacks a character shows another, never a fault.
            stream.reconfigure(errors="replace")
    try:
        return _run(given, as_json=as_json)
    except KeyboardInterrupt:
        print(seen(stopped_words()), file=sys.stderr)
        return CODE
    except BriefError as error:
        return _fault(error.as_dict(), 2, as_json=as_json)
    except ChartError as error:
        parts = {
            "field": error.path,
            "got": error.entry,
            "wanted": error.why,
            "remedy": "Mend the file, or name another.",
        }
        return _fault(parts, 2, as_json=as_json, words=f"{error}.")
    except BrokenPipeError:
        # Whoever read our output has seen enough; what is left goes nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as error:
        # Files have faults of their own; what is left is the answer's way out, such as a full disk.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        full = error.errno in _FULL
        told = BriefError(
            "output",
            error.strerror or error,
            "room for the answer" if full else "a way out for the answer",
            "Free some and try again." if full else "Look where the answer goes, and try again.",
        )
        return _fault(told.as_dict(), 2, as_json=as_json)
    except Exception as error:  # noqa: BLE001 - the last door: a maker never sees a traceback
        parts = {
            "field": "danglewise",
            "got": clipped(f"{type(error).__name__}: {error}"),
            "wanted": "no fault of ours",
            "remedy": "This is our mistake. Please report the command that led here.",
        }
        return _fault(parts, 1, as_json=as_json)


def _run(given: list[str], *, as_json: bool) -> int:
    with loading():
        parser = _parser(given)
    options = parser.parse_args(given)
    if options.command is None:
        return _open_app(options)
    with kept_for_the_answer():
        answer = _module(options.command).run(options)
    text = seen("\n".join((*answer.lines, *(answer.changed or ()))))
    fault = answer.fault
    if as_json:
        document = answer.document
        if answer.changed is not None:
            document = document | {"changed": list(answer.changed)}
        if fault is not None:
            document = document | {"error": fault.as_dict()}
        text = json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1)
    # What waits in the buffer is written here, where its faults are still told.
    print(text, flush=True)
    if fault is None:
        return 0
    return 2 if as_json else _fault(fault.as_dict(), 2, as_json=False)


def _module(name: str) -> ModuleType:
    return importlib.import_module(f"explorer.commands.{name}")


def _parser(given: list[str]) -> Parser:
    """The parser, which knows every command by name and loads those that may be asked for."""
    named = {name for name in COMMANDS if name in given}
    if not named and {"-h", "--help"} & {*given}:
        # The list of commands tells what each is for.
        named = {*COMMANDS}
    parser = Parser(prog="danglewise", description="Opens the app, or answers a command.")
    parser.add_argument("--port", metavar="P", help="the app's port (any free one)")
    parser.add_argument("--no-browser", action="store_true", help="do not open a browser")
    parser.add_argument(
        "--listen", metavar="ADDRESS", help="let a network in, by this machine's address there"
    )
    parser.add_argument("--json", action="store_true", help=argparse.SUPPRESS)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    for name in COMMANDS:
        if name not in named:
            commands.add_parser(name)
            continue
        module = _module(name)
        command = commands.add_parser(name, help=module.SUMMARY, description=module.SUMMARY)
        module.add_options(command)
        command.add_argument(
            "--json", action="store_true", default=argparse.SUPPRESS, help="print a document"
        )
    return parser


def _open_app(options: argparse.Namespace) -> int:
    from explorer.app.start import check_place, start
    from explorer.brief import whole

    port = None if options.port is None else whole("port", options.port, LEAST_PORT, MOST_PORT)
    listen = None if options.listen is None else _network_address(options.listen)
    check_place(port, listen)
    if listen is not None:
        from explorer.app.network import lesson_words

        print(f"{_NETWORK_CARE}\n{lesson_words()}", file=sys.stderr, flush=True)
    code = start(port=port, browser=not options.no_browser, listen=listen)
    if code == CODE:
        print("Danglewise has stopped; what was on the table is kept.", file=sys.stderr)
    return code


def _network_address(text: str) -> str:
    """An address of one network, not all that this machine is in."""
    try:
        found = ipaddress.ip_address(text.strip())
    except ValueError:
        found = None
    if found is None or found.is_unspecified or found.is_multicast:
        raise BriefError(
            "listen",
            text,
            "this machine's own address in the class's network, such as 192.168.1.20",
            "Look it up in the network's settings.",
        )
    return str(found)


def seen(text: str) -> str:
    """Text for a terminal: names that come out of files move no cursor and hide nothing."""
    return _UNSEEN.sub("\N{REPLACEMENT CHARACTER}", text)


def _fault(parts: dict[str, str], code: int, *, as_json: bool, words: str = "") -> int:
    if as_json:
        print(json.dumps({"error": parts}, ensure_ascii=False))
    else:
        told = words or f"{parts['field']}: got {quoted(parts['got'])}; wanted {parts['wanted']}."
        print(seen(f"{told}\n{parts['remedy']}"), file=sys.stderr)
    return code
