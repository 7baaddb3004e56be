"""Starts the app's server; the command line calls it."""

import asyncio
import errno
import sys
import warnings
from concurrent.futures import ThreadPoolExecutor
from importlib.resources import as_file, files

from explorer.errors import BriefError
from explorer.stopping import CODE

_THIS_MACHINE = "127.0.0.1"

# As in .streamlit/config.toml beside the entry script, but given by name too: a maker's own
# settings file in the folder where the command is typed must not open the app to a network.
_OPTIONS = (
    "--server.showEmailPrompt=false",
    "--server.fileWatcherType=none",
    "--server.maxUploadSize=60",
    "--browser.gatherUsageStats=false",
    "--client.toolbarMode=minimal",
    "--client.showErrorDetails=none",
    "--client.showErrorLinks=false",
    # The browser keeps large parts of a page and is sent only their marks again. By default it
    # drops what two runs did not use, and presses faster than the server answers then name what it
    # has dropped, which ends the page. Chosen by us: more runs than are ever under way at once,
    # some 10 MB of pictures.
    "--global.maxCachedMessageAge=100",
    # Boxes are filled by the program and have the same for their default; see explorer.app.late.
    "--global.disableWidgetStateDuplicationWarning=true",
    # As the framework has it, but whatever a settings file says: pages prove themselves with it.
    "--server.enableXsrfProtection=true",
    "--server.enableCORS=true",
    # What is typed must not reach the terminal by way of an error's message.
    "--logger.enableRich=false",
    # Done in explorer.app.memory instead, where it costs less.
    "--runner.postScriptGC=false",
)


def start(port: int | None, browser: bool, listen: str | None = None) -> int:
    """Serve the app until it is stopped.

    Args:
        port: where to listen; None takes the framework's own choice, 8501 or the next free one.
        browser: whether to open a page in the maker's browser.
        listen: the address of this machine on a network that shall reach the app; None for this
            machine alone.

    Returns:
        The exit code.
    """
    from click import Abort
    from streamlit.web import cli

    options = [
        *_OPTIONS,
        *_reached_at(listen),
        f"--server.headless={'false' if browser else 'true'}",
    ]
    if port is not None:
        options.append(f"--server.port={port}")
    with as_file(files("explorer.app") / "served.py") as entry:
        sys.argv = ["streamlit", "run", str(entry), *options]
        # Ctrl+C while the server starts leaves it before it runs, and that is no fault.
        warnings.filterwarnings("ignore", r"coroutine '\w+\.\w+' was never awaited", RuntimeWarning)
        try:
            cli.main(standalone_mode=False)
        except (Abort, KeyboardInterrupt):
            return CODE
        except SystemExit as end:
            return end.code if isinstance(end.code, int) else 0 if end.code is None else 1
    return 0


def check_place(port: int | None, listen: str | None = None) -> None:
    """Try out whether a server can listen there.

    Args:
        port: as for ``start``; None tries any free one.
        listen: as for ``start``.

    Raises:
        BriefError: the address is none of this machine's, or something else listens at the port.
    """
    address = _address(listen)
    try:
        # In a thread of its own: whoever calls may be under a loop of events already.
        with ThreadPoolExecutor(max_workers=1) as aside:
            aside.submit(lambda: asyncio.run(_listen_once(address, port or 0))).result()
    except OSError as error:
        if error.errno in (errno.EADDRINUSE, errno.EACCES) and port is not None:
            raise BriefError(
                "port",
                port,
                "a port that nothing else on this machine uses",
                "If the app is open already, go on there. Else name another port, "
                "or leave out --port and any free one is taken.",
            ) from error
        raise BriefError(
            "listen",
            address,
            "this machine's own address in the class's network, such as 192.168.1.20",
            "Look it up in the network's settings.",
        ) from error


async def _listen_once(address: str, port: int) -> None:
    server = await asyncio.get_running_loop().create_server(asyncio.Protocol, address, port)
    server.close()
    await server.wait_closed()


def _address(listen: str | None) -> str:
    return _THIS_MACHINE if listen is None else listen.strip("[]")


def _reached_at(listen: str | None) -> list[str]:
    """Where the server listens, and the only names that it answers to.

    A page of another site that points a name of its own at this machine is refused.
    """
    address = _address(listen)
    names = ["localhost", address] if listen is None else [address]
    return [f"--server.address={address}", *(f"--server.allowedHosts={name}" for name in names)]
