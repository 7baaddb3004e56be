"""A photograph as the bytes of a JPEG file, small enough for a page."""

import io
from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

# Chosen by us: half of a wide page on a screen of two device pixels a pixel.
_SHOWN_PX = 1200
_QUALITY = 86
# Marks of a JPEG file (ITU-T T.81, table B.1 and B.1.1.5).
_SCAN, _END, _STUFFED = b"\xff\xda", b"\xff\xd9", b"\xff\x00"
_FRAME = b"\xff\xc0\x00\x11\x08"  # baseline, three colours of eight bits; then height and width
# Chosen by us: so many bytes at the end of a picture are never all beside the point.
_TAIL = 16


def to_jpeg(pixels: NDArray[np.uint8]) -> bytes:
    """The picture with its longer side at most 1200 pixels; see-through parts on white.

    Args:
        pixels: (h, w, 3) or (h, w, 4) sRGB bytes.
    """
    image = Image.fromarray(np.ascontiguousarray(pixels))
    if image.mode == "RGBA":
        ground = Image.new("RGBA", image.size, "white")
        image = Image.alpha_composite(ground, image)
    image = image.convert("RGB")
    image.thumbnail((_SHOWN_PX, _SHOWN_PX))
    out = io.BytesIO()
    image.save(out, format="JPEG", quality=_QUALITY)
    return out.getvalue()


def is_ours(content: bytes) -> bool:
    """Whether a file is just as ``to_jpeg`` writes one, so that it need not be written anew.

    All before the picture itself is compared byte by byte with what we write for that size, so
    that no comment, place or camera's name passes, nor anything after the picture's end. It must
    be whole, and its last bytes must matter to the picture, or something else may stand there.
    """
    head, start = _head(), content.find(_SCAN)
    at = head.index(_FRAME) + len(_FRAME)
    size = content[at : at + 4]
    high, wide = int.from_bytes(size[:2]), int.from_bytes(size[2:])
    if not (0 < high <= _SHOWN_PX and 0 < wide <= _SHOWN_PX and start > 0):
        return False
    body = len(head)
    if content[:body] != head[:at] + size + head[at + 4 :] or not content.endswith(_END):
        return False
    picture = content[body : -len(_END)]
    if b"\xff" in picture.replace(_STUFFED, b""):
        return False
    try:
        whole = _decoded(content)
        return _decoded(content[:body] + picture[:-_TAIL] + _END) != whole
    except (OSError, ValueError, SyntaxError):
        return False


@cache
def _head() -> bytes:
    """What stands before the picture itself, for a picture of another size."""
    content = to_jpeg(np.zeros((8, 8, 3), np.uint8))
    start = content.index(_SCAN)
    return content[: start + 2 + int.from_bytes(content[start + 2 : start + 4])]


def _decoded(content: bytes) -> bytes:
    with Image.open(io.BytesIO(content), formats=("JPEG",)) as image:
        return image.tobytes()
