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

from collections.abc import Callable, Collection
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.screen import linear_srgb_to_xyz, xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz, xyz_to_lab
from halfpan.core.measuring.fit import fit, slope_of
from halfpan.core.measuring.misfit import bentness, misfit_of, shown
from halfpan.core.measuring.patches import Patches
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
ON_SHEET_GAIN_SD = 0.004
CLIPPED_PATCH = 0.3
MUST_GAIN = 0.95
KNOWN_PAINT_NOISE, KNOWN_PAINT_WEIGHT = 0.6, 8.0
NOISE_RANGE = (0.3, 4.0)
"""Standard deviation that a fit allows its patches along one axis; few known paints are held near a guess."""

MODELS: dict[str, tuple[slice, ...]] = {
    "3x3": (MIX,),
    "root": (MIX, ROOT),
    "3x3 + tone": (MIX, TONE),
    "root + tone": (MIX, ROOT, TONE),
}
"""Models in the order they are tried; a later one has to foretell left-out patches clearly better."""

RICHEST = MODELS["root + tone"]
BENT = np.r_[TONE, ROOT]
"""Numbers that are nought in a device that sees as the eye does."""


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
    model : which of ``MODELS`` was taken; "prior" without patches
    check : mean CIEDE2000 of the patches, each foretold by the others; None without patches
    misfit : standard deviation, in CIEDE2000 along one axis, of what the model cannot follow beside a patch;
        ``misfit.growth`` says how it grows with the distance
    anchors : array, shape (n, 3), Lab of the patches used
    patch_light : array, shape (11,): ln gain, slopes and bends (per 50 mm) of the light on patches off the
        sheet, and the veil over them
    patch_middle : array, shape (2,), mm, the point that the slopes are taken about
    beside : the veil over a target beside the sheet, where there was one
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


def fit_response(
    patches: Patches,
    relative: Array,
    prior: Prior,
    *,
    tier: Tier,
    points: Array | None = None,
    light_doubt: float = 0.0,
    tint_doubt: float = 0.0,
    models: Collection[str] = tuple(MODELS),
) -> Response:
    """Fit the response to patches of known colour, by the model that best foretells a patch left out.

    Parameters
    ----------
    patches : Patches, at least three unclipped
    relative : array, shape (n, 3), light of the patches relative to paper at their place
    prior : Prior
    tier : "target" (off the sheet: its light may differ by a gain and a slope) or "known paints"
    points : array, shape (n, 2), mm, of the patches; only differences matter
    light_doubt : how far two guesses at the light there differ, as a logarithm
    tint_doubt : how far the colour of the light may differ there from that on the sheet, as a logarithm
    models : names of the models to try; all of ``MODELS`` where it is not said
    """
    used = patches.clipped <= CLIPPED_PATCH
    lab, relative = patches.lab[used], relative[used]
    where = np.zeros((len(lab), 2)) if points is None else points[used] - points[used].mean(0)
    spread = np.sqrt(np.diag(prior.covariance))
    off_sheet = tier == "target"
    scale = np.ones(SIZE)
    scale[GAIN] = 1.0 if off_sheet else ON_SHEET_GAIN_SD / spread[GAIN]
    scale[SLOPE] = (0.02 + 0.25 * light_doubt) / spread[SLOPE] if off_sheet else 1e-4
    scale[VEIL] = 1.0 if off_sheet else 1e-4
    covariance = prior.covariance * np.outer(scale, scale)
    if off_sheet:
        covariance[GAIN, GAIN] = covariance[GAIN, GAIN].max() + max(tint_doubt, 1e-3) ** 2 * np.eye(3)

    def foretell(theta: Array) -> Array:
        return _to_lab(theta, _as_on_sheet(theta[GAIN.start : VEIL.stop], relative, where))

    best: tuple[float, str, NDArray[np.bool_]] | None = None
    for model, groups in MODELS.items():
        if model not in models:
            continue
        active = _active(groups, covariance)
        doubt = float(np.hypot(1.0, patches.doubt))
        _, _, miss = fit(foretell, lab, prior.mean, covariance, active=active, doubt=doubt)
        score = float(np.sqrt(np.mean((miss.left_out**2).sum(1))))
        if best is None or score < MUST_GAIN * best[0]:
            best = (score, model, active)
    assert best is not None
    score, model, active = best
    noise = _noise(score, 0 if off_sheet else len(lab))
    mean, posterior, miss = fit(foretell, lab, prior.mean, covariance, active=active, doubt=noise)
    bent = _bentness(foretell, lab, prior.mean, covariance, noise)
    misfit = misfit_of(shown(miss.own, lab), bent, 0 if off_sheet else len(lab))
    check = float(np.mean(np.sqrt((miss.left_out**2).sum(1))))
    middle = np.zeros(2) if points is None else points[used].mean(0)
    return Response(
        mean[ON_SHEET],
        posterior[ON_SHEET, ON_SHEET],
        tier,
        model,
        check,
        misfit,
        lab,
        mean[GAIN.start : VEIL.stop],
        middle,
        _veil_beside(mean, posterior, middle) if off_sheet else None,
    )


