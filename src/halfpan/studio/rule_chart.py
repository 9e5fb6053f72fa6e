"""Rule a chart for some paints: the sheet to print, its geometry, and its place in the studio."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection

from halfpan.collection import changes, charts, orders, papers
from halfpan.core.arranging.order import FAMILY_WORDS, in_order
from halfpan.core.chart.ink import ChartSheet
from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.light_sheet import rule_light_chart
from halfpan.core.chart.line import Line
from halfpan.core.chart.mixes import MixLabel, rule_mix_chart
from halfpan.core.chart.sheet import Chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.chart.trials import TRIALS, rule_test_chart
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadLayout, BadRequest
from halfpan.files.pdf import text_width, unprintable, write_chart
from halfpan.studio.find_paint import find_paint
from halfpan.studio.mix_words import parts_in_words
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.pick_paints import pick_paints
from halfpan.studio.studio import Studio

# No vowels, and nothing that is easily taken for something else when written by hand.
LETTERS = "23456789BCDFGHJKMNPQRSTVWXZ"
PALE = {"white"}
SCALE_FROM, SCALE_TO = 0.7, 3.0
MOST_IN_A_MIX = 6
MOST_SPARE = 500
Order = Literal["proposed", "given", "mine"]
Kind = Literal["swatch", "tests", "mixes", "light"]


@dataclass(frozen=True, slots=True)
class ChartWish:
    """What a chart is to be like.

    Attributes
    ----------
    plan : rows and columns, to follow a tin (swatch charts)
    order : who decides the order of the boxes
    kind : ``swatch`` a box a paint; ``tests`` the trials of each paint; ``mixes`` the mixes named, and empty
        boxes for mixes of one's own; ``light`` two strokes of each paint, half of them to hang in a window
    trials : which tests, of a sheet of tests; all of them when empty
    mixes : as they are written, ``3 Scarlet + 1 Ultramarine``
    scale : 1 for a chart in the hand, 1.6 for one to be seen from 2 m; none lets the sheet decide
    """

    paints: str = "all"
    sheet: str = "A4"
    title: str = ""
    margin_mm: float = 8.0
    plan: tuple[int, int] | None = None
    upside_down: bool = False
    spare: int = 0
    line: Line = "printed"
    order: Order = "proposed"
    paper: str = ""
    kind: Kind = "swatch"
    trials: tuple[str, ...] = ()
    mixes: tuple[str, ...] = ()
    scale: float | None = None


def draw_chart(db: Connection, wish: ChartWish, chart_id: str) -> ChartSheet:
    """Return the sheet a wish describes; nothing is kept.

    Raises
    ------
    BadLayout, BadRequest, UnknownPaint, UnreadableTable
    """
    _check(wish)
    if wish.kind == "mixes":
        return rule_mix_chart(
            [_mix(db, text) for text in wish.mixes],
            sheet=sheet_of(wish.sheet),
            chart_id=chart_id,
            measure=text_width,
            title=wish.title,
            margin_mm=wish.margin_mm,
            scale=wish.scale or 1.0,
        )
    if wish.kind == "light":
        return rule_light_chart(
            _labels(db, wish),
            sheet=sheet_of(wish.sheet),
            chart_id=chart_id,
            measure=text_width,
            title=wish.title,
            margin_mm=wish.margin_mm,
            scale=wish.scale or 1.0,
        )
    if wish.kind == "tests":
        return rule_test_chart(
            _labels(db, wish),
            sheet=sheet_of(wish.sheet),
            chart_id=chart_id,
            measure=text_width,
            trials=[one for one in TRIALS if one in wish.trials or not wish.trials],
            title=wish.title,
            margin_mm=wish.margin_mm,
            scale=wish.scale or 1.0,
        )
    return rule_swatch_chart(
        _labels(db, wish),
        sheet=sheet_of(wish.sheet),
        chart_id=chart_id,
        measure=text_width,
        title=wish.title,
        margin_mm=wish.margin_mm,
        plan=wish.plan,
        upside_down=wish.upside_down,
        spare=wish.spare,
        line=wish.line,
        scale=wish.scale,
    )


def _check(wish: ChartWish) -> None:
    """Refuse what a kind of sheet cannot be, rather than leave it out unsaid."""
    if wish.scale is not None and not SCALE_FROM <= wish.scale <= SCALE_TO:
        raise BadLayout(f"A scale of {wish.scale:g} cannot be ruled; take {SCALE_FROM:g} to {SCALE_TO:g}.")
    if not wish.margin_mm >= 0 or not 0 <= wish.spare <= MOST_SPARE or min(wish.plan or (1, 1)) < 1:
        raise BadLayout(
            f"A margin is 0 mm or more; 0 to {MOST_SPARE} boxes are spare; a plan has a row and a column."
        )
    if wish.kind != "swatch" and (wish.plan or wish.spare or wish.line == "hand"):
        raise BadRequest("A tin's plan, spare boxes and a line by hand belong to swatch charts only.")
    if wish.trials and wish.kind != "tests":
        raise BadRequest("Tests are named for a sheet of tests; choose the kind “tests”.")
    if wish.mixes and wish.kind != "mixes":
        raise BadRequest("Mixes are named for a sheet of mixes; choose the kind “mixes”.")
    if unknown := set(wish.trials) - set(TRIALS):
        raise BadRequest(f"There is no test “{min(unknown)}”; the tests are: {', '.join(TRIALS)}.")


def _mix(db: Connection, text: str) -> MixLabel:
    held: dict[str, Paint] = {}

    def named(words: str) -> Paint:
        paint = find_paint(db, words)
        held[paint.id] = paint
        return paint

    parts = parts_in_words(text, named)
    if len(parts) > MOST_IN_A_MIX:
        raise BadRequest(f"“{text}” names {len(parts)} paints; a box has room for {MOST_IN_A_MIX}.")
    return MixLabel(
        [(BoxLabel(p, held[p].name, held[p].codes, held[p].maker, held[p].range), n) for p, n in parts]
    )


def letters_left_out(chart: Chart, title: str = "") -> tuple[str, ...]:
    """Return the letters of a chart's title and labels that its print has no shape for."""
    said = "".join(box.label for page in chart.pages for box in page.boxes)
    return unprintable(title + said)


