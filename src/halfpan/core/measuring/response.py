"""What a device makes of colour: one regression for a photo with a target, known paints, or paper alone.

Light relative to bare paper (paper = 1) becomes XYZ through a small model whose every number has a prior;
patches of known colour narrow it, and without any the prior alone says what is known and how little.

    v <- (v - h - x hx - y hy) exp(g + second degree in x, y)     a target beside the sheet only
    v <- exp(gamma l + c l^2), l = ln((v - o) / (1 - o))
    u  = N v + K (root(rg) - (r+g)/2, root(gb) - (g+b)/2, root(rb) - (r+b)/2),   rows of N sum to 1
    XYZ = M^-1 (u * M XYZ of the paper),   M from XYZ (D50) to linear sRGB

References
----------
.. [1] G. D. Finlayson, M. Mackiewicz, A. Hurlbert, "Color correction using root-polynomial regression",
   IEEE Transactions on Image Processing 24, 1460 (2015): the root terms, which follow exposure.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from halfpan.core.colour.screen import linear_srgb_to_xyz, xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz, xyz_to_lab
from halfpan.core.measuring.fit import slope_of
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.veil import Beside
from halfpan.core.paint.reading import Lab, Tier

MIX, TONE, ROOT, PAPER, GAIN, SLOPE, VEIL = (
    slice(0, 6),
    slice(6, 9),
    slice(9, 18),
    slice(18, 21),
    slice(21, 24),
    slice(24, 29),
    slice(29, 32),
)
"""Where each group of numbers stands: N off its diagonal; ln gamma, c, o; K; the paper's Lab; and of a target
beside the sheet the gain, the slope and bend of its light, and the veil over it."""

DEVICE = slice(0, 18)
ON_SHEET = slice(0, 21)
SIZE = 32

USUAL_PAPER: Lab = (95.5, 0.0, 1.0)
"""Bright watercolour paper where its white was never measured: common practice, no source."""

PRIOR_SD = np.concatenate(
    [
        np.full(6, 0.044),
        [0.044, 0.011, 0.0066],
        np.full(9, 0.033),
        [1.0, 0.8, 1.5],
        np.full(3, 0.5),
        [0.02, 0.02, 0.02, 0.02, 0.02],
        [0.02, 0.01, 0.01],
    ]
)
MEASURED_PAPER_SD = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Prior:
    """What is known of a device and a paper before any patch is looked at.

    ``mean`` (32,) and ``covariance`` (32, 32); ``misfit`` and ``anchors`` come from an earlier fit that is
    remembered (``remembered``), and are nought and empty for a device never seen with a target.
    """

    mean: Array
    covariance: Array
    misfit: float = 0.0
    anchors: Array | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Response:
    """What a device makes of colour in one photo.

    Attributes
    ----------
    mean, covariance : arrays, shapes (21,) and (21, 21), of the numbers that act on the sheet
    tier : which evidence it rests on
    model : which of `response_fit.MODELS` was taken; "prior" without patches
    check : mean CIEDE2000 of the patches, each foretold by the others; None without patches
    misfit : standard deviation, in CIEDE2000 along one axis, of what the model cannot follow beside a patch;
        ``misfit.growth`` says how it grows with the distance
    anchors : array, shape (n, 3), Lab of the patches used
    patch_light : array, shape (11,): ln gain, slopes and bends (per 50 mm) of the light on patches off the
        sheet, and the veil over them
    patch_middle : array, shape (2,), mm, the point that the slopes are taken about
    beside : the veil over a target beside the sheet, where there was one
    left : array, shape (n,), what the fit leaves of the ln Y of the anchors (known less read); None without
    """

    mean: Array
    covariance: Array
    tier: Tier
    model: str = "prior"
    check: float | None = None
    misfit: float = 0.0
    anchors: Array | None = None
    patch_light: Array | None = None
    patch_middle: Array | None = None
    beside: Beside | None = None
    left: Array | None = None


def usual_prior(paper: Lab | None = None, *, device: Response | None = None) -> Prior:
    """Return what is known before any patch is seen.

    Parameters
    ----------
    paper : the paper's own white where it was measured
    device : an earlier response of the same device, fitted to a target; its numbers are taken over, and
        doubled in doubt, since light and settings may have changed since
    """
    mean = np.zeros(SIZE)
    mean[PAPER] = USUAL_PAPER if paper is None else paper
    spread = PRIOR_SD.copy()
    if paper is not None:
        spread[PAPER] = MEASURED_PAPER_SD
    covariance = np.diag(spread**2)
    if device is None:
        return Prior(mean, covariance)
    mean[DEVICE] = device.mean[DEVICE]
    covariance[DEVICE, DEVICE] = 4.0 * device.covariance[DEVICE, DEVICE] + np.diag(
        (0.1 * PRIOR_SD[DEVICE]) ** 2
    )
    return Prior(mean, covariance, device.misfit, device.anchors)


def without_patches(prior: Prior, tier: Tier) -> Response:
    """Return the response that the prior alone gives."""
    return Response(
        prior.mean[ON_SHEET],
        prior.covariance[ON_SHEET, ON_SHEET],
        tier,
        misfit=prior.misfit,
        anchors=prior.anchors,
    )


def correct(response: Response, relative: Array) -> Array:
    """Lab of light relative to paper, shapes (..., 3)."""
    return to_lab(response.mean, relative)


def as_on_sheet(response: Response, relative: Array, points: Array) -> Array:
    """Light of patches as the sheet's own lamp would show it; shapes (n, 3), points (n, 2) in mm."""
    if response.patch_light is None or response.patch_middle is None:
        return relative
    return under_sheet_light(response.patch_light, relative, points - response.patch_middle)


