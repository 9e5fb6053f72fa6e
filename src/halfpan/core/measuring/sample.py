"""Say what light a zone gives back, leaving out gaps and sparkle.

All light is relative to bare paper at the same place (paper = 1), linear, red green blue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Zone
from halfpan.core.measuring.looks import Looks
from halfpan.core.measuring.photo import Array

BARE_NEARER = 0.4
HOT_MAD = 4.0
FEWEST_KEPT = 0.3
TRIM = 0.10
BINS = 12
SD_OF_MEAN_MISS = 1.25
"""A Gaussian's standard deviation over its mean absolute miss."""

LUMINANCE = np.array([0.2126, 0.7152, 0.0722])


@dataclass(frozen=True, slots=True, eq=False)
class Sample:
    """What one zone gives back.

    Attributes
    ----------
    relative : array, shape (3,)
    spread : array, shape (3,), standard deviation of the kept pixels
    grain : MAD / median of the kept pixels' luminance
    count : pixels kept
    independent : how many of them may be called independent (one for each 0.25 mm square)
    bare, hot, burnt : shares of all pixels that were gaps, sparkle, burnt out to white
    high, low : arrays, shape (3,), share of pixels at either end of what the picture can hold, by channel
    middle : (x, y) in mm
    """

    relative: Array
    spread: Array
    grain: float
    count: int
    independent: float
    bare: float
    hot: float
    burnt: float
    high: Array
    low: Array
    middle: tuple[float, float]


def flags_of(sample: Sample, outside: float) -> tuple[str, ...]:
    """Raise the flags that the bench shows to pay (docs/science/reading.md has how often each is right)."""
    named = {
        "beyond what the picture can hold": max(sample.high.max(), sample.low.max()) > 0.3,
        "outside the screen's range": outside > 1.0,
    }
    return tuple(name for name, holds in named.items() if holds)


def samples_of(zones: Sequence[Zone], looks: Sequence[Looks]) -> list[list[Sample]]:
    """Say what each zone gives back: one sample of a flat zone, some along a graded one.

    Bare paper is taken as the median of all its pixels; in other zones gaps and sparkle are left out, gaps
    only where there is paper under the paint.
    """
    graded = [k for k, zone in enumerate(zones) if zone.towards is not None]
    bare = [k for k, zone in enumerate(zones) if zone.towards is None and zone.zone == "bare"]
    flat = [k for k, zone in enumerate(zones) if zone.towards is None and zone.zone != "bare"]
    found: list[list[Sample]] = [[] for _ in zones]
    for chosen, bins in ((graded, BINS), (bare, 1)):
        for k, followed in zip(chosen, follow([looks[k] for k in chosen], bins), strict=True):
            found[k] = followed
    on_paper = [zones[k].ground == "paper" for k in flat]
    for k, sample in zip(flat, take([looks[k] for k in flat], gaps=on_paper), strict=True):
        found[k] = [sample]
    return found


def take(looks: Sequence[Looks], *, gaps: Sequence[bool] | None = None) -> list[Sample]:
    """Say what some flat zones give back.

    Pixels nearer to bare paper than to the wash (gaps) and far brighter ones (sparkle) are left out; of
    the rest the mean of the middle 80 % by luminance is taken, band by band the same pixels.

    Parameters
    ----------
    looks : the zones
    gaps : whether bare paper may show through each (False on black ground and on bare paper itself); in all
        of them where it is not said
    """
    may = np.ones(len(looks), dtype=bool) if gaps is None else np.asarray(gaps, dtype=bool)
    samples: dict[int, Sample] = {}
    for same in _alike(looks):
        samples.update(zip(same, _take_alike([looks[k] for k in same], may[same]), strict=True))
    return [samples[k] for k in range(len(looks))]


def _alike(looks: Sequence[Looks]) -> list[list[int]]:
    """Gather zones of as many pixels, so that they can be worked out in one go."""
    groups: dict[int, list[int]] = {}
    for k, one in enumerate(looks):
        groups.setdefault(len(one.relative), []).append(k)
    return list(groups.values())


def _take_alike(looks: list[Looks], gaps: NDArray[np.bool_]) -> list[Sample]:
    """Take zones of n pixels each, all at once: arrays (z, 3, n), channel by channel, and (z, n)."""
    relative, high, low = (
        np.stack([getattr(one, name).T for one in looks]) for name in ("relative", "high", "low")
    )
    usable: NDArray[np.bool_] = np.asarray(~np.isnan(relative[:, 0]), dtype=bool)
    total = usable.sum(1)
    seen = np.where(usable[:, None], relative, 0.0)
    luminance = (LUMINANCE @ seen).astype(np.float32)
    bare = np.zeros_like(usable)
    bare[gaps] = usable[gaps] & _bare(seen[gaps], usable[gaps])
    hot = _hot(luminance, usable, bare)
    kept = usable & ~bare & ~hot
    kept |= usable & (kept.sum(1) < FEWEST_KEPT * total)[:, None]
    ranked = _Ranked(luminance, kept)
    middle = ranked.at(0.5)
    mad = _Ranked(np.abs(luminance - middle[:, None].astype(np.float32)), kept).at(0.5)
    chosen = kept & (luminance >= ranked.at(TRIM)[:, None]) & (luminance <= ranked.at(1 - TRIM)[:, None])
    mean, count = _mean(seen, chosen), chosen.sum(1)
    spread = np.sqrt(_mean((seen - _mean(seen, kept)[..., None]) ** 2, kept))
    grain = mad / np.maximum(middle, 1e-4)
    shares = [_share(which, total) for which in (kept, bare, hot)]
    burnt, above, below = high.all(1).mean(-1), high.mean(-1), low.mean(-1)
    return [
        Sample(
            relative=mean[k],
            spread=spread[k],
            grain=float(grain[k]),
            count=int(count[k]),
            independent=max(1.0, float(shares[0][k]) * one.size[0] * one.size[1] * 16.0),
            bare=float(shares[1][k]),
            hot=float(shares[2][k]),
            burnt=float(burnt[k]),
            high=above[k],
            low=below[k],
            middle=one.middle,
        )
        for k, one in enumerate(looks)
    ]


