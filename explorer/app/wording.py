"""The words and figures that the pages show, as plain text."""

import re

from explorer.app.units import Units, told
from explorer.counts import Counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.fit import Fit
from explorer.lengths import at_least
from explorer.links import links_mm
from explorer.piece import Piece


def fault_words(error: BriefError) -> str:
    """An error as one sentence or two: what was read, what is allowed, what to do."""
    got = str(error.got).strip()
    read = f"“{got}” cannot be taken here" if got else "Nothing is written here"
    return f"{read}. Wanted: {error.wanted}. {error.remedy}"


def strip_words(piece: Piece, units: Units = Units.MM) -> str:
    """The strip's length and how near the target it comes."""
    design = piece.design
    words = f"Strip {told(design.strip_mm, units)}"
    links = links_mm(design)
    if links:
        words = f"{words}, {told(links, units)} of link beads"
    if piece.wearer is None:
        return words
    left = piece.wearer.target_mm(design.closure) - design.strip_mm - links
    if left < -0.05:
        return f"{words}, {told(-left, units)} too long"
    return f"{words}, {told(abs(left), units)} left over"


def beads_words(design: Design) -> str:
    """Motifs and base beads."""
    motifs = "1 motif" if len(design.motifs) == 1 else f"{len(design.motifs)} motifs"
    return f"{motifs}, {design.base_beads} base beads"


def sentence(words: str) -> str:
    """Words as a sentence: a capital first, a full stop last."""
    return f"{words[:1].upper()}{words[1:]}."


def count_words(tally: Counts) -> str:
    """All beads to count out, spares among them."""
    return f"{tally.total + tally.spares} beads to count out, spares included"


def needs_words(fit: Fit) -> str:
    """What one more motif would take."""
    return f"One more motif needs {at_least(fit.next_motif_needs_mm)} more."


def borderline_words(fit: Fit) -> tuple[str, ...]:
    """Which small errors would change the number of motifs; nothing where none would."""
    words = []
    less, more = fit.if_measured_off
    if less != fit.motifs:
        words.append(f"If the tape was 2 mm too generous, {less} motifs fit instead.")
    if more != fit.motifs:
        words.append(f"If the tape was 2 mm too tight, {more} motifs fit instead.")
    wide, narrow = fit.if_pitch_off
    if (wide, narrow) != (fit.motifs, fit.motifs):
        off = f"{100.0 * fit.pitch_spread:.0f} %"
        span = f"{min(wide, narrow)} to {max(wide, narrow)}"
        words.append(f"Beads vary: if yours run {off} wider or narrower, {span} motifs fit.")
    return tuple(words)


def file_stem(name: str) -> str:
    """A piece's name as a file's: letters and digits of any script, hyphens for all else."""
    stem = "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())
    stem = stem[:60].rstrip("-") or "piece"
    # Windows keeps these for devices, whatever the ending.
    return f"piece-{stem}" if re.fullmatch(r"con|prn|aux|nul|(com|lpt)\d", stem) else stem