def under_sheet_light(patch_light: Array, relative: Array, where: Array) -> Array:
    """Light of patches as the sheet's own light would show it.

    ``patch_light`` as in `Response`; ``relative``, shape (n, 3); ``where``, shape (n, 2), mm from the middle.
    """
    gain, slope, veil = patch_light[:3], patch_light[3:8], patch_light[8:]
    x, y = where.T / 50.0
    over = np.stack([np.ones_like(x), x, y], axis=-1) @ veil
    level = np.stack([x, y, x * x, x * y, y * y], axis=-1) @ slope
    return np.asarray((relative - over[:, None]) * np.exp(gain + level[:, None]))


def slopes(response: Response, relative: Array) -> Array:
    """How Lab moves with the numbers of the response, shape (..., 3, 21)."""
    return slope_of(lambda t: to_lab(t, relative), response.mean)


def light_slopes(response: Response, relative: Array) -> Array:
    """How Lab moves with the light, shape (..., 3, 3)."""
    steps = [np.where(np.arange(3) == c, 1e-5, 0.0) for c in range(3)]
    return np.stack(
        [(to_lab(response.mean, relative + s) - to_lab(response.mean, relative - s)) / 2e-5 for s in steps],
        axis=-1,
    )


def true_light(response: Response, relative: Array) -> Array:
    """Light relative to paper in linear sRGB, of light as the device has it; shapes (..., 3)."""
    return _unmixed(response.mean, relative)


def to_lab(theta: Array, relative: Array) -> Array:
    """Lab of light relative to paper, shapes (..., 3), by the numbers of a response on the sheet."""
    white = xyz_to_linear_srgb(lab_to_xyz(theta[PAPER]))
    return np.asarray(xyz_to_lab(linear_srgb_to_xyz(_unmixed(theta, relative) * white)))


def _unmixed(theta: Array, relative: Array) -> Array:
    gamma, bend, black = theta[TONE]
    level = np.log(np.maximum((relative - black) / (1 - black), 1e-4))
    v = np.exp(np.exp(gamma) * level + bend * level**2)
    r, g, b = v[..., 0], v[..., 1], v[..., 2]
    roots = np.stack(
        [np.sqrt(r * g) - (r + g) / 2, np.sqrt(g * b) - (g + b) / 2, np.sqrt(r * b) - (r + b) / 2], axis=-1
    )
    return np.asarray(v @ _mixing(theta[MIX]).T + roots @ theta[ROOT].reshape(3, 3).T)


def _mixing(off: Array) -> Array:
    matrix = np.zeros((3, 3))
    matrix[~np.eye(3, dtype=bool)] = off
    return matrix + np.diag(1 - matrix.sum(1))
