"""Writes proposals: a picture and a piece file each, and a contact sheet."""

from explorer.commands.file_set import FileSet
from explorer.layout import thumbnail_scene
from explorer.piece import Piece, to_json
from gallery.contact_sheet import SheetStyle, contact_sheet
from gallery.files import to_png
from gallery.framing import framed
from gallery.raster import Pixels, draw

# Chosen by us: fills a page of a printed list and reads well on a phone.
PICTURE_PX = (800, 400)
SHEET = SheetStyle(columns=3, gap_px=40, text_px=26)


class Writer:
    """Puts proposals into a set of files.

    Args:
        files: the set.
    """

    def __init__(self, files: FileSet) -> None:
        self._put = files.put
        self._pictures: list[Pixels] = []
        self._captions: list[str] = []

    def write(self, piece: Piece, stem: str, caption: str) -> tuple[str, str]:
        """Write a piece's picture and file; their names."""
        width_px, height_px = PICTURE_PX
        scene = thumbnail_scene(piece.design, aspect=width_px / height_px)
        pixels = draw(*framed(scene, width_px, height_px))
        self._pictures.append(pixels)
        self._captions.append(caption)
        self._put(f"{stem}.png", to_png(pixels))
        self.text(f"{stem}.json", to_json(piece))
        return f"{stem}.png", f"{stem}.json"

    def contact_sheet(self) -> None:
        """Write all pictures so far on one sheet."""
        if self._pictures:
            self._put(
                "contact-sheet.png",
                to_png(contact_sheet(self._pictures, self._captions, style=SHEET)),
            )

    def text(self, name: str, text: str) -> None:
        """Write a text file."""
        self._put(name, text.encode("utf-8"))
