"""Runs the recorded command lines and flows, and keeps what they answer.

``python -m tests.recorded.record`` writes ``recorded.json`` anew. An answer is a list of texts: one
for a command line, one for the start of a flow and one after each of its steps. They tell nothing
of how beads are numbered, of folders or of times; a file that is no text is told as its digest.
"""

import hashlib
import io
import json
import os
import re
import shlex
import shutil
import tempfile
import warnings
import zipfile
import zlib
from base64 import b85decode, b85encode
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import asdict, replace
from difflib import unified_diff
from itertools import groupby
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np

from explorer import changes
from explorer.app import events, shaping, steps, together
from explorer.app.demo import demo, tray_of
from explorer.app.sizing import Measured, measured
from explorer.app.state import Work
from explorer.brief import Brief, HowMuch, Wearer
from explorer.contrast import looks_of
from explorer.counts import counts
from explorer.errors import BriefError
from explorer.fit import Fit
from explorer.pattern import Pattern
from explorer.piece import VERSION_KEY, Piece, from_json, to_json
from explorer.propose import Proposals, propose
from explorer.remeasure import ways_on
from explorer.share import from_code, to_code
from explorer.suggest import suggest
from explorer.swatch import Swatch as Woven
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.swatches import Swatch
from tests.fuzz.run_lines import ended
from tests.recorded.commands import COMMANDS, FILES
from tests.recorded.flows import DEMO, FLOWS, Flow

Answers = dict[str, list[str]]
Look = Mapping[str, str]
KEPT = Path(__file__).with_name("recorded.json")
_ROOT = Path(__file__).parents[2]
_EXAMPLES = _ROOT / "gallery" / "examples"
_PHOTO = _ROOT / "tests" / "reference" / "shelves" / "photograph.jpg"
_TIME = re.compile(r"\d{4}-\d\d-\d\d(?:T[\d:.]+(?:\+00:00|Z)?)?")
# What was there before files that are written, which was told of exports alone.
_BEFORE = re.compile(r',\n "changed": \[[^\]]*\]|\nthe folder .* was made$', re.MULTILINE)
# What documents tell in addition.
_MORE = {"extras", "lengths", "closed", "came_in"}
# How much of a difference is shown.
_SHOWN, _WIDE = 6, 200
_TEXTS = {".csv", ".gpl", ".json", ".md", ".toml"}


def do(work: Work, word: str, **arguments: Any) -> Work:
    """The work after a step: only this, and ``told``, know how pieces are changed and built."""
    return _WORDS[word](work, **arguments)


def _swatch(look: Look) -> Swatch:
    return Swatch(
        name=look["name"], hex=look["hex"], finish=Finish(look.get("finish", Finish.OPAQUE))
    )


def _bead(pattern: Pattern, look: Look) -> Bead:
    own = _swatch(look)
    return Bead(name=own.name, kind=pattern.hanging, hex=own.hex, finish=own.finish)


def _example(stem: str) -> Piece:
    return from_json((_EXAMPLES / f"{stem}.json").read_text("utf-8"))


def _size(work: Work, **boxes: Any) -> Work:
    return steps.resized(work, steps.with_partner(work, replace(work.sizing, **boxes)))


def _another_fit(work: Work, *, place: int) -> Work:
    to = measured(work.sizing)
    fit = to.strip.fit(to.wearer, to.closure) if isinstance(to, Measured) else None
    return steps.with_alternative(work, fit.alternatives[place]) if isinstance(fit, Fit) else work


def _for(work: Work, *, snug_mm: float, ease_mm: float, plain_ends: bool | None = None) -> Work:
    wearer = Wearer(snug_mm=snug_mm, ease_mm=ease_mm)
    found = changes.resize(work.piece.pattern, wearer, fill=plain_ends)
    if isinstance(found, changes.TooShort):
        return work
    return shaping.with_pattern(work, found.pattern)


def _own_colours(work: Work, *, text: str, base: Look) -> Work:
    return steps.with_tray(work, steps.own_tray(text, _swatch(base)))


def _event(
    work: Work, act: events.Act, at: tuple[int, ...], value: int, *, everywhere: bool = False
) -> Work:
    event = events.Event(number=1, act=act, numbers=at, value=value)
    pattern, swatches = work.piece.pattern, work.tray.swatches
    return _with(work, events.applied(pattern, event, swatches, everywhere=everywhere))


def _with(work: Work, changed: changes.Changed | None) -> Work:
    return work if changed is None else shaping.with_pattern(work, changed.pattern)


def _paint(work: Work, *, at: tuple[int, ...], colour: int) -> Work:
    return _event(work, events.Act.PAINT, at, colour)


