"""What a command gives back: the same facts as a document for programs and as text for people."""

from dataclasses import dataclass
from typing import Any

from explorer.errors import BriefError

Json = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A command's result.

    Attributes:
        document: plain values for ``--json``.
        lines: the same for reading.
        changed: what was there before the files that were written, in words; None where none
            could be. It stands last in the text, and in the document too.
        fault: what is to be mended where only a part was done; None where all was.
    """

    document: Json
    lines: tuple[str, ...]
    changed: tuple[str, ...] | None = None
    fault: BriefError | None = None
