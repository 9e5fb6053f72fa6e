"""How far a reading can be trusted: the radius, in CIEDE2000, that holds the truth 95 times in 100.

Every source of doubt is a covariance of light or of Lab; they are summed, seen through the local CIEDE2000
metric, and turned to one radius by matching the first two moments of the distance.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import chdtri

from halfpan.core.colour.difference import metric_2000
from halfpan.core.measuring.light import LightField, read_raster
from halfpan.core.measuring.misfit import distance, growth
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, light_slopes, slopes
from halfpan.core.measuring.sample import Sample
from halfpan.core.measuring.veil import Veil

LIGHT_FLOOR = 0.004
MOST_PARTS = 25.0
"""Parts of a wash that lie differently; they move red, green and blue together, by more or less paint."""

TEXTURE = 0.15
CHROMA = 0.7
BLACK, VEIL_FLOOR = 0.0008, 0.0010
"""Darkness in doubt, channel by channel and in all of them together, however good the picture."""

LOST_SHARE, LOST_LIGHT = 0.6, 0.05
HIGH_END, LOW_END, END_FROM = 0.06, 0.02, 0.001
GAPS = 0.5
"""Gaps are left out of a reading; a standard deviation of half of what they would change stays in doubt."""


@dataclass(frozen=True, slots=True, eq=False)
class Doubt:
    """Doubt of some readings: ``covariance`` of Lab (n, 3, 3) and the 95 % ``radius`` (n,)."""

    covariance: Array
    radius: Array


def doubt_of(
    response: Response,
    lab: Array,
    relative: Array,
    *,
    samples: list[Sample],
    field: LightField | None,
    veil: Veil,
) -> Doubt:
    """Doubt of readings.

    Parameters
    ----------
    response : Response
    lab, relative : arrays, shape (n, 3), as read
    samples : the n samples they come from
    field : LightField, None where there was no bare paper
    veil : Veil, what was taken off each
    """
    return doubt_of_light(response, lab, relative, _light_covariance(relative, samples, field, veil))


def doubt_of_light(response: Response, lab: Array, relative: Array, light: Array) -> Doubt:
    """Doubt of readings whose light is in doubt by a covariance, shape (n, 3, 3)."""
    by_theta, by_light = slopes(response, relative), light_slopes(response, relative)
    covariance = np.einsum("nij,jk,nlk->nil", by_theta, response.covariance, by_theta)
    covariance += np.einsum("nij,njk,nlk->nil", by_light, light, by_light)
    metric = metric_2000(lab)
    seen = np.einsum("nij,njk,nlk->nil", metric, covariance, metric)
    misfit = misfit_variance(response, lab)
    seen = seen + misfit[:, None, None] * np.eye(3)
    back = np.linalg.inv(metric)
    whole = covariance + misfit[:, None, None] * np.einsum("nij,nkj->nik", back, back)
    return Doubt(whole, radius_95(seen))


def misfit_variance(response: Response, lab: Array) -> Array:
    """Variance along one axis, in CIEDE2000, of what the response cannot follow; shape (n, 3) to (n,)."""
    if response.anchors is None or not len(response.anchors):
        return np.full(lab.shape[:-1], response.misfit**2)
    return response.misfit**2 * growth(distance(lab, response.anchors))


def luminance_doubt(lab: Array, doubt: Doubt) -> Array:
    """Give the standard deviation of Y, 0-1, of readings, from that of L*; shape (n,)."""
    lightness = lab[:, 0]
    slope = np.where(lightness > 8, 3 / 116 * ((lightness + 16) / 116) ** 2, 27 / 24389)
    return np.asarray(slope * np.sqrt(doubt.covariance[:, 0, 0]))


def radius_95(covariance: Array) -> Array:
    """Radius that holds 95 % of a Gaussian cloud, shape (..., 3, 3) to (...), by matching two moments.

    References
    ----------
    .. [1] F. E. Satterthwaite, Biometrics Bulletin 2, 110 (1946): the effective degrees of freedom.
    """
    eigen = np.clip(np.linalg.eigvalsh(covariance), 1e-12, None)
    total = eigen.sum(-1)
    freedom = total**2 / (eigen**2).sum(-1)
    return np.asarray(np.sqrt(total * chdtri(freedom, 0.05) / freedom))


def _light_covariance(relative: Array, samples: list[Sample], field: LightField | None, veil: Veil) -> Array:
    """Covariance (n, 3, 3) of the light read in each zone."""
    points = np.array([s.middle for s in samples])
    spread = np.stack([s.spread for s in samples])
    independent = np.array([s.independent for s in samples])
    grain = np.array([s.grain for s in samples])
    ends = np.stack(
        [HIGH_END * np.minimum(1, 3 * s.high) + LOW_END * np.minimum(1, 3 * s.low) for s in samples]
    )
    uneven = spread / np.sqrt(np.minimum(independent, MOST_PARTS))[:, None]
    textured = TEXTURE * np.log1p(grain)[:, None] * relative
    level = np.full(len(samples), LIGHT_FLOOR**2)
    apart = BLACK**2 + np.where(ends > END_FROM, ends, 0.0) ** 2
    if field is not None:
        lost = read_raster(field, field.lost, points) >= LOST_SHARE
        residual = 0.5 * read_raster(field, field.scatter, points) ** 2
        level = level + read_raster(field, field.doubt, points) ** 2
        level = level + np.where(lost, LOST_LIGHT**2, residual)
        apart = apart + (CHROMA * field.chroma_scatter * relative) ** 2
    dark = np.sqrt(VEIL_FLOOR**2 + veil.doubt**2)[:, None] * np.ones(3)
    gaps = GAPS * np.array([s.bare for s in samples])[:, None] * (1.0 - relative)
    together = (uneven, textured, gaps, np.sqrt(level)[:, None] * relative, dark)
    whole = np.einsum("ni,ij->nij", apart, np.eye(3))
    for move in together:
        whole += np.einsum("ni,nj->nij", move, move)
    return np.asarray(whole)
