"""Pages to carry and to share: a pocket list for the shop, the collection, one chart; each one HTML file.

What is shared names paints, makers, codes and pictures of boxes. Prices, places, notes and tags stay at home.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from halfpan.collection import charts, paints, swatches
from halfpan.collection.charts import BoxState
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.arranging.order import FAMILY_WORDS
from halfpan.core.chart.trials import TRIALS
from halfpan.core.paint.index import pigment
from halfpan.core.paint.paint import Paint
from halfpan.errors import UnreadablePhoto
from halfpan.files.carried import Entry, Group, ListedPage, listed_html, smaller, table_html
from halfpan.files.whole import write_whole
from halfpan.files.words import say
from halfpan.studio.cut_crops import crop_file
from halfpan.studio.paint_boxes import lay_out
from halfpan.studio.see_wall import WallPaint, in_families, see_wall
from halfpan.studio.studio import Studio
from halfpan.studio.wish import list_wishes

POCKET_PX, SHARED_PX = 88, 212


def share_pocket(studio: Studio, *, now: datetime) -> str:
    """Return the pocket list: what is owned and what is wished, to be searched in a shop."""
    wall = see_wall(studio)
    wished = [_entry(studio, one.paint, None, POCKET_PX, wished=True) for one in list_wishes(studio)]
    groups = [
        Group(FAMILY_WORDS[family].capitalize(), [_on_wall(studio, one, POCKET_PX) for one in some])
        for family, some in in_families(wall)
    ]
    owned = say("carried.count", len(wall))
    lead = say(f"carried.pocket_lead{'_wished' if wished else ''}", owned=owned, wished=len(wished))
    groups.append(Group(say("carried.wished"), wished))
    return listed_html(ListedPage(say("carried.pocket"), lead, groups, _day(now), "pocket"))


def share_collection(studio: Studio, *, now: datetime) -> str:
    """Return the collection on one page, family by family."""
    wall = see_wall(studio)
    painted = sum(one.box is not None for one in wall)
    groups = [
        Group(FAMILY_WORDS[family].capitalize(), [_on_wall(studio, one, SHARED_PX) for one in some])
        for family, some in in_families(wall)
    ]
    lead = say("carried.paints_lead", paints=say("carried.count", len(wall)), painted=painted)
    return listed_html(ListedPage(say("carried.paints"), lead, groups, _day(now), "wall"))


def share_chart(studio: Studio, chart: str, *, now: datetime) -> str:
    """Return one chart on one page, box by box in its own order.

    Raises
    ------
    UnknownChart
    """
    with studio.look() as db:
        kept = charts.find(db, chart)
        number = kept.chart.chart
        states = [one for one in charts.box_states(db, number) if one.paint or one.mix]
        ids = {one.paint for one in states if one.paint} | {p.paint for one in states for p in one.mix}
        held = {one.id: one for one in paints.of_ids(db, sorted(ids))}
        seen = {
            (one.page or 1, one.swatch.box): one
            for one in swatches.listed(db)
            if one.chart == number and one.state != "set aside"
        }
    groups = [
        Group(
            say("carried.page", page=page.page) if len(kept.chart.pages) > 1 else say("carried.boxes"),
            [
                _box(studio, state, held, seen.get((state.page, state.box)))
                for state in states
                if state.page == page.page
            ],
        )
        for page in kept.chart.pages
    ]
    boxes = say("carried.box_count", len(states))
    lead = say("carried.chart_lead", boxes=boxes, chart=number, read=len(seen))
    title = kept.title or say("charts.untitled", chart=number)
    return listed_html(ListedPage(title, lead, groups, _day(now), "wall"))


def share_table(studio: Studio, chart: str, *, now: datetime) -> str:
    """Return a chart to be painted away from the studio, box by box.

    Raises
    ------
    UnknownChart
    """
    seen = lay_out(studio, chart)
    kept = seen.kept
    return table_html(seen.steps, chart=kept.chart.chart, title=kept.title, kind=kept.chart.kind, now=now)


def write_page(path: Path, page: str) -> None:
    """Write a page where it was asked for, whole or not at all."""
    write_whole(path, page.encode())


def _on_wall(studio: Studio, one: WallPaint, width: int) -> Entry:
    return _entry(studio, one.paint, one.box, width)


def _entry(
    studio: Studio, paint: Paint, box: KeptSwatch | None, width: int, *, wished: bool = False
) -> Entry:
    return Entry(
        name=paint.name,
        codes=paint.codes,
        maker=paint.maker,
        range=paint.range,
        picture=_picture(studio, box, width),
        found_by=(*paint.other_names, *_pigment_names([paint])),
        said=_seen(box) if width == SHARED_PX else (),
        state="wished" if wished else "owned",
    )


def _box(studio: Studio, state: BoxState, held: dict[str, Paint], box: KeptSwatch | None) -> Entry:
    used = [held[p.paint] for p in state.mix if p.paint in held]
    if state.paint in held:
        used = [held[state.paint]]
    name = state.label.split(" · ")[0] if state.mix or not used else used[0].name
    test = state.label.rsplit(" · ", 1)[-1] if " · " in state.label and not state.mix else ""
    makers = dict.fromkeys(one.maker for one in used if one.maker)
    return Entry(
        name=name,
        codes=tuple(dict.fromkeys(code for one in used for code in one.codes)),
        maker=", ".join(makers),
        picture=_picture(studio, box, SHARED_PX),
        found_by=(*(one.name for one in used), *_pigment_names(used)),
        said=[say("carried.box", box=state.box), *([test] if test in TRIALS else []), *_seen(box)],
    )


def _seen(box: KeptSwatch | None) -> list[str]:
    if box is None:
        return [say("carried.not_painted")]
    if box.state != "accepted":
        return [say("carried.not_looked_over")]
    seen = box.swatch.transparency
    return [say("carried.over_line", transparency=seen)] if seen else []


def _pigment_names(used: Iterable[Paint]) -> tuple[str, ...]:
    known = [pigment(code) for one in used for code in one.codes]
    return tuple(dict.fromkeys(found.name for found in known if found))


def _picture(studio: Studio, box: KeptSwatch | None, width: int) -> bytes | None:
    """Return the picture of a box at a width, or none where no photo of it is kept."""
    if box is None or box.page_read is None:
        return None
    try:
        cut = crop_file(studio, box.page_read, box.swatch.box).read_bytes()
    except UnreadablePhoto:
        return None
    return smaller(cut, width)


def _day(now: datetime) -> str:
    return say("carried.as_of", day=f"{now.day} {now:%B %Y}")
