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
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, remoteness, slopes
from halfpan.core.measuring.sample import Sample

LIGHT_FLOOR = 0.004
TEXTURE = 0.15
CHROMA = 0.7
BLACK = 0.0010
VEIL_FLOOR, VEIL_SHARE, VEIL_UNSEEN = 0.0012, 0.4, 0.006
"""Veil in doubt: always, as a share of what was taken off, and where any lies on the sheet at all."""

LOST_SHARE, LOST_LIGHT = 0.6, 0.05
REMOTE = 10.0
HIGH_END, LOW_END, END_FROM = 0.06, 0.02, 0.001


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
    veil: Array,
) -> Doubt:
    """Doubt of readings.

    Parameters
    ----------
    response : Response
    lab, relative : arrays, shape (n, 3), as read
    samples : the n samples they come from
    field : LightField, None where there was no bare paper
    veil : array, shape (n,), the veil that was taken off
    """
    by_theta, by_light = slopes(response, relative)
    light = _light_covariance(relative, samples, field, veil)
    covariance = np.einsum("nij,jk,nlk->nil", by_theta, response.covariance, by_theta)
    covariance += np.einsum("nij,njk,nlk->nil", by_light, light, by_light)
    metric = metric_2000(lab)
    seen = np.einsum("nij,njk,nlk->nil", metric, covariance, metric)
    misfit = response.misfit**2 * (1 + (remoteness(response, lab) / REMOTE) ** 2)
    seen = seen + misfit[:, None, None] * np.eye(3)
    back = np.linalg.inv(metric)
    whole = covariance + misfit[:, None, None] * np.einsum("nij,nkj->nik", back, back)
    return Doubt(whole, radius_95(seen))


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


def _light_covariance(relative: Array, samples: list[Sample], field: LightField | None, veil: Array) -> Array:
    """Covariance (n, 3, 3) of the light read in each zone."""
    points = np.array([s.middle for s in samples])
    spread = np.stack([s.spread for s in samples])
    independent = np.array([s.independent for s in samples])
    grain = np.array([s.grain for s in samples])
    ends = np.stack(
        [HIGH_END * np.minimum(1, 3 * s.high) + LOW_END * np.minimum(1, 3 * s.low) for s in samples]
    )
    each = spread**2 / np.minimum(independent, 25.0)[:, None]
    each = each + (TEXTURE * np.log1p(grain)[:, None] * relative) ** 2
    together = np.full(len(samples), LIGHT_FLOOR**2)
    if field is not None:
        lost = read_raster(field, field.lost, points) >= LOST_SHARE
        residual = 0.5 * read_raster(field, field.scatter, points) ** 2
        together = together + read_raster(field, field.doubt, points) ** 2
        together = together + np.where(lost, LOST_LIGHT**2, residual)
        each = each + (CHROMA * field.chroma_scatter * relative) ** 2
    black = (VEIL_SHARE * veil) ** 2 + VEIL_FLOOR**2 + (VEIL_UNSEEN**2 if veil.max() > 0 else 0.0)
    each = each + BLACK**2 + np.where(ends > END_FROM, ends, 0.0) ** 2
    return (
        np.einsum("n,ni,nj->nij", together, relative, relative)
        + np.einsum("ni,ij->nij", each, np.eye(3))
        + black[:, None, None] * np.ones((3, 3))
    )