def _length(work: Work, *, at: tuple[int, ...], beads: int, everywhere: bool = False) -> Work:
    return _event(work, events.Act.LENGTH, at, beads, everywhere=everywhere)


def _pattern(work: Work, *, pattern: str) -> Work:
    scope = shaping.scope_of(work.piece.pattern, "", "")
    return _with(work, shaping.with_letters(work.piece.pattern, scope, pattern))


def _mirror(work: Work, *, mirrored: bool) -> Work:
    return _with(work, changes.turn_outlines(work.piece.pattern, mirrored=mirrored))


def _profile(work: Work, *, pattern: str, target: str, lengths: tuple[int, ...]) -> Work:
    scope = shaping.scope_of(work.piece.pattern, pattern, target)
    return _with(work, shaping.with_profile(work.piece.pattern, scope, lengths))


def _stretch(work: Work, *, pattern: str, target: str, least: int, most: int) -> Work:
    lengths = shaping.scope_of(work.piece.pattern, pattern, target).profile
    lengths = shaping.stretched(lengths, least, most)
    return _profile(work, pattern=pattern, target=target, lengths=lengths)


def _dangle(work: Work, *, pattern: str, target: str, place: int, beads: int, mirror: bool) -> Work:
    lengths = shaping.scope_of(work.piece.pattern, pattern, target).profile
    lengths = shaping.with_length_at(lengths, place, beads, mirror=mirror)
    return _profile(work, pattern=pattern, target=target, lengths=lengths)


def _fill(work: Work, *, motif: int, colours: tuple[int, ...]) -> Work:
    pattern = work.piece.pattern
    for colour in colours:
        pattern, motif = together.filled(pattern, motif, work.tray.swatches[colour])
    return shaping.with_pattern(work, pattern)


def _all_in(work: Work, *, colour: int) -> Work:
    pattern = together.all_in(work.piece.pattern, work.tray.swatches[colour])
    return shaping.with_pattern(work, pattern)


def _surprise(work: Work, *, seed: int) -> Work:
    chance = np.random.default_rng(seed)
    pattern = together.surprise(work.piece.pattern, work.tray.swatches, chance)
    return shaping.with_pattern(work, pattern)


def _swap(work: Work) -> Work:
    pattern = together.swapped(work.piece.pattern)
    return work if pattern is None else shaping.with_pattern(work, pattern)


def _mend(work: Work) -> Work:
    pattern = together.mended(work.piece.pattern, work.tray.swatches)
    return work if pattern is None else shaping.with_pattern(work, pattern)


def _suggestion(
    work: Work,
    *,
    place: int,
    see: str = "typical",
    light: str = "daylight",
    at_hand: tuple[Look, ...] = (),
) -> Work:
    pattern = work.piece.pattern
    own = tuple(_bead(pattern, look) for look in at_hand)
    found = suggest(pattern, at_hand=own, looks=looks_of(see, light))
    return _with(work, found[place].changed if place < len(found) else None)


def _half_way(work: Work, *, beads: int, length_mm: float, place: int) -> Work:
    piece = work.piece
    if piece.wearer is None:
        raise ValueError("half-way is measured for a wearer; got none")
    ways = ways_on(piece.pattern, piece.wearer, Woven(beads=beads, length_mm=length_mm))
    return shaping.with_way(work, ways[min(place, len(ways) - 1)], beads, length_mm)


def _tips(
    work: Work,
    *,
    kind: str | None,
    look: Look | None = None,
    motifs: tuple[int, ...] | None = None,
) -> Work:
    known = None if kind is None else bead_kinds()[kind]
    swatch = None if look is None else _swatch(look)
    pattern = work.piece.pattern
    for motif in (None,) if motifs is None else motifs:
        pattern = changes.tips(pattern, kind=known, swatch=swatch, motif=motif).pattern
    return shaping.with_pattern(work, pattern)


def _divider_beads(work: Work, *, beads: tuple[Look, ...]) -> Work:
    pattern = work.piece.pattern
    wanted = [(_swatch(look), pattern.hanging) for look in beads]
    return _with(work, changes.divider_beads(pattern, wanted))


def _links(work: Work, *, bead: Look, each_end: int) -> Work:
    pattern = work.piece.pattern
    return _with(work, changes.links(pattern, _swatch(bead), pattern.hanging, each_end))


def _propose(work: Work, *, seed: int, place: int) -> Work:
    brief = steps.brief_of(work, seed=seed, count=4, extras=HowMuch.PLAIN)
    found = propose(brief) if isinstance(brief, Brief) else None
    if not isinstance(found, Proposals):
        return work
    return steps.on_table(work, found.proposals[place], seed)