class _Ranked:
    """Values (z, n) put in order row by row, those that are not kept left out; single precision is quick."""

    def __init__(self, values: NDArray[np.float32], kept: NDArray[np.bool_]) -> None:
        self.ordered = np.sort(np.where(kept, values, np.inf), axis=1)
        self.ordered[~kept.any(1)] = 0.0
        self.last = np.maximum(kept.sum(1) - 1, 0)

    def at(self, share: float) -> Array:
        """Give the quantile of each row, linear between two values; 0 where nothing was kept."""
        place = share * self.last
        below = place.astype(np.intp)
        rows = np.arange(len(place))
        first, second = self.ordered[rows, below], self.ordered[rows, np.minimum(below + 1, self.last)]
        part = place - below
        return np.asarray(first + (second - first) * part)


def _mean(values: Array, chosen: NDArray[np.bool_]) -> Array:
    """Mean (z, 3) of the chosen of some values (z, 3, n); NaN where none was chosen."""
    count = chosen.sum(1)[:, None].astype(float)
    total = (values @ chosen[..., None].astype(float))[..., 0]
    return np.divide(total, count, out=np.full(total.shape, np.nan), where=count > 0)


def _share(which: NDArray[np.bool_], total: NDArray[np.int_]) -> Array:
    return np.asarray(which.sum(1) / np.maximum(total, 1))


def _bare(seen: Array, usable: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which pixels are much nearer to paper than the middle of their zone is, in root light."""
    middle = np.stack([_Ranked(seen[:, c].astype(np.float32), usable).at(0.5) for c in range(3)], axis=-1)
    limit = BARE_NEARER**2 * ((np.sqrt(np.maximum(middle, 0)) - 1) ** 2).sum(-1)
    return np.asarray(((np.sqrt(np.maximum(seen, 0)) - 1) ** 2).sum(1) < limit[:, None])


def _hot(
    luminance: NDArray[np.float32], usable: NDArray[np.bool_], bare: NDArray[np.bool_]
) -> NDArray[np.bool_]:
    """Which pixels are far brighter than the wash usually is."""
    wash = usable & ~bare
    wash |= usable & ~wash.any(1, keepdims=True)
    away = luminance - _Ranked(luminance, wash).at(0.5)[:, None].astype(np.float32)
    usual = _Ranked(np.abs(away), wash).at(0.5)[:, None]
    return np.asarray(usable & ~bare & (away > HOT_MAD * usual + 1e-3), dtype=bool)


def follow(looks: Sequence[Looks], bins: int = BINS) -> list[list[Sample]]:
    """Follow graded zones along their direction: the median across, in some bins of as many pixels.

    A zone that is partly out of the picture has no bins.
    """
    followed: list[list[Sample]] = [[] for _ in looks]
    for same in _alike(looks):
        whole = [k for k in same if len(looks[k].relative) >= bins and not np.isnan(looks[k].relative).any()]
        for k, samples in zip(whole, _follow_alike([looks[k] for k in whole], bins), strict=True):
            followed[k] = samples
    return followed


def _follow_alike(looks: list[Looks], bins: int) -> list[list[Sample]]:
    if not looks:
        return []
    each = len(looks[0].relative) // bins
    order = np.argsort(np.stack([one.along for one in looks]), axis=1, kind="stable")[:, : each * bins]
    seen, high, low = (
        np.stack([getattr(one, name).T[:, along] for one, along in zip(looks, order, strict=True)])
        .reshape(len(looks), 3, bins, each)
        .transpose(0, 2, 1, 3)
        for name in ("relative", "high", "low")
    )
    middle = np.median(seen, axis=-1)
    spread = np.abs(seen - middle[..., None]).mean(-1) * SD_OF_MEAN_MISS
    grain = spread @ LUMINANCE / np.maximum(middle @ LUMINANCE, 1e-4)
    burnt, above, below = high.all(2).mean(-1), high.mean(-1), low.mean(-1)
    return [
        [
            Sample(
                relative=middle[k, step],
                spread=spread[k, step],
                grain=float(grain[k, step]),
                count=each,
                independent=max(1.0, one.size[0] * one.size[1] * 16.0 / bins),
                bare=0.0,
                hot=0.0,
                burnt=float(burnt[k, step]),
                high=above[k, step],
                low=below[k, step],
                middle=one.middle,
            )
            for step in range(bins)
        ]
        for k, one in enumerate(looks)
    ]
