"""A chart to paint away from the studio: its boxes one by one, ticks and lines kept by the phone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape

from halfpan.core.chart.step import Said, Step
from halfpan.core.chart.trials import TRIALS
from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
from halfpan.files.carried.frame import carried_html
from halfpan.files.words import say


def how_to(kind: str, test: str) -> str:
    """Return how a box of a kind of sheet is painted."""
    if test in TRIALS:
        return say(f"table.test.{test}")
    return say(f"table.how.{kind if kind in {'swatch', 'mixes', 'tests'} else 'other'}")


def table_html(steps: Sequence[Step], *, chart: str, title: str, kind: str, now: datetime) -> str:
    """Return the page. Its script shows one box at a time; without it all boxes stand one below the other."""
    boxes = "".join(_box(step, how_to(kind, step.test)) for step in steps)
    shown = title or say("charts.untitled", chart=chart)
    body = (
        f'<div class="head"><h1>{escape(shown)}</h1><p class="lead" id="count" role="status"></p></div>'
        f'<div id="boxes" class="boxes">{boxes}</div>'
        f'<p class="turn" id="turn" hidden><button id="before">← {_told("table.previous")}</button>'
        f'<button id="after">{_told("table.following")} →</button></p>'
        f'<section class="group" id="back" hidden><h2>{_told("carried.table.back")}</h2>'
        f'<p>{_told("carried.table.back_on")}</p><textarea id="notes" rows="6" readonly '
        f'aria-label="{_told("carried.table.notes")}"></textarea>'
        f'<p><button id="copy">{_told("carried.table.copy")}</button> '
        '<span role="status" id="copied"></span></p></section>'
    )
    return carried_html(
        shown,
        body,
        script="table.js",
        words="carried.table",
        made=say("carried.table.saved", chart=chart, day=f"{now.day} {now:%B %Y}"),
        marks=f' data-chart="{escape(chart)}"',
    )


def _box(step: Step, how: str) -> str:
    names = "".join(
        f'<span class="pour">{f"{pour.parts:g} " if pour.parts is not None else ""}{escape(pour.name)}</span>'
        for pour in step.pours
    )
    copied = "".join(
        f"<p><b>{escape(' '.join(pour.codes)) or _told('table.no_codes')}</b>{escape(_by(pour.maker))}</p>"
        for pour in step.pours
    )
    test = f'<p class="test"><b>{escape(step.test)}</b></p>' if step.test else ""
    warned = (
        "".join(map(_said, step.cautions)) + f"<p>{escape(DEFER if step.cautions else NONE_RECORDED)}</p>"
    )
    said = "".join(map(_said, step.said)) or f"<p>{_told('carried.table.nothing_said')}</p>"
    ticked = " checked" if step.painted else ""
    return (
        f'<article data-key="{escape(step.key)}" tabindex="-1"><p class="number"><b>{escape(step.box)}</b> '
        f"{_told('carried.table.page', page=step.page)}</p><h2>{names}</h2>{test}"
        f"<div class=copy>{copied}</div><p>{escape(how)}</p>"
        f'<div class="note"><p><b>{_told("table.before")}</b></p>{warned}</div>'
        f'<label class="line">{_told("table.note")}<input name="note" value="{escape(step.note)}" '
        f'maxlength="500" autocomplete="off"></label><label class="tick"><input type="checkbox" '
        f'name="painted"{ticked}> {_told("table.done_here")}</label>'
        f"<details open><summary>{_told('carried.table.witnesses')}</summary>{said}</details></article>"
    )


def _told(key: str, **values: object) -> str:
    return escape(say(key, None, **values))


def _by(maker: str) -> str:
    return f" · {maker}" if maker else ""


def _said(one: Said) -> str:
    about = f"{one.about}: " if one.about else ""
    kind = "lit" if one.witness == "literature" else "lab"
    witness = _told(f"witness.{one.witness}").lower()
    return f'<p><span class="{kind}">{escape(about)}{escape(one.text)}</span> <small>{witness}</small></p>'
