"""Links that bring a piece along. They come from strangers, so nothing in them is trusted."""

from explorer.piece import Piece
from explorer.share import from_code
from palettes.errors import ChartError

PARAMETER = "piece"
# Chosen by us: a metre and a half is longer than any strip of a measurement that we take, with room
# for its closure; a longer one would only keep the machine busy.
MOST_STRIP_MM = 1500.0


def piece_in(text: str) -> Piece:
    """The piece in a link or a code.

    Raises:
        ChartError: there is none, it was cut short or changed, or no one could wear it.
    """
    piece = from_code("".join(text.split()))
    design = piece.design
    if design.strip_mm > MOST_STRIP_MM:
        raise ChartError(
            "the link",
            "the strip",
            f"it is {design.strip_mm:.0f} mm long; at most {MOST_STRIP_MM:.0f} mm are opened",
        )
    return piece


def link_from(page: str, code: str) -> str:
    """A link to the app as it runs here.

    Args:
        page: the address of the page that is open.
        code: what ``explorer.share.to_code`` gave.
    """
    from urllib.parse import urlsplit

    parts = urlsplit(page)
    return f"{parts.scheme}://{parts.netloc}/?{PARAMETER}={code}"
