"""Writes a palette to a file that the maker names."""

from pathlib import Path

from explorer.commands.file_set import place_to_write, put
from explorer.errors import BriefError
from palettes.palette_files import to_gpl, to_toml
from palettes.swatches import Palette

_FORMS = {".toml": to_toml, ".gpl": to_gpl}


def palette_place(name: str) -> Path:
    """The file for a palette, asked for before the work that it is for.

    Raises:
        BriefError: an ending that is none of ours, or the file could not be written.
    """
    if Path(name).suffix.lower() not in _FORMS:
        raise BriefError("out", name, f"a name ending in {', '.join(_FORMS)}", "Name it so.")
    return place_to_write(name)


def write_palette(palette: Palette, path: Path) -> tuple[str, ...]:
    """Write it in the form that the file's ending says; as ``put``."""
    return put(path, _FORMS[path.suffix.lower()](palette).encode("utf-8"))
