"""What stands under the picture for a child: what was done, which part is next, what to do."""

from explorer.app.child_words import child_word
from explorer.app.state import Tapped
from explorer.design import Column, Design
from palettes.swatches import Swatch

# Chosen by us: more colours than that in one part are not listed to a child.
_MOST_LISTED = 2


def part_words(design: Design, bowls: list[tuple[Swatch, str]]) -> tuple[str, ...]:
    """The colours of each part, by the words of the bowls where they lie in one.

    Args:
        design: the piece.
        bowls: the colours at hand, each with its word.
    """
    known = {swatch.hex: word for swatch, word in bowls}
    return tuple(_colours(design, columns, known) for columns in design.motifs)


def _colours(design: Design, columns: tuple[Column, ...], known: dict[str, str]) -> str:
    hexes = dict.fromkeys(design.beads[bead].hex for column in columns for bead in column.beads)
    words = list(dict.fromkeys(known.get(hex_) or _another(hex_, known) for hex_ in hexes))
    return " and ".join(words) if len(words) <= _MOST_LISTED else "many colours"


def _another(hex_: str, known: dict[str, str]) -> str:
    """A colour that lies in no bowl: not to be taken for one that does."""
    word = child_word(hex_)
    return f"another {word}" if any(word in one.split() for one in known.values()) else word


def labels(words: tuple[str, ...]) -> tuple[str, ...]:
    """What each part is called, as a finger or a screen reader finds it."""
    return tuple(f"Part {place + 1}: {word}" for place, word in enumerate(words))


def hint(design: Design, place: int, words: tuple[str, ...], last: Tapped | None) -> str:
    """What was done last, as far as it is not plain to see, then the part in the ring.

    Args:
        design: the piece as it is.
        place: the part that the next bowl colours.
        words: the colours of each part.
        last: what was done last; passed over once the beads are others.
    """
    now = f"Part {place + 1}: {words[place]}. Tap a bowl to change it."
    if last is None or last.design != design or last.motif >= len(words):
        return now
    if last.words:
        return f"{last.words} {now}"
    already = "" if last.changed else f"Part {last.motif + 1} is {words[last.motif]} already. "
    if last.motif == place:
        return f"{already}Tap another bowl to change it." if already else now
    if place == 0:
        return f"{already}That was the last part. {now}"
    return f"{already}{now}"


def changed_words(before: Design, after: Design, words: tuple[str, ...]) -> str:
    """What a button did to one part or two of them.

    Args:
        before: the piece before it.
        after: the piece after it.
        words: the colours of each part after it.
    """
    places = [
        place for place in range(len(after.motifs)) if _beads(before, place) != _beads(after, place)
    ]
    if len(places) == 1:
        return f"Part {places[0] + 1} is {words[places[0]]} now."
    if len(places) == 2:
        return f"Part {places[0] + 1} and part {places[1] + 1} changed places."
    return ""


def _beads(design: Design, motif: int) -> list[str]:
    """The colours of a motif; beads are numbered anew with every change, so numbers tell nothing.

    Names count too: two beads of one colour are two beads.
    """
    columns = design.motifs[motif]
    return [
        f"{design.beads[bead].hex} {design.beads[bead].name}"
        for column in columns
        for bead in column.beads
    ]
