"""How black black is: light that lies evenly over a whole sheet, or that a camera took away from its darks.

An even veil cannot be seen by the black line alone, and a camera's crushed or lifted darks look the same.
Two things do tell it. Print is usually black, within limits. And no film leaves less of the light of a dark
ground than of a bright one: what it throws back itself counts for more over the dark one. So where washes
over the line seem to keep a smaller share of the bare line's light than of the paper's, the darks were read
too dark.

References
----------
.. [1] P. Kubelka, J. Opt. Soc. Am. 38, 448 (1948): R = R_0 + T^2 R_g / (1 - R_0 R_g), from which
   R / R_g falls as R_g grows.
"""

from __future__ import annotations

import numpy as np
from scipy.special import log_ndtr

from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.photo import Array
from halfpan.core.measuring.response import Response, correct
from halfpan.core.measuring.sample import LUMINANCE
from halfpan.core.measuring.veil import INK_SD, NOISE, USUAL_INK

TRIED = np.linspace(-0.06, 0.06, 61)
"""Even veils that are held against the evidence, as shares of the light of bare paper."""

WETTED = 0.005
"""How much darker print may become under dried paint, in Y: a judgement. With it twelve published films are
moved by less than 0.005 where their darks were read rightly (tests)."""


def even_veil(
    response: Response, bare_line: Array, over_paper: Array, over_line: Array, *, doubt: Array, noise: Array
) -> float:
    """Tell the light that lies evenly over a sheet, as a share of the light of bare paper.

    Parameters
    ----------
    response : Response
    bare_line : array, shape (k, 3), light of bare places of the black line relative to paper
    over_paper, over_line : arrays, shape (n, 3), light of some washes over paper and over the line
    doubt : array, shape (k,), standard deviation of Y of the bare line as it was read; it is all of one mind
    noise : array, shape (n,), standard deviation of each wash's luminance over the line

    Returns
    -------
    float
        Mean of what is likely after all the evidence; below nought where the darks were read too dark, 0
        where there is no bare line.
    """
    if not len(bare_line):
        return 0.0
    paper = float(lab_to_xyz(response.mean[18:21])[1])
    ink = np.median(_luminance(response, bare_line, paper), axis=1)
    read = float(np.interp(0.0, TRIED, ink))
    likely = (
        -0.5 * ((ink - read) / np.median(doubt)) ** 2
        - 0.5 * ((ink - USUAL_INK * paper) / (INK_SD * paper)) ** 2
    )
    if len(over_line):
        share = _luminance(response, over_paper, paper) / paper
        more = _luminance(response, over_line, paper) - share * np.maximum(ink, 0.0)[:, None]
        likely += log_ndtr((more + WETTED) / np.hypot(noise, NOISE)).sum(1)
    weight = np.exp(likely - likely.max())
    return float(weight @ TRIED / weight.sum())


def _luminance(response: Response, relative: Array, paper: float) -> Array:
    """Y of some light (n, 3) under each even veil that is tried, shape (veils, n); also below nought."""
    light = (relative - TRIED[:, None, None]) / (1.0 - TRIED[:, None, None])
    below = np.minimum(light @ LUMINANCE, 0.0) * paper
    return np.asarray(lab_to_xyz(correct(response, np.maximum(light, 1e-5)))[..., 1] + below)