def _labels(db: Connection, wish: ChartWish) -> Sequence[BoxLabel]:
    picked = pick_paints(db, wish.paints)
    by_id = {one.id: one for one in picked}
    placed = in_order(painted_paints(db, picked))
    families = {one.paint: one.family for one in placed}
    order = list(by_id)
    if wish.order == "proposed":
        order = [one.paint for one in placed]
    elif wish.order == "mine":
        mine = {paint: at for at, paint in enumerate(orders.find(db))}
        order.sort(key=lambda paint: mine.get(paint, len(mine)))
    return [
        BoxLabel(
            paint=paint,
            name=by_id[paint].name,
            codes=by_id[paint].codes,
            maker=by_id[paint].maker,
            range=by_id[paint].range,
            family=FAMILY_WORDS[families[paint]]
            if wish.order == "proposed" and wish.plan is None and wish.kind == "swatch"
            else "",
            pale=families[paint] in PALE,
        )
        for paint in order
    ]


def new_chart_id() -> str:
    """Return an id that no other chart in the world is likely to have: six letters and digits."""
    return "".join(secrets.choice(LETTERS) for _ in range(6))


def rule_chart(
    studio: Studio,
    wish: ChartWish,
    pdf: Path,
    *,
    now: datetime,
    new_id: Callable[[], str] = new_chart_id,
    who: str = "",
) -> tuple[Chart, Path]:
    """Write a chart's PDF and, beside it, its geometry as ``.json``; keep it in the studio.

    Returns
    -------
    The chart, and the path of its geometry. Both files and the studio change together or not at all, but
    for a power cut in the moment between the two files.
    """
    with studio.transaction() as db:
        return keep_ruled(db, wish, pdf, now=now, chart_id=new_id(), who=who)


def keep_ruled(
    db: Connection, wish: ChartWish, pdf: Path, *, now: datetime, chart_id: str, who: str = ""
) -> tuple[Chart, Path]:
    """Keep the sheet of a wish and write it, as the last thing of a transaction."""
    sheet = draw_chart(db, wish, chart_id)
    paper = papers.find(db, wish.paper).id if wish.paper else None
    with changes.noted(db, f"ruled chart {sheet.chart.chart}", now=now, who=who):
        charts.add(db, sheet.chart, now=now, title=wish.title, paper=paper)
    return sheet.chart, write_chart(pdf, sheet, sheet.chart)
