"""Fitting a device's response to patches of known colour, by the model that best foretells one left out."""

from __future__ import annotations

from collections.abc import Callable, Collection

import numpy as np
from numpy.typing import NDArray

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.fit import fit
from halfpan.core.measuring.misfit import bentness, misfit_of, shown
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import (
    GAIN,
    MIX,
    ON_SHEET,
    PAPER,
    PRIOR_SD,
    ROOT,
    SIZE,
    SLOPE,
    TONE,
    VEIL,
    Prior,
    Response,
    to_lab,
    under_sheet_light,
)
from halfpan.core.measuring.veil import Beside
from halfpan.core.paint.reading import Tier

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
    middle = np.zeros(2) if points is None else points[used].mean(0)
    where = np.zeros((len(lab), 2)) if points is None else points[used] - middle
    off_sheet = tier == "target"
    covariance = _with_patch_light(prior, light_doubt, tint_doubt) if off_sheet else _on_sheet(prior)

    def foretell(theta: Array) -> Array:
        return to_lab(theta, under_sheet_light(theta[GAIN.start : VEIL.stop], relative, where))

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
    return Response(
        mean[ON_SHEET],
        posterior[ON_SHEET, ON_SHEET],
        tier,
        model,
        check=float(np.mean(np.sqrt((miss.left_out**2).sum(1)))),
        misfit=misfit_of(shown(miss.own, lab), bent, 0 if off_sheet else len(lab)),
        anchors=lab,
        patch_light=mean[GAIN.start : VEIL.stop],
        patch_middle=middle,
        beside=_veil_beside(mean, posterior, middle) if off_sheet else None,
        left=np.log(_luminance(lab) / _luminance(foretell(mean))),
    )


def _luminance(lab: Array) -> Array:
    return np.maximum(lab_to_xyz(lab)[:, 1], 1e-4)


def _with_patch_light(prior: Prior, light_doubt: float, tint_doubt: float) -> Array:
    """Return the prior's covariance where patches lie beside the sheet, in a light of their own."""
    scale = np.ones(SIZE)
    scale[SLOPE] = (0.02 + 0.25 * light_doubt) / np.sqrt(np.diag(prior.covariance))[SLOPE]
    covariance = prior.covariance * np.outer(scale, scale)
    covariance[GAIN, GAIN] = covariance[GAIN, GAIN].max() + max(tint_doubt, 1e-3) ** 2 * np.eye(3)
    return covariance


def _on_sheet(prior: Prior) -> Array:
    """Return the prior's covariance where patches are boxes of the sheet, in its light."""
    scale = np.ones(SIZE)
    scale[GAIN] = ON_SHEET_GAIN_SD / np.sqrt(np.diag(prior.covariance))[GAIN]
    scale[SLOPE] = scale[VEIL] = 1e-4
    return np.asarray(prior.covariance * np.outer(scale, scale))


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


def _active(groups: tuple[slice, ...], covariance: Array) -> NDArray[np.bool_]:
    chosen = np.zeros(SIZE, dtype=bool)
    for group in (*groups, PAPER, GAIN, SLOPE, VEIL):
        chosen[group] = True
    return chosen & (np.diag(covariance) > 0)
