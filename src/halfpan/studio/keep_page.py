"""Keep one measured page: its photo, the read, every reading with its state, every swatch.

What is sure is accepted; what is doubtful, or was painted in a box that is for no paint yet, is left to
review. Everything is, when that is wished.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, time

from sqlalchemy import Connection

from halfpan import __version__
from halfpan.collection import charts, devices, page_reads, photos, readings, swatches
from halfpan.collection.charts import KeptChart
from halfpan.collection.devices import KeptDevice
from halfpan.collection.page_reads import ByHand, PageRead
from halfpan.collection.photos import KeptPhoto
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.chart.light_sheet import KIND as LIGHT
from halfpan.core.paint.reading import Reading, State, Swatch
from halfpan.studio.look_at_strips import look_at_strips
from halfpan.studio.measuring import Measured, ReadWish

# Flags that leave a reading to the painter's eye when its radius is wide besides: nearly all of the worst
# readings bear one (docs/science/reading.md). A notice about the colour itself, such as being outside the
# screen's range, is none.
DOUBTFUL = frozenset({"pictures disagree", "beyond what the picture can hold"})
BETTER_ELSEWHERE = "another photo shows this box better"
WIDE = 6.0  # CIEDE2000, 95 %: more than the usual radius of a reading by paper alone


@dataclass(frozen=True, slots=True, eq=False)
class LoadedPhoto:
    """The bytes of one photo, and their SHA-256."""

    name: str
    content: bytes
    sha256: str


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredPage:
    """One page of a photo, measured; ``by_hand`` is what a person set before.

    ``seen_better`` are boxes that another photo of the page shows better.
    """

    photo: LoadedPhoto
    measured: Measured
    by_hand: ByHand = field(default_factory=ByHand)
    seen_better: frozenset[str] = frozenset()


def keep_page(db: Connection, page: MeasuredPage, wish: ReadWish, *, now: datetime) -> int:
    """Keep a measured page with its readings and swatches, and return the number of the page read."""
    measured, chart = page.measured, page.measured.chart
    photos.keep(
        db,
        KeptPhoto(
            sha256=page.photo.sha256,
            name=page.photo.name,
            bytes=len(page.photo.content),
            kept=now,
            device=measured.device,
            exif=measured.exif,
        ),
    )
    if measured.profile is not None:
        devices.keep(db, KeptDevice(measured.device, measured.profile, __version__, now))
    read = measured.read
    number = page_reads.add(
        db,
        PageRead(
            chart=chart.chart.chart,
            page=measured.page,
            photo=page.photo.sha256,
            light=read.light,
            unread=read.unread,
            version=__version__,
            read=now,
            corners=measured.corners,
            by_hand=page.by_hand,
        ),
    )
    held = _boxes_held(db, chart.chart.chart) if wish.new_boxes else frozenset()
    wanted = [one for one in read.readings if one.box not in held]
    states = _states(wanted, chart, page.seen_better, review=wish.review)
    kept = [_kept(one, number, chart, now) for one in states]
    ids = readings.add_all(db, kept)
    if chart.chart.kind == LIGHT:
        strips = [replace(one, id=key) for one, key in zip(kept, ids, strict=True)]
        look_at_strips(db, chart.chart.chart, strips, looked=_when(db, page, wish, now))
    doubtful = {one.box: one.state for one in states if one.state != "accepted"}
    told = [one for one in read.swatches if one.box not in held]
    swatches.add_all(db, [_kept_swatch(one, doubtful, number, chart, now) for one in told])
    for box in {one.box for one in states}:
        charts.note_box(db, chart.chart.chart, measured.page, box, painted=True)
    return number


def _when(db: Connection, page: MeasuredPage, wish: ReadWish, now: datetime) -> datetime:
    """Return when a strip looked as in a photo: as told, as the photo says, or when it was first read."""
    if wish.seen is not None:
        return datetime.combine(wish.seen, time(12), tzinfo=UTC)
    said = page.measured.taken.when
    if said is not None and (taken := said.replace(tzinfo=said.tzinfo or UTC)) <= now:
        return taken
    first = photos.find(db, page.photo.sha256)
    return first.kept if first else now


def _boxes_held(db: Connection, chart: str) -> frozenset[str]:
    return frozenset(one.reading.box for one in readings.listed(db, chart=chart, state="accepted"))


def _states(
    read: Sequence[Reading], chart: KeptChart, seen_better: frozenset[str], *, review: bool
) -> list[Reading]:
    """Accept what is sure; leave to review what is doubtful, or everything when that is wished.

    What another photo shows better is set aside.
    """
    mixed = {box.box for page in chart.chart.pages for box in page.boxes if box.mix}

    def state(one: Reading) -> State:
        if one.box in seen_better:
            return "set aside"
        return "to review" if review or _doubtful(one, mixed) else "accepted"

    return [replace(one, state=state(one)) for one in read]


def _doubtful(reading: Reading, mixed: set[str]) -> bool:
    unsure = bool(DOUBTFUL & set(reading.flags)) and reading.within_delta_e00 > WIDE
    return unsure or (reading.paint is None and reading.box not in mixed)


def _kept(reading: Reading, number: int, chart: KeptChart, now: datetime) -> KeptReading:
    box = next(box for page in chart.chart.pages for box in page.boxes if box.box == reading.box)
    zone = box.zone(reading.zone)
    return KeptReading(
        reading=reading,
        taken=now,
        chart=chart.chart.chart,
        page_read=number,
        amounts=tuple((part.paint, part.parts) for part in box.mix),
        ground=(zone.ground if zone else None) or "paper",
        paper=chart.paper,
        version=__version__,
        reason=BETTER_ELSEWHERE if reading.state == "set aside" else "",
    )


def _kept_swatch(
    swatch: Swatch, doubtful: Mapping[str, State], number: int, chart: KeptChart, now: datetime
) -> KeptSwatch:
    return KeptSwatch(
        swatch=swatch,
        taken=now,
        chart=chart.chart.chart,
        page_read=number,
        state=doubtful.get(swatch.box, "accepted"),
        version=__version__,
    )
