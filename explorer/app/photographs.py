"""Photographs as a page holds them."""

import hashlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.errors import BriefError
from gallery.photo_jpeg import to_jpeg
from gallery.photos import PhotoError, read_photo


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Photo:
    """A photograph as it was read.

    Attributes:
        name: of the file.
        pixels: (h, w, 3 or 4) sRGB bytes.
        jpeg: the same for a page.
        mark: tells it from every other one.
    """

    name: str
    pixels: NDArray[np.uint8]
    jpeg: bytes
    mark: str


def read(content: bytes, name: str) -> Photo:
    """The photograph in a file's bytes.

    Raises:
        BriefError: it cannot be used.
    """
    try:
        pixels = read_photo(content, name=name)
    except PhotoError as error:
        raise BriefError("photo", error.got, error.wanted, error.remedy) from error
    mark = hashlib.sha1(content, usedforsecurity=False).hexdigest()
    return Photo(name=name, pixels=pixels, jpeg=to_jpeg(pixels), mark=mark)
