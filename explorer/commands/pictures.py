"""Writes proposals to a folder: a picture and a piece file each, and a contact sheet."""

from pathlib import Path

from explorer.commands.files import folder_of
from explorer.errors import BriefError
from explorer.layout import thumbnail_scene
from explorer.piece import Piece, to_json
from gallery.contact_sheet import SheetStyle, contact_sheet
from gallery.files import to_png, write_bytes
from gallery.framing import framed
from gallery.raster import Pixels, draw

# Chosen by us: fills a page of a printed list and reads well on a phone.
PICTURE_PX = (800, 400)
SHEET = SheetStyle(columns=3, gap_px=40, text_px=26)


class Writer:
    """Writes into one folder, each file whole or not at all.

    Raises:
        BriefError: the folder cannot be made or written; nothing half-written stays behind.
    """

    def __init__(self, folder: str) -> None:
        self._folder = folder_of(folder)
        self._pictures: list[Pixels] = []
        self._captions: list[str] = []
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise _refused(self._folder, error) from error

    def write(self, piece: Piece, stem: str, caption: str) -> tuple[str, str]:
        """Write a piece's picture and file; their names relative to the folder."""
        width_px, height_px = PICTURE_PX
        scene = thumbnail_scene(piece.design, aspect=width_px / height_px)
        pixels = draw(*framed(scene, width_px, height_px))
        self._pictures.append(pixels)
        self._captions.append(caption)
        self._bytes(f"{stem}.png", to_png(pixels))
        self.text(f"{stem}.json", to_json(piece))
        return f"{stem}.png", f"{stem}.json"

    def contact_sheet(self) -> None:
        """Write all pictures so far on one sheet."""
        if self._pictures:
            self._bytes(
                "contact-sheet.png",
                to_png(contact_sheet(self._pictures, self._captions, style=SHEET)),
            )

    def text(self, name: str, text: str) -> None:
        """Write a text file."""
        self._bytes(name, text.encode("utf-8"))

    def _bytes(self, name: str, content: bytes) -> None:
        write(self._folder / name, content)


def write(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, its folder too if it is missing.

    Raises:
        BriefError: the folder cannot be made or written; nothing half-written stays behind.
    """
    try:
        write_bytes(path, content)
    except OSError as error:
        raise _refused(path.parent, error) from error


def _refused(folder: Path, error: OSError) -> BriefError:
    return BriefError(
        "out",
        folder,
        f"a folder that can be written ({error.strerror or error})",
        "Choose another folder, or free some space.",
    )
