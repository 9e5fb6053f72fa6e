"""Every chart with how far it is, and what has come or changed since it was printed: the smallest repaint."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection

from halfpan.collection import box_reads, charts, paints, tins
from halfpan.collection.box_reads import Boxes
from halfpan.collection.charts import ChartState
from halfpan.core.arranging.newcomer import ChartOrder, Repaint, outdated, place_newcomers
from halfpan.core.arranging.order import OrderRule, places
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.light_sheet import KIND as LIGHT
from halfpan.core.chart.sheet import Box, Chart
from halfpan.core.paint.paint import Paint
from halfpan.studio.follow_tin import SEATS, Moved, moved_boxes
from halfpan.studio.order_paints import order_in_use
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio

Step = Literal["printed", "painted", "read"]


@dataclass(frozen=True, slots=True)
class Changed:
    """A box whose printed label no longer tells its paint; ``now`` is none for a paint that was put away."""

    box: str
    printed: str
    now: Paint | None


@dataclass(frozen=True, slots=True)
class ChartFollowed:
    """A chart of the list.

    Attributes
    ----------
    state : its title, its pages and how many of its boxes were ticked as painted
    read, waiting : how many boxes were read, and how many of these wait to be looked over
    again : boxes left for a repaint, that nothing accepted stands for
    moved : boxes that followed a tin and whose seat holds another paint now
    changed : boxes whose label is another by now, or whose paint was put away
    newcomers : paints that came since and would stand among its own
    spare : boxes still free; the first stand nearest to where the newcomers, in turn, would
    in_place : boxes to paint so that the only newcomer stands in its place; 0 where there are several or none
    """

    state: ChartState
    read: int
    waiting: int
    again: tuple[str, ...] = ()
    moved: tuple[Moved, ...] = ()
    changed: tuple[Changed, ...] = ()
    newcomers: tuple[Paint, ...] = ()
    spare: tuple[str, ...] = ()
    in_place: int = 0

    @property
    def step(self) -> Step:
        """How far the chart has come."""
        return "read" if self.read else "painted" if self.state.painted else "printed"

    @property
    def out_of_date(self) -> bool:
        """Whether anything has come or changed since it was printed and painted."""
        return bool(self.again or self.moved or self.changed or self.newcomers)

    @property
    def repaint(self) -> tuple[str, ...]:
        """The fewest boxes that bring it up to date, but for newcomers that find no spare box."""
        return tuple(dict.fromkeys((*self.anew, *(box for _, box in self.housed))))

    @property
    def anew(self) -> tuple[str, ...]:
        """The boxes to paint once more: those left for a repaint, and those whose seat was filled anew."""
        filled = [one.box for one in self.moved if one.now is not None]
        return tuple(dict.fromkeys((*self.again, *filled)))

    @property
    def housed(self) -> tuple[tuple[Paint, str], ...]:
        """The newcomers that find a spare box, each with the box."""
        return tuple(zip(self.newcomers, self.spare, strict=False))

    @property
    def elsewhere(self) -> tuple[Paint, ...]:
        """The newcomers that find no spare box and need a sheet of their own."""
        return self.newcomers[len(self.spare) :]


def follow_charts(studio: Studio) -> tuple[ChartFollowed, ...]:
    """Return all charts, newest first."""
    with studio.look() as db:
        every = {tin.id: tin for tin in tins.listed(db)}
        states = charts.listed(db)
        kept = {one.chart: charts.find(db, one.chart).chart for one in states}
        reads = box_reads.listed(db)
        own = {one.id: one for one in paints.listed(db) if one.owned}
        came = _newcomers(db, states, kept)
        ticked = charts.ticked_boxes(db)
    return tuple(
        ChartFollowed(
            state=state,
            read=sum(one != "set aside" for one in reads.get(state.chart, {}).values()),
            waiting=sum(one == "to review" for one in reads.get(state.chart, {}).values()),
            again=_again(reads.get(state.chart, {})),
            moved=moved_boxes(kept[state.chart], every, set(every)),
            changed=_changed(kept[state.chart], own),
            newcomers=tuple(own[paint] for paint, _ in came[state.chart]),
            spare=_spare(
                kept[state.chart], ticked.get(state.chart, set()), [one.at for _, one in came[state.chart]]
            ),
            in_place=came[state.chart][0][1].in_place if len(came[state.chart]) == 1 else 0,
        )
        for state in states
    )


def _spare(chart: Chart, ticked: set[tuple[int, str]], wanted: Sequence[int]) -> tuple[str, ...]:
    """Return the free boxes, for each place wanted the nearest one first."""
    places = [(page.page, box) for page in chart.pages for box in page.boxes]
    boxes = [box for _, box in places]
    free = [
        k
        for k, (page, box) in enumerate(places)
        if not (box.paint or box.mix or box.label or (page, box.box) in ticked)
    ]
    taken = []
    for at in wanted[: len(free)]:
        nearest = min((k for k in free if k not in taken), key=lambda k: abs(k - at))
        taken.append(nearest)
    return tuple(boxes[k].box for k in [*taken, *(k for k in free if k not in taken)])


def _again(boxes: Boxes) -> tuple[str, ...]:
    return tuple(box for (_, box), state in sorted(boxes.items()) if state == "set aside")


def _changed(chart: Chart, own: Mapping[str, Paint]) -> tuple[Changed, ...]:
    """Return the boxes whose label, as printed, is no longer that of their paint."""
    if chart.kind != "swatch":
        return ()
    boxes = [box for page in chart.pages for box in page.boxes if box.paint is not None and box.label]
    return tuple(Changed(box.box, box.label, own.get(box.paint or "")) for box in boxes if _differs(box, own))


def _differs(box: Box, own: Mapping[str, Paint]) -> bool:
    paint = own.get(box.paint or "")
    return (
        paint is None
        or BoxLabel(paint.id, paint.name, paint.codes, paint.maker, paint.range).text != box.label
    )


def _newcomers(
    db: Connection, states: Sequence[ChartState], kept: Mapping[str, Chart]
) -> dict[str, list[tuple[str, Repaint]]]:
    """Return, by chart, the paints that came since it was ruled, stand on no chart, and belong on it.

    They belong where a neighbour of their own family stands; where there is none, beside either neighbour.
    """
    came: dict[str, list[tuple[str, Repaint]]] = {one.chart: [] for one in states}
    ordered = {
        one.chart: _in_order(one, kept[one.chart])
        for one in states
        if one.kind in {"swatch", "grid"} and SEATS not in kept[one.chart].extra
    }
    made = {one.chart: one.made for one in states if one.chart in ordered}
    since = paints.added_since(db, min(made.values())) if made else {}
    charted = [chart for chart in kept.values() if chart.kind != LIGHT]
    on_charts = {box.paint for chart in charted for page in chart.pages for box in page.boxes}
    new = {paint: added for paint, added in since.items() if paint not in on_charts}
    if not new:
        return came
    known = {one.paint.id: one for one in painted_paints(db)}
    others = {key: one for key, one in known.items() if key not in new}
    wanted = [known[paint] for paint in new if paint in known]
    gaps = place_newcomers(order_in_use(db, others), wanted, others)
    families = {one.paint: one.family for one in places(list(known.values()), OrderRule())}
    for one, gap in zip(wanted, gaps, strict=True):
        paint = one.paint.id
        older = [ordered[chart] for chart, day in made.items() if day < new[paint]]
        kin = {each for each in (gap.before, gap.after) if each and families[each] == families[paint]}
        for repaint in outdated(older, paint, gap):
            if not kin or kin & set(ordered[repaint.chart].boxes):
                came[repaint.chart].append((paint, repaint))
    return came


def _in_order(state: ChartState, chart: Chart) -> ChartOrder:
    boxes = tuple(box.paint for page in chart.pages for box in page.boxes)
    return ChartOrder(state.chart, boxes, grid=state.kind == "grid")
