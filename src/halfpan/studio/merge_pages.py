"""Several photos of one page: each box counts as the photo saw it that shows it best; all are kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from halfpan.core.chart.light_sheet import KIND as LIGHT
from halfpan.core.measuring.merge import best_views, merge_reads
from halfpan.studio.keep_page import MeasuredPage


def merge_pages(pages: Sequence[MeasuredPage]) -> list[MeasuredPage]:
    """Return the measured pages in their order; where several show one page, with what another shows better.

    A box counts once, as ``core.measuring.merge`` chooses: the photo with the fewest flags, then the smallest
    radius. What the other photos saw in it is kept and set aside. Photos of a light test are looks of their
    own, each of which counts.
    """
    alike: dict[tuple[str, int], list[int]] = {}
    for k, page in enumerate(pages):
        chart = page.measured.chart.chart
        if chart.kind != LIGHT:
            alike.setdefault((chart.chart, page.measured.page), []).append(k)
    merged = list(pages)
    for numbers in alike.values():
        if len(numbers) > 1:
            for k, page in zip(numbers, _merged([pages[k] for k in numbers]), strict=True):
                merged[k] = page
    return merged


def _merged(pages: Sequence[MeasuredPage]) -> list[MeasuredPage]:
    """Mark in pages that show the same what another shows better, and where photos disagree."""
    reads = [page.measured.read for page in pages]
    views = best_views(reads)
    counts = {(one.box, one.zone): one for one in merge_reads(reads).readings}
    result = []
    for k, (page, read) in enumerate(zip(pages, reads, strict=True)):
        better = frozenset(box for box, view in views.items() if view != k)
        readings = tuple(
            one if one.box in better else counts.get((one.box, one.zone), one) for one in read.readings
        )
        measured = replace(page.measured, read=replace(read, readings=readings))
        result.append(replace(page, measured=measured, seen_better=better))
    return result