def _noise(score: float, paints: int) -> float:
    """Turn a left-out error into the standard deviation that the fit allows its patches, along one axis."""
    noise = float(np.clip(score / np.sqrt(3.0), *NOISE_RANGE))
    if not paints:
        return noise
    guess = KNOWN_PAINT_WEIGHT * KNOWN_PAINT_NOISE**2
    return float(np.sqrt((guess + paints * noise**2) / (KNOWN_PAINT_WEIGHT + paints)))


def _bentness(
    foretell: Callable[[Array], Array], lab: Array, prior_mean: Array, covariance: Array, noise: float
) -> float:
    """How bent the device is by the richest model, against what is usual before any device is known."""
    mean, posterior, _ = fit(
        foretell, lab, prior_mean, covariance, active=_active(RICHEST, covariance), doubt=noise
    )
    return bentness(mean[BENT], np.diag(posterior)[BENT], PRIOR_SD[BENT])


def _veil_beside(mean: Array, covariance: Array, middle: Array) -> Beside:
    """Veil over a target at its middle, 25 mm to the right and 25 mm down, as a share of paper light."""
    reach = np.array([(0.0, 0.0), (25.0, 0.0), (0.0, 25.0)])
    steps = np.column_stack([np.ones(3), reach / 50.0])
    share = float(np.exp(mean[GAIN].mean()))
    doubt = np.sqrt(np.einsum("ij,jk,ik->i", steps, covariance[VEIL, VEIL], steps))
    return Beside(middle + reach, share * steps @ mean[VEIL], share * doubt)


def correct(response: Response, relative: Array) -> Array:
    """Lab of light relative to paper, shapes (..., 3)."""
    return _to_lab(response.mean, relative)


def as_on_sheet(response: Response, relative: Array, points: Array) -> Array:
    """Light of patches as the sheet's own lamp would show it; shapes (n, 3), points (n, 2) in mm."""
    if response.patch_light is None or response.patch_middle is None:
        return relative
    return _as_on_sheet(response.patch_light, relative, points - response.patch_middle)


def _as_on_sheet(patch_light: Array, relative: Array, where: Array) -> Array:
    """Light of patches as the sheet's own light would show it; ``where`` (n, 2) mm from their middle."""
    gain, slope, veil = patch_light[:3], patch_light[3:8], patch_light[8:]
    x, y = where.T / 50.0
    over = np.stack([np.ones_like(x), x, y], axis=-1) @ veil
    level = np.stack([x, y, x * x, x * y, y * y], axis=-1) @ slope
    return np.asarray((relative - over[:, None]) * np.exp(gain + level[:, None]))


def slopes(response: Response, relative: Array) -> Array:
    """How Lab moves with the numbers of the response, shape (..., 3, 21)."""
    return slope_of(lambda t: _to_lab(t, relative), response.mean)


def light_slopes(response: Response, relative: Array) -> Array:
    """How Lab moves with the light, shape (..., 3, 3)."""
    steps = [np.where(np.arange(3) == c, 1e-5, 0.0) for c in range(3)]
    return np.stack(
        [(_to_lab(response.mean, relative + s) - _to_lab(response.mean, relative - s)) / 2e-5 for s in steps],
        axis=-1,
    )


def true_light(response: Response, relative: Array) -> Array:
    """Light relative to paper in linear sRGB, of light as the device has it; shapes (..., 3)."""
    return _unmixed(response.mean, relative)


def _to_lab(theta: Array, relative: Array) -> Array:
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


def _active(groups: tuple[slice, ...], covariance: Array) -> NDArray[np.bool_]:
    chosen = np.zeros(SIZE, dtype=bool)
    for group in (*groups, PAPER, GAIN, SLOPE, VEIL):
        chosen[group] = True
    return chosen & (np.diag(covariance) > 0)
