"""Writes a palette to a file that the maker names."""

from pathlib import Path

from explorer.errors import BriefError
from gallery.files import write_bytes
from palettes.palette_files import to_gpl, to_toml
from palettes.swatches import Palette


def write_palette(palette: Palette, name: str) -> None:
    """Write it whole or not at all, in the form that the file's ending says.

    Raises:
        BriefError: another ending, or the file cannot be written.
    """
    path = Path(name)
    forms = {".toml": to_toml, ".gpl": to_gpl}
    if path.suffix.lower() not in forms:
        raise BriefError("out", name, f"a name ending in {', '.join(forms)}", "Name it so.")
    try:
        write_bytes(path, forms[path.suffix.lower()](palette).encode("utf-8"))
    except OSError as error:
        raise BriefError(
            "out",
            name,
            f"a file that can be written ({error.strerror or error})",
            "Choose another folder, or free some space.",
        ) from error
