"""Paint a chart box by box at the table: which is next, what to know of it, a tick and a line of notes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection

from halfpan.collection import changes, charts, paints
from halfpan.collection.charts import BoxState, KeptChart
from halfpan.core.chart.step import Pour, Said, Step
from halfpan.core.paint.cautions import cautions
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.witness import statements
from halfpan.errors import BadRequest
from halfpan.studio.studio import Studio

MOST_LETTERS = 500
TICKED, OPEN = "painted", "-"
HEAD = "halfpan boxes"


@dataclass(frozen=True, slots=True)
class AtTable:
    """A chart as it lies on the table: its boxes in order, spare ones that nobody named left out."""

    kept: KeptChart
    steps: tuple[Step, ...]

    @property
    def painted(self) -> int:
        """How many boxes are ticked."""
        return sum(step.painted for step in self.steps)

    @property
    def next(self) -> Step | None:
        """The first box that is not painted; none when all are."""
        return self.after(None)

    def after(self, here: Step | None) -> Step | None:
        """Return the box to paint after ``here``: the next one open, from the front again at the end."""
        at = self.steps.index(here) + 1 if here else 0
        return next((step for step in self.steps[at:] + self.steps[:at] if not step.painted), None)

    def step(self, page: int, box: str) -> Step:
        """Return one box.

        Raises
        ------
        BadRequest
            When the chart has no such box for a paint.
        """
        found = next((one for one in self.steps if (one.page, one.box) == (page, box)), None)
        if found is None:
            raise BadRequest(f"Chart {self.kept.chart.chart} asks for nothing in box {box} of page {page}.")
        return found


def lay_out(studio: Studio, chart: str) -> AtTable:
    """Return a chart as it is painted at the table.

    Raises
    ------
    UnknownChart
    """
    with studio.look() as db:
        return _laid_out(db, chart)


def tick_box(
    studio: Studio, chart: str, page: int, box: str, *, painted: bool, note: str, now: datetime, who: str = ""
) -> AtTable:
    """Tick a box as painted, or take the tick back, and keep the line about it.

    Raises
    ------
    UnknownChart, BadRequest
    """
    with studio.transaction() as db:
        at_table = _laid_out(db, chart)
        step = at_table.step(page, box)
        number = at_table.kept.chart.chart
        what = f"{'painted' if painted else 'not painted yet:'} box {step.box} of chart {number}"
        with changes.noted(db, what, now=now, who=who):
            _keep(db, number, step, painted=painted, note=note)
        return _laid_out(db, chart)


def take_ticks(studio: Studio, chart: str, text: str, *, now: datetime, who: str = "") -> int:
    """Take over what a saved page noted away from the studio, and return how many boxes that changed.

    A box ticked there is ticked here; none loses its tick or its line.

    Raises
    ------
    UnknownChart, BadRequest
    """
    with studio.transaction() as db:
        at_table = _laid_out(db, chart)
        number = at_table.kept.chart.chart
        read = _ticks(text, number)
        news = []
        for key, (painted, note) in read.items():
            step = next((one for one in at_table.steps if one.key == key), None)
            if step is None:
                raise BadRequest(f"The notes speak of box {key}, for which chart {number} asks nothing.")
            if (painted and not step.painted) or (note and note != step.note):
                news.append((step, painted or step.painted, note or step.note))
        what = f"took over notes on {len(news)} {'box' if len(news) == 1 else 'boxes'} of chart {number}"
        with changes.noted(db, what, now=now, who=who):
            for step, painted, note in news:
                _keep(db, number, step, painted=painted, note=note)
        return len(news)


def _ticks(text: str, chart: str) -> dict[str, tuple[bool, str]]:
    """Read lines of box, tick and note with tabs between them, under a line that names the chart."""
    lines = [line for line in text.strip().splitlines() if line.strip()]
    if not lines or lines[0].split() != [*HEAD.split(), chart]:
        raise BadRequest(f"These are not the notes of chart {chart}: they would begin with “{HEAD} {chart}”.")
    found = {}
    for line in lines[1:]:
        key, tick, *note = [part.strip() for part in line.split("\t", 2)] if "\t" in line else [line, ""]
        if tick not in {TICKED, OPEN}:
            raise BadRequest(f"“{line[:60]}” does not say whether the box is painted.")
        found[key] = (tick == TICKED, _line(note[0]) if note else "")
    return found


def _line(note: str) -> str:
    return " ".join(note.split())[:MOST_LETTERS]


def _keep(db: Connection, chart: str, step: Step, *, painted: bool, note: str) -> None:
    line = _line(note)
    if (painted, line) != (step.painted, step.note):
        charts.note_box(db, chart, step.page, step.box, painted=painted, note=line)


def _laid_out(db: Connection, chart: str) -> AtTable:
    kept = charts.find(db, chart)
    states = charts.box_states(db, kept.chart.chart)
    wanted = {one.paint for one in states if one.paint} | {part.paint for one in states for part in one.mix}
    held = {one.id: one for one in paints.of_ids(db, sorted(wanted))}
    tests = kept.chart.kind == "tests"
    return AtTable(kept, tuple(_step(one, held, tests=tests) for one in states if one.paint or one.mix))


def _step(state: BoxState, held: Mapping[str, Paint], *, tests: bool) -> Step:
    mixed = [(held[part.paint], part.parts) for part in state.mix if part.paint in held]
    single = [held[state.paint]] if state.paint and state.paint in held else []
    used = single or [paint for paint, _ in mixed]
    parts = [None] if single else [amount for _, amount in mixed]
    return Step(
        page=state.page,
        box=state.box,
        pours=tuple(
            Pour(paint.name, paint.codes, paint.maker, amount)
            for paint, amount in zip(used, parts, strict=True)
        ),
        test=state.label.rsplit(" · ", 1)[-1] if tests else "",
        said=_said(single[0]) if single else (),
        cautions=_cautions(used),
        painted=state.painted,
        note=state.note or "",
    )


def _cautions(used: Sequence[Paint]) -> tuple[Said, ...]:
    many = len(used) > 1
    found = [
        Said(paint.name if many else "", "label" if one.witness == "label" else "literature", one.text)
        for paint in used
        for one in cautions(paint)
    ]
    return tuple(dict.fromkeys(found))


def _said(paint: Paint) -> tuple[Said, ...]:
    found: list[Said] = []
    for told in statements(paint):
        if told.label:
            found.append(Said(told.property, "label", told.label.text))
        if told.literature:
            found.append(Said(told.property, "literature", told.literature.text))
    return tuple(found)
