"""A chart to paint away from the studio: its boxes one by one, ticks and lines kept by the phone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from html import escape

from halfpan.core.chart.step import Said, Step
from halfpan.core.chart.trials import HOW_TO_TEST
from halfpan.core.paint.cautions import DEFER, NONE_RECORDED
from halfpan.files.carried.frame import carried_html

HOW = {
    "swatch": "Full strength over the black line, down to the ticks. Rinse, then water alone to bare paper.",
    "mixes": "Measure the parts, mix well. Full strength over the black line; then water alone.",
    "tests": " ".join(HOW_TO_TEST),
}


def table_html(steps: Sequence[Step], *, chart: str, title: str, kind: str, now: datetime) -> str:
    """Return the page. Its script shows one box at a time; without it all boxes stand one below the other."""
    boxes = "".join(_box(step, HOW.get(kind, HOW["swatch"])) for step in steps)
    shown = title or f"Chart {chart}"
    body = (
        f'<div class="head"><h1>{escape(shown)}</h1><p class="lead" id="count" role="status"></p></div>'
        f'<div id="boxes" class="boxes">{boxes}</div>'
        '<p class="turn" id="turn" hidden><button id="before">← Box before</button>'
        '<button id="after">Box after →</button></p>'
        '<section class="group" id="back" hidden><h2>Bring it back</h2><p>Copy these lines into “Notes '
        'brought back” on the chart’s page at the table.</p><textarea id="notes" rows="6" readonly '
        'aria-label="Notes to bring back"></textarea><p><button id="copy">Copy</button> '
        '<span role="status" id="copied"></span></p></section>'
    )
    made = f"Chart {chart}, saved {now.day} {now:%B %Y}. Ticks and lines stay in this phone’s browser."
    return carried_html(shown, body, script="table.js", made=made, marks=f' data-chart="{escape(chart)}"')


def _box(step: Step, how: str) -> str:
    names = "".join(
        f'<span class="pour">{f"{pour.parts:g} " if pour.parts is not None else ""}{escape(pour.name)}</span>'
        for pour in step.pours
    )
    copied = "".join(
        f"<p><b>{escape(' '.join(pour.codes) or 'codes unknown')}</b>{escape(_by(pour.maker))}</p>"
        for pour in step.pours
    )
    test = f'<p class="test"><b>{escape(step.test)}</b></p>' if step.test else ""
    warned = (
        "".join(map(_said, step.cautions)) + f"<p>{escape(DEFER if step.cautions else NONE_RECORDED)}</p>"
    )
    said = "".join(map(_said, step.said)) or "<p>Both say nothing.</p>"
    ticked = " checked" if step.painted else ""
    return (
        f'<article data-key="{escape(step.key)}" tabindex="-1"><p class="number"><b>{escape(step.box)}</b> '
        f"page {step.page}</p><h2>{names}</h2>{test}<div class=copy>{copied}</div><p>{escape(how)}</p>"
        f'<div class="note"><p><b>Before the brush goes in</b></p>{warned}</div>'
        f'<label class="line">A line about it<input name="note" value="{escape(step.note)}" maxlength="500" '
        f'autocomplete="off"></label><label class="tick"><input type="checkbox" name="painted"{ticked}> '
        f"Painted</label><details open><summary>Label and literature</summary>{said}</details></article>"
    )


def _by(maker: str) -> str:
    return f" · {maker}" if maker else ""


def _said(one: Said) -> str:
    about = f"{one.about}: " if one.about else ""
    kind = "lit" if one.witness == "literature" else "lab"
    return (
        f'<p><span class="{kind}">{escape(about)}{escape(one.text)}</span> <small>{one.witness}</small></p>'
    )
