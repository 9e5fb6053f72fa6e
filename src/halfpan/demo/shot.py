"""A picture that was taken: the file a camera or scanner would hand over, and where the sheet lies in it."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Literal

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from halfpan.demo.view import View

Array = NDArray[np.float64]
Field = NDArray[np.float32]
Kind = Literal["jpg", "png", "tif"]


@dataclass(frozen=True, slots=True, eq=False)
class Shot:
    """One picture.

    Attributes
    ----------
    file : the encoded picture
    suffix : "jpg", "png" or "tif"
    view : where the sheet lies in it; a scanner's view is of a flat sheet from very far
    target_places : array, shape (24, 2), (row, col) of the middles of the target's patches, or none
    """

    file: bytes
    suffix: Kind
    view: View
    target_places: Array | None = None

    @property
    def rgb(self) -> NDArray[np.uint8]:
        """The decoded picture, red first, 8 bits."""
        buffer = np.frombuffer(self.file, dtype=np.uint8)
        return np.asarray(cv2.imdecode(buffer, cv2.IMREAD_COLOR))[..., ::-1]


def encode(
    pixels: NDArray[np.uint8], kind: Kind, quality: int = 92, device: tuple[str, str] = ("", "")
) -> bytes:
    """Return the file of a picture, shape (rows, cols, 3), red first; a JPEG names the device."""
    options = [cv2.IMWRITE_JPEG_QUALITY, quality] if kind == "jpg" else []
    _, data = cv2.imencode(f".{kind}", np.ascontiguousarray(pixels[..., ::-1]), options)
    file = data.tobytes()
    if kind != "jpg" or not any(device):
        return file
    exif = Image.Exif()
    exif[0x010F], exif[0x0110] = device
    with io.BytesIO() as part:
        part.write(b"\xff\xd8\xff\xe1")
        payload = exif.tobytes()
        part.write((len(payload) + 2).to_bytes(2, "big") + payload + file[2:])
        return part.getvalue()


def encoding_table(tone: Field) -> NDArray[np.uint8]:
    """Return 8-bit values of 65536 levels of light, from a curve given at evenly spaced levels 0-1."""
    at = np.linspace(0, 1, 65536)
    curve = np.interp(at, np.linspace(0, 1, len(tone)), tone)
    return np.asarray(np.clip(curve, 0, 1) * 255 + 0.5, dtype=np.uint8)


def to_pixels(light: Field, table: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return 8-bit pixels of light 0-1 through `encoding_table`; what is brighter burns out."""
    levels = np.clip(light, 0, 1, out=light)
    levels *= np.float32(65535)
    return table[levels.astype(np.uint16)]