_WORDS: dict[str, Callable[..., Work]] = {
    "size": _size,
    "margin": shaping.with_margin,
    "another fit": _another_fit,
    "what goes round": lambda work: steps.that_goes_round(work) or work,
    "for": _for,
    "palette": lambda work, name: steps.with_tray(work, tray_of(name)),
    "own colours": _own_colours,
    "swatch": steps.with_swatch,
    "base": lambda work, **look: steps.with_base(work, _swatch(look)),
    "paint": _paint,
    "length": _length,
    "pattern": _pattern,
    "mirror": _mirror,
    "profile": _profile,
    "stretch": _stretch,
    "dangle": _dangle,
    "within": shaping.within,
    "fill": _fill,
    "all in": _all_in,
    "surprise": _surprise,
    "swap": _swap,
    "mend": _mend,
    "suggestion": _suggestion,
    "half-way": _half_way,
    "tips": _tips,
    "divider beads": _divider_beads,
    "links": _links,
    "propose": _propose,
    "open": lambda work, stem: steps.opened(work, _example(stem)),
    "save and open": lambda work: steps.opened(work, from_json(to_json(work.piece))),
    "share": lambda work: steps.opened(work, from_code(to_code(work.piece))),
}


def told(piece: Piece) -> str:
    """A piece in strip order, each bead by its name, kind, colour and finish."""
    design = piece.design
    looks = [f"{b.name}, {b.kind.name}, {b.hex}, {b.finish}" for b in design.beads]

    def row(numbers: tuple[int, ...]) -> str:
        runs = ((look, len([*run])) for look, run in groupby(looks[n] for n in numbers))
        return "; ".join(f"{length} {look}" for look, length in runs) or "none"

    tally = counts(design)
    used: Counter[str] = Counter()
    for bead in tally.by_bead:
        used[looks[bead.bead]] += bead.used
    parts = {
        "base": tally.base_beads,
        "dangle": tally.dangle_beads,
        "divider": tally.divider_beads,
        "link": tally.link_beads,
    }
    lines = (
        f"{piece.name}; worn as {piece.worn_as}; seed {piece.seed}; notes {piece.notes!r}",
        f"wearer: {piece.wearer}",
        f"pitch: {design.base_pitch_mm!r} mm, measured: {piece.pitch_measured}",
        f"closure: {asdict(design.closure)}; plain ends: {piece.plain_ends}",
        f"links: {row(design.start_links)} and {row(design.end_links)}",
        f"{tally.total} beads: {', '.join(f'{count} {what}' for what, count in parts.items())}",
        *(f"in all {count} {look}" for look, count in sorted(used.items()) if count),
        *(
            f"{place.part} {place.index}.{place.column}: {looks[column.base]}: {row(column.beads)}"
            for place, column in design.columns()
        ),
    )
    return "\n".join(lines)


def _table(work: Work) -> str:
    """The piece, and the boxes and colours beside it."""
    tray = work.tray
    colours = (f"{s.name}, {s.hex}, {s.finish}" for s in (tray.base, *tray.swatches))
    boxes = " ".join(f"{name}={value!r}" for name, value in asdict(work.sizing).items())
    return f"{told(work.piece)}\nboxes: {boxes}\ntray {tray.palette!r}: {'; '.join(colours)}"


def walked(flow: Flow) -> list[str]:
    """What lies on the table before a flow and after each step; a fault changes nothing."""
    start, along = flow
    work = demo()
    if start != DEMO:
        work = steps.opened(work, _example(start))
    answers = [_table(work)]
    for word, arguments in along:
        try:
            work = do(work, word, **arguments)
        except BriefError as error:
            answers.append(f"fault: {error.as_dict()}")
        except ChartError as error:
            answers.append(f"fault: {error}")
        else:
            answers.append(_table(work))
    return answers


def flows_of(names: Iterable[str]) -> Answers:
    """What these flows make."""
    return {name: walked(FLOWS[name]) for name in names}


def commands() -> Answers:
    """What every command line answers and writes, one after the other in one folder."""
    found: Answers = {}
    with tempfile.TemporaryDirectory() as folder, _elsewhere(Path(folder)) as place:
        before = _seen(place)
        for line in COMMANDS:
            # Proposals of more rules are asked for by an option; these were recorded without.
            plain = ["--extras", "plain"] if line.startswith("propose ") else []
            how = ended([*shlex.split(line), *plain], "utf-8")
            after = _seen(place)
            new = [name for name in sorted(after) if before.get(name) != after[name]]
            gone = [f"gone: {name}" for name in sorted(before.keys() - after.keys())]
            files = [f"file {name}: {_content(after[name], name)}" for name in new]
            parts = (
                f"exit {how.code}",
                _as_told(how.out),
                how.err and f"told: {how.err}",
                *gone,
                *files,
            )
            text = "\n".join(part for part in parts if part)
            text = _TIME.sub("<time>", text.replace(folder, "<folder>"))
            found[line] = [_BEFORE.sub("", text)]
            before = after
    return found


