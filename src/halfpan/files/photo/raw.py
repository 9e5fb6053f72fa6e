"""Camera raw files: linear light of the sensor, the camera's own white balance, the camera's own matrix.

No tone curve, no brightening, no clipping at the border of sRGB. The matrix is built as in the published
DNG specification (ColorMatrix, XYZ to camera), normalised so that white stays white.
"""

from __future__ import annotations

import io
from dataclasses import replace
from typing import Any

import numpy as np
import rawpy
from numpy.typing import NDArray

from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import D65
from halfpan.core.measuring.photo import Array, Photo
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.picture import Picture, refuse_too_many_pixels
from halfpan.files.photo.taken import taken_from_bytes

_BURNT = 0.985  # share of the sensor's full well


def raw_picture(data: bytes, name: str) -> Picture:
    """Decode a camera raw file in linear light.

    Raises
    ------
    UnreadablePhoto
        When the file is no raw file, damaged, or of a camera without a known matrix.
    """
    try:
        with rawpy.imread(io.BytesIO(data)) as raw:
            refuse_too_many_pixels(raw.sizes.raw_height, raw.sizes.raw_width, name)
            pixels = raw.postprocess(
                demosaic_algorithm=rawpy.DemosaicAlgorithm.LINEAR,
                output_color=rawpy.ColorSpace.raw,
                gamma=(1, 1),
                output_bps=16,
                no_auto_bright=True,
                use_camera_wb=True,
                highlight_mode=rawpy.HighlightMode.Clip,
            )
            matrix = _matrix(raw)
    except rawpy.LibRawError as trouble:
        raise UnreadablePhoto(
            f"{name} is not a picture that can be read, or it is damaged; try JPEG, PNG or TIFF."
        ) from trouble
    except np.linalg.LinAlgError as trouble:
        raise UnreadablePhoto(
            f"{name} comes from a camera whose colours are unknown here; save it as DNG or JPEG."
        ) from trouble
    directories = data if data[:4] in {b"II*\x00", b"MM\x00*"} else b""
    taken = replace(taken_from_bytes(directories), kind="photo", orientation=1)
    return Picture(
        Photo(pixels, _linear_table(), matrix, int(_BURNT * 65535), taken.device, "photo", name), taken
    )


def _matrix(raw: Any) -> Array:
    """Return the camera's matrix: from its XYZ matrix, or as the file itself states it (DNG)."""
    xyz_to_camera = np.asarray(raw.rgb_xyz_matrix, dtype=np.float64)[:3]
    if np.any(xyz_to_camera):
        return camera_to_srgb(xyz_to_camera)
    stated = np.asarray(raw.color_matrix, dtype=np.float64)[:3, :3]
    whites = stated.sum(axis=1, keepdims=True)
    if np.any(np.abs(whites) < 1e-6):
        raise np.linalg.LinAlgError("the camera states no matrix")
    matrix: Array = stated / whites
    return matrix


def camera_to_srgb(xyz_to_camera: Array) -> Array:
    """Return the matrix from white-balanced camera light to linear sRGB.

    Parameters
    ----------
    xyz_to_camera : array, shape (3, 3), XYZ under D65 to camera, as raw files state it

    Raises
    ------
    numpy.linalg.LinAlgError
        When the camera states no matrix (all zero) or a degenerate one.
    """
    srgb_to_camera = xyz_to_camera @ linear_srgb_to_xyz(np.eye(3), white=D65).T
    whites = srgb_to_camera.sum(axis=1, keepdims=True)
    if np.any(np.abs(whites) < 1e-6):
        raise np.linalg.LinAlgError("the camera states no matrix")
    inverse: Array = np.linalg.inv(srgb_to_camera / whites)
    return inverse


def _linear_table() -> NDArray[np.float32]:
    return np.repeat((np.arange(65536, dtype=np.float32) / np.float32(65535))[:, None], 3, axis=1)
