"""Read a chart that Halfpan did not print: a grid of boxes in a photo, by its corners or found by itself.

It is kept as a chart like any other, of kind ``ruled``, so that its readings can be reviewed, assigned and
compared. A target laid out as a grid can be read the same way: its own boxes are then the reference, and
each is foretold by the others alone.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
from sqlalchemy import Connection

from halfpan.collection import changes, charts, devices, page_reads, papers
from halfpan.collection.charts import KeptChart
from halfpan.core.chart.sheet import Chart, Page, Sheet, chart_to_dict
from halfpan.core.measuring.corrections import corrected
from halfpan.core.measuring.flatten import to_picture
from halfpan.core.measuring.grid import Grid, find_grid, grid_page, rule_grid, sheet_size
from halfpan.core.measuring.photo import Array, Photo
from halfpan.core.measuring.ruled import assign, measure_ruled
from halfpan.core.measuring.target import find_target
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Lab, SheetRead
from halfpan.errors import BadRequest, UnreadablePhoto, UnreadableTable
from halfpan.files.originals import keep_original, sha256_of
from halfpan.files.photo import Picture, open_pictures
from halfpan.files.photo.picture import read_bytes
from halfpan.files.target_colours import PATCHES, published_target
from halfpan.studio.keep_page import LoadedPhoto, MeasuredPage, keep_page
from halfpan.studio.measuring import Measured, ReadWish, response_of
from halfpan.studio.pick_paints import pick_paints
from halfpan.studio.read_chart import ChartRead, gathered
from halfpan.studio.rule_chart import new_chart_id
from halfpan.studio.studio import Studio

KIND = "ruled"
EXAMPLE = '{"B2": {"skip": true}, "A1": {"move": [0.1, 0]}, "D1": {"merge": "D2"}}'


@dataclass(frozen=True, slots=True)
class GridWish:
    """How a grid lies in a photo and what is in its boxes.

    Attributes
    ----------
    corners : outer corners of the field as (x, y) pixels, round it from the first box; found when empty
    rows, columns : how many boxes; found when none
    paints : as for a chart (`pick_paints`), in the order they were painted; empty for none yet
    order : "reading", "snake" or "column"
    skip : boxes that are not there or not to be read, by name
    corrections : a JSON file of boxes put right by hand (`halfpan.core.measuring.corrections`)
    target : ``found``, ``none``, or a file of colours: as many as there are boxes makes the grid itself the
        reference; 24 of them, a target beside it
    paper : name of a paper that is kept here
    """

    corners: tuple[tuple[float, float], ...] = ()
    rows: int | None = None
    columns: int | None = None
    paints: str = ""
    order: str = "reading"
    skip: tuple[str, ...] = ()
    corrections: Path | None = None
    target: str = "found"
    paper: str = ""
    title: str = ""
    review: bool = False


def rule_photo(
    studio: Studio,
    path: Path,
    wish: GridWish,
    *,
    now: datetime,
    new_id: Callable[[], str] = new_chart_id,
    who: str = "",
) -> ChartRead:
    """Read a grid of boxes in a photo and keep it as a chart with its readings.

    Raises
    ------
    UnreadablePhoto, UnreadableTable, UnknownPaint, BadRequest
        In one sentence; nothing is kept then.
    """
    content = read_bytes(path)
    picture = open_pictures(content, path.name)[0]
    grid = _grid(picture.photo, wish)
    with studio.look() as db:
        named = pick_paints(db, wish.paints) if wish.paints else []
        paper = papers.find(db, wish.paper) if wish.paper else None
        boxes = assign([one.id for one in named], grid, wish.order)
        read = _measured(
            db, picture.photo, grid, boxes, target=wish.target, white=paper.lab if paper else None
        )
        chart = KeptChart(_chart(grid, boxes, named, new_id()), now, wish.title, paper.id if paper else None)
        old = _ruled_before(db, sha256_of(content), chart.chart)
    if old is not None:
        with studio.look() as db:
            return gathered(db, old[0], [old[1]], again=True)
    measured = _as_measured(picture, chart, grid, read)
    sha256 = keep_original(studio.photos, content)
    page = MeasuredPage(LoadedPhoto(path.name, content, sha256), measured)
    with studio.transaction() as db, changes.noted(db, f"ruled {path.name}", now=now, who=who):
        charts.add(db, chart.chart, now=now, title=wish.title or path.name, paper=chart.paper)
        number = keep_page(db, page, ReadWish(review=wish.review), now=now)
        return gathered(db, chart.chart.chart, [number], again=False)


def _grid(photo: Photo, wish: GridWish) -> Grid:
    if wish.corners:
        if wish.rows is None or wish.columns is None:
            raise BadRequest("With --corners say --rows and --columns too.")
        corners = np.array([[y, x] for x, y in wish.corners], dtype=float)
        grid = rule_grid(photo, corners, wish.rows, wish.columns)
    else:
        grid = find_grid(photo, wish.rows, wish.columns)
    skipped = {name.strip().upper() for name in wish.skip}
    names = {grid.name(at) for at in range(len(grid.rects))}
    if unknown := skipped - names:
        raise BadRequest(f"There is no box {min(unknown)} in this grid of {grid.rows} by {grid.columns}.")
    left = np.array([grid.name(at) not in skipped for at in range(len(grid.rects))])
    grid = replace(grid, present=grid.present & left.reshape(grid.present.shape))
    return corrected(grid, _corrections(wish.corrections)) if wish.corrections else grid


def _corrections(path: Path) -> dict[str, dict[str, Any]]:
    """Read a correction file: an object of boxes, each an object of corrections."""
    try:
        held = json.loads(read_bytes(path))
    except (ValueError, RecursionError) as trouble:
        raise UnreadableTable(f"{path.name} is not JSON; corrections look like {EXAMPLE}.") from trouble
    if not isinstance(held, dict) or not all(isinstance(words, dict) for words in held.values()):
        raise UnreadableTable(f"{path.name} does not list boxes; corrections look like {EXAMPLE}.")
    return {name.strip().upper(): words for name, words in held.items()}


def _measured(
    db: Connection, photo: Photo, grid: Grid, boxes: dict[str, str | None], *, target: str, white: Lab | None
) -> SheetRead:
    colours = _colours(target)
    given = target not in {"found", "none"}
    known = devices.find(db, photo.device) if photo.device else None
    device = response_of(known.profile) if known else None
    if given and len(colours) == len(grid.rects):
        reference = {grid.name(at): _lab(lab) for at, lab in enumerate(colours)}
        return measure_ruled(photo, grid, paints=boxes, known=reference, paper=white, device=device)
    found = find_target(photo, colours) if target != "none" and len(colours) == PATCHES else None
    if found is None and given:
        raise UnreadablePhoto(
            f"{Path(target).name} lists {len(colours)} colours: there are not so many boxes, and no "
            f"target with them was found in {photo.name}."
        )
    patches = found.patches if found else None
    return measure_ruled(photo, grid, paints=boxes, reference=patches, paper=white, device=device)


def _colours(target: str) -> Array:
    """Return the colours a target file lists, or the published ones of the 24-patch target."""
    if target in {"found", "none"}:
        return published_target()
    from halfpan.files.instrument import read_measured

    return np.array([row.lab for row in read_measured(Path(target)).rows], dtype=float)


def _lab(lab: Array) -> Lab:
    L, a, b = (float(value) for value in lab)
    return L, a, b


def _chart(grid: Grid, boxes: dict[str, str | None], named: Sequence[Paint], chart_id: str) -> Chart:
    page = grid_page(grid, boxes)
    names = {paint.id: paint.name for paint in named}
    labelled = tuple(replace(box, label=names.get(box.paint or "", box.box)) for box in page.boxes)
    width, height = sheet_size(grid)
    return Chart(chart_id, KIND, Sheet(width, height, "ruled by hand"), (Page(1, (), labelled),))


def _ruled_before(db: Connection, sha256: str, chart: Chart) -> tuple[str, int] | None:
    """Return the chart and page read that the same photo with the same grid made before."""
    pages = chart_to_dict(chart)["pages"]
    for read in page_reads.of_photo(db, sha256):
        if any(one.chart == read.chart for one in charts.listed(db)):
            held = charts.find(db, read.chart).chart
            if held.kind == KIND and chart_to_dict(held)["pages"] == pages:
                return read.chart, read.id
    return None


def _as_measured(picture: Picture, chart: KeptChart, grid: Grid, read: SheetRead) -> Measured:

    width, height = sheet_size(grid)
    corners = to_picture(
        grid.flattening, np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
    )
    return Measured(
        device=picture.photo.device,
        taken=picture.taken,
        chart=chart,
        page=1,
        read=read,
        corners=tuple((float(row), float(col)) for row, col in corners),
        profile=None,
    )
