"""Read photographed or scanned pages of a chart and keep what they say.

All pages are measured before anything is kept: a photo that cannot be read is refused and leaves the
studio as it was. Originals are kept by their SHA-256; the same photo twice adds nothing twice.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection

from halfpan import __version__
from halfpan.collection import changes, light_tests, page_reads, paints, readings, swatches
from halfpan.collection.page_reads import PageRead
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.paint.reading import Light, Unread
from halfpan.errors import BadRequest, UnknownChart
from halfpan.files.originals import keep_original, sha256_of
from halfpan.files.photo import open_pictures
from halfpan.files.photo.picture import read_bytes
from halfpan.studio.keep_page import LoadedPhoto, MeasuredPage, keep_page
from halfpan.studio.measuring import ReadWish, measure_picture
from halfpan.studio.merge_pages import merge_pages
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class ChartRead:
    """What was read of one chart; ``again`` when every photo had been read before and nothing was added."""

    chart: str
    photos: tuple[str, ...]
    light: Light
    readings: tuple[KeptReading, ...]
    unread: tuple[Unread, ...]
    swatches: tuple[KeptSwatch, ...]
    names: Mapping[str, str]
    again: bool = False


def read_chart(
    studio: Studio,
    paths: Sequence[Path],
    wish: ReadWish | None = None,
    *,
    now: datetime,
    who: str = "",
    tell: Callable[[str], None] = lambda _: None,
) -> ChartRead:
    """Measure photos of a chart and keep their readings.

    Parameters
    ----------
    studio : Studio
    paths : sequence of Path
        One photo or several: pages of one chart, or the same page again.
    wish : ReadWish, optional
    now : datetime
    who : str, optional
    tell : function of a sentence, optional
        Told what is going on.

    Raises
    ------
    UnreadablePhoto, UnknownChart, UnreadableTable, BadRequest
        In one sentence; nothing is kept then.
    """
    wish = wish or ReadWish()
    loaded = list({photo.sha256: photo for photo in map(_loaded, paths)}.values())
    with studio.look() as db:
        old = [] if wish.again else [read for photo in loaded for read in _read_before(db, photo.sha256)]
        known = {read.photo for read in old}
        new = [photo for photo in loaded if photo.sha256 not in known]
        pages = merge_pages([page for photo in new for page in _pages(db, photo, wish, tell)])
    chart = _only_chart([page.measured.chart.chart.chart for page in pages] + [read.chart for read in old])
    if wish.light_only:
        _check_hangs(studio, chart)
    if pages:
        tell("keeping the readings")
    numbers = list(dict.fromkeys(read.id for read in old))
    for photo in new:
        keep_original(studio.photos, photo.content)
    with studio.transaction() as db, changes.noted(db, f"read chart {chart}", now=now, who=who):
        numbers += [keep_page(db, page, wish, now=now) for page in pages]
        return gathered(db, chart, numbers, again=not pages)


def _loaded(path: Path) -> LoadedPhoto:
    content = read_bytes(path)
    return LoadedPhoto(path.name, content, sha256_of(content))


def _read_before(db: Connection, sha256: str) -> list[PageRead]:
    """Return the reads of a photo by this version that were not undone."""
    reads = [read for read in page_reads.of_photo(db, sha256) if read.version == __version__]
    return [
        read
        for read in reads
        if any(one.reason != readings.UNDONE for one in readings.listed(db, page_read=read.id))
    ]


def _only_chart(named: Sequence[str]) -> str:
    different = list(dict.fromkeys(named))
    if len(different) > 1:
        raise UnknownChart(
            f"These photos show different charts ({', '.join(different)}); read one chart at a time."
        )
    return different[0]


def _check_hangs(studio: Studio, chart: str) -> None:
    with studio.look() as db:
        if light_tests.of_chart(db, chart) is None:
            raise BadRequest(f"Chart {chart} is no sheet of a light test; read it with `halfpan chart read`.")


def _pages(
    db: Connection, photo: LoadedPhoto, wish: ReadWish, tell: Callable[[str], None]
) -> list[MeasuredPage]:
    """Measure every picture in a file; only what was read of it stays in memory."""
    pages = []
    for picture in open_pictures(photo.content, photo.name):
        tell(f"reading {photo.name}" + (f", picture {picture.page}" if picture.page > 1 else ""))
        pages.append(MeasuredPage(photo, measure_picture(db, picture, wish)))
    return pages


def gathered(db: Connection, chart: str, numbers: Sequence[int], *, again: bool) -> ChartRead:
    """Return everything that was read, each box from its best view where several show it."""
    reads = [read for read in (page_reads.find(db, number) for number in numbers) if read]
    every = _standing([one for number in numbers for one in readings.listed(db, page_read=number)])
    best = _best_views(every)
    kept = tuple(one for one in every if best[one.reading.box] == one.page_read)
    boxes = {one.reading.box for one in kept}
    unread = {one.box: one for read in reads for one in read.unread if one.box not in boxes}
    worst = max(reads, key=lambda read: readings.TIERS.index(read.light.tier)).light
    seen = [one for number in numbers for one in swatches.listed(db, page_read=number)]
    return ChartRead(
        chart=chart,
        photos=tuple(dict.fromkeys(read.photo for read in reads if read.photo)),
        light=worst,
        readings=kept,
        unread=tuple(unread.values()),
        swatches=tuple(one for one in seen if best.get(one.swatch.box) == one.page_read),
        names=_names(db, seen),
        again=again,
    )


def _standing(every: Sequence[KeptReading]) -> list[KeptReading]:
    """Leave out what was set aside of a box that was read anew."""
    held = {one.reading.box for one in every if one.reading.state != "set aside"}
    return [one for one in every if one.reading.state != "set aside" or one.reading.box not in held]


def _best_views(every: Sequence[KeptReading]) -> dict[str, int | None]:
    """Return for each box the page read that counts: not set aside, smallest radius at full strength."""
    best: dict[str, tuple[tuple[bool, bool, float], int | None]] = {}
    for one in every:
        box, aside = one.reading.box, one.reading.state == "set aside"
        score = (aside, one.reading.zone != "masstone", one.reading.within_delta_e00)
        if box not in best or score < best[box][0]:
            best[box] = (score, one.page_read)
    return {box: number for box, (_, number) in best.items()}


def _names(db: Connection, seen: Sequence[KeptSwatch]) -> dict[str, str]:
    ids = [one.swatch.paint for one in seen if one.swatch.paint is not None]
    return {paint.id: paint.name for paint in paints.of_ids(db, ids)}
