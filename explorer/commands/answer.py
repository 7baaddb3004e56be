"""What a command gives back: the same facts as a document for programs and as text for people."""

from dataclasses import dataclass
from typing import Any

Json = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A command's result.

    Attributes:
        document: plain values for ``--json``.
        lines: the same for reading.
        code: the exit code: 0 for done, 2 where a part of what was asked is to be mended.
    """

    document: Json
    lines: tuple[str, ...]
    code: int = 0
