"""A photograph as the bytes of a JPEG file, small enough for a page."""

import io

import numpy as np
from numpy.typing import NDArray
from PIL import Image

# Chosen by us: half of a wide page on a screen of two device pixels a pixel.
_SHOWN_PX = 1200
_QUALITY = 86


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
