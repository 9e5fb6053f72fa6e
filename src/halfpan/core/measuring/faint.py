"""What a picture may have smoothed away of a wash's faintest grain, told by how faint it stands in the file.

Cameras smooth their noise away, and a lossy file drops what is fainter than its steps. Either takes from a
pixel what sets it apart from its neighbours, where that is little. The printed marks do not show it, being
strong. But where a wash's pixels hardly differ from their neighbours, they may have differed more, and the
grain is read as under a further blur of so few pixels.
"""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Rect
from halfpan.core.measuring.flatten import Flattening, to_picture
from halfpan.core.measuring.photo import Array, Photo
from halfpan.core.measuring.texture import CLIP, LUMINANCE, Texture, grain_band, rms, without_paper

NEIGHBOURS = 5
"""Side of the square of pixels that a pixel is held against."""

SMOOTHED_PX = 1.1
"""Standard deviation of the blur that faint grain is credited with: between the mean of 3 by 3 pixels (0.82)
and that of 5 by 5 (1.41), the squares that pictures are commonly smoothed over (common practice)."""

FAINT_STEPS = 1.0
"""So many steps of 255 a pixel differs from its neighbours where half of that is smoothed: a judgement. Noise
of a camera is one to three steps, and what is no more than that is taken for noise."""

LEAST_MM = 0.05
"""A smoothing of less than this on the sheet moves grain by a hundredth at most."""

MOST_PUT_RIGHT = 0.15
"""Faint grain put right by more than this has no figure: such corrections are good to half of themselves."""

EVERY, FEWEST = 2, 50
"""Every second pixel each way is looked at; so few of them tell nothing."""


def pixels_apart(photo: Photo, flattening: Flattening, rect: Rect) -> float | None:
    """Return how far a piece's pixels differ from the mean of their neighbours, rms in steps of 255.

    None where the picture stores finer steps than 255 and so drops nothing, or hardly shows the piece.
    """
    if len(photo.decode) > 256:
        return None
    step = EVERY / flattening.pixels_per_mm
    x, y = np.arange(rect.x, rect.right, step), np.arange(rect.y, rect.bottom, step)
    grid: NDArray[np.float64] = np.stack(np.meshgrid(x, y), axis=-1)
    places = np.rint(to_picture(flattening, grid)).astype(np.intp).reshape(-1, 2)
    places = places[((places >= 0) & (places < photo.shape)).all(1)]
    if len(places) < FEWEST:
        return None
    first = np.maximum(places.min(0) - NEIGHBOURS, 0)
    last = places.max(0) + NEIGHBOURS + 1
    stored = photo.pixels[first[0] : last[0], first[1] : last[1]]
    level = np.asarray(cv2.transform(np.ascontiguousarray(stored, dtype=np.float32), LUMINANCE[None]))
    apart = level - cv2.blur(level, (NEIGHBOURS, NEIGHBOURS), borderType=cv2.BORDER_REFLECT)
    values = apart[places[:, 0] - first[0], places[:, 1] - first[1]]
    return rms(np.clip(values, *np.quantile(values, [CLIP, 1 - CLIP])))


def smoothed_mm(apart: float, on_paper: float, pixels_per_mm: float) -> float:
    """Return the further blur that a wash's grain may lie under, a standard deviation in mm on the sheet.

    Parameters
    ----------
    apart, on_paper : ``pixels_apart`` of the wash and of bare paper, whose noise and texture are taken off
    pixels_per_mm : of the picture
    """
    steps = without_paper(apart, on_paper) / FAINT_STEPS
    return SMOOTHED_PX / pixels_per_mm / float(np.sqrt(1.0 + steps**4))


def given_back(
    texture: Texture,
    piece: Array,
    paper: Array | None,
    pixels_per_mm: float,
    *,
    blur_mm: float,
    lost_mm: float,
) -> tuple[Texture, float]:
    """Read grain free of a smoothing, half of what that adds being in doubt.

    Parameters
    ----------
    texture : as read without it
    piece, paper : arrays, shape (rows, cols, 3), the wash and bare paper as for ``texture_of``
    pixels_per_mm : of both
    blur_mm, lost_mm : the picture's own blur, and the smoothing (``smoothed_mm``)

    Returns
    -------
    The texture, and what was added as a share of the grain. Its granulation is None where blur and smoothing
    together are softer than the finest grain that counts.
    """
    before, within = texture.granulation, texture.granulation_within
    if not before or within is None or lost_mm == 0.0:
        return texture, 0.0
    blur = float(np.hypot(blur_mm, lost_mm))
    own = grain_band(piece, pixels_per_mm, blur)
    if own is None:
        return replace(texture, granulation=None, granulation_within=None), 0.0
    under = None if paper is None else grain_band(paper, pixels_per_mm, blur)
    grain = without_paper(rms(own), 0.0 if under is None else rms(under))
    within = float(np.hypot(within, 1.96 * 0.5 * (grain - before)))
    return replace(texture, granulation=grain, granulation_within=within), grain / before - 1.0


def figure_or_limit(texture: Texture, put_right: float, apart: float, on_paper: float) -> Texture:
    """Return a texture whose grain is an upper limit only, where it is faint and much of it was put right.

    Parameters
    ----------
    texture : Texture
    put_right : as a share of the grain: what smoothing may have taken, and a bend of the tone
    apart, on_paper : as for ``smoothed_mm``; grain that stands out by more than a step is not faint
    """
    faint = without_paper(apart, on_paper) < FAINT_STEPS
    if texture.granulation is None or not faint or put_right <= MOST_PUT_RIGHT:
        return texture
    limit = texture.granulation + (texture.granulation_within or 0.0)
    return replace(texture, granulation=None, granulation_within=None, granulation_up_to=limit)