@contextmanager
def _elsewhere(root: Path) -> Iterator[Path]:
    """A working folder with the files that the lines name, and a home of its own."""
    place, home = root / "here", str(root / "home")
    shutil.copytree(_EXAMPLES, place, ignore=shutil.ignore_patterns("*.png", "*.md"))
    shutil.copyfile(_PHOTO, place / "photo.jpg")
    for name, text in FILES.items():
        (place / name).write_text(text, "utf-8", newline="")
    settings = {"HOME": home, "XDG_DATA_HOME": home, "LANGUAGE": "C", "COLUMNS": "80"}
    before = Path.cwd()
    with ExitStack() as stack:
        stack.enter_context(mock.patch.dict(os.environ, settings))
        stack.enter_context(warnings.catch_warnings())
        warnings.simplefilter("error")
        os.chdir(place)
        try:
            yield place
        finally:
            os.chdir(before)


def _seen(place: Path) -> dict[str, bytes]:
    """Every file but shelves, which hold times in their pages."""
    return {
        path.relative_to(place).as_posix(): path.read_bytes()
        for path in place.rglob("*")
        if path.is_file() and ".sqlite3" not in path.name
    }


def _content(content: bytes, name: str) -> str:
    """A piece bead by bead, any other text as it is, an archive by its parts, else a digest."""
    ending = Path(name).suffix
    if ending == ".zip":
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            parts = [f"{part}: {_content(archive.read(part), part)}" for part in archive.namelist()]
        return "\n".join(parts)
    if ending not in _TEXTS:
        return hashlib.sha256(content).hexdigest()[:16]
    text = content.decode("utf-8")
    document = json.loads(text) if ending == ".json" else None
    if not isinstance(document, dict) or VERSION_KEY not in document:
        return _as_told(text)
    piece = from_json(text)
    beside = {key: document[key] for key in document.keys() - json.loads(to_json(piece)).keys()}
    return f"{told(piece)}\nbeside: {json.dumps(beside, sort_keys=True)}"


def _as_told(text: str) -> str:
    """A document without what is told in addition since it was recorded."""
    try:
        document = json.loads(text)
    except ValueError:
        return text
    again = json.dumps(_without_more(document), ensure_ascii=False, indent=1) + "\n"
    return again if json.dumps(document, ensure_ascii=False, indent=1) + "\n" == text else text


def _without_more(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: _without_more(v) for k, v in value.items() if k not in _MORE}
    return [_without_more(one) for one in value] if isinstance(value, list) else value


def kept() -> Answers:
    """What was answered when it was recorded.

    A piece that was resized had its first form beside it then; now its rules are all there is.
    """
    packed: dict[str, str] = json.loads(KEPT.read_text("utf-8"))
    found = {key: json.loads(zlib.decompress(b85decode(value))) for key, value in packed.items()}
    return {
        key: [_BEFORE.sub("", _without_first_form(text)) for text in texts]
        for key, texts in found.items()
    }


def _without_first_form(text: str) -> str:
    return "\n".join(line for line in text.split("\n") if not line.startswith("first form: "))


def differences(before: Answers, now: Answers) -> Iterator[str]:
    """What is answered otherwise than it was: which line or flow, from which step on, and how."""
    for key, was in before.items():
        then = now.get(key, [])
        if was == then:
            continue
        step = next(n for n in range(len(was) + 1) if was[n : n + 1] != then[n : n + 1])
        one, other = ("".join(texts[step : step + 1]).splitlines() for texts in (was, then))
        lines = [x[:_WIDE] for x in unified_diff(one, other, n=0, lineterm="") if x[:2] != "@@"][2:]
        told_lines = lines[:_SHOWN]
        if len(lines) > _SHOWN:
            told_lines.append(f"and {len(lines) - _SHOWN} lines more")
        where = key
        if key in FLOWS:
            where += f", step {step} {FLOWS[key][1][step - 1]}" if step else ", at its start"
        yield "\n    ".join((f"{where}:", *told_lines))


if __name__ == "__main__":
    answers = {**commands(), **flows_of(FLOWS)}
    packed = {
        key: b85encode(zlib.compress(json.dumps(texts, ensure_ascii=False).encode(), 9)).decode()
        for key, texts in answers.items()
    }
    KEPT.write_text(json.dumps(packed, ensure_ascii=False, indent=0) + "\n", "utf-8")
