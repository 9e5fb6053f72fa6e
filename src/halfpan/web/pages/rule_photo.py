"""Charts that Halfpan did not print: a photo, the corners of its boxes, what was painted in which order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Annotated, Literal

from fastapi import APIRouter, File, Form, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from halfpan.errors import BadRequest
from halfpan.files.words import say
from halfpan.studio.cut_crops import cut_page
from halfpan.studio.pick_paints import name_paints
from halfpan.studio.rule_photo import GridWish, rule_photo
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedJobs, AskedNow, AskedStudio, AskedWall
from halfpan.web.frame import show
from halfpan.web.jobs import Job
from halfpan.web.uploads import forget_uploads, keep_uploads

router = APIRouter(include_in_schema=False)

FILLED = ("reading", "snake", "column")
MOST_BOXES = 60  # in a row or a column


@router.get("/charts/rule")
def rule_page(request: Request, wall: AskedWall) -> Response:
    """Offer to lay a grid over a photo."""
    return show(request, "rule_photo.html", {"wall": wall, "orders": FILLED}, section="charts")


@router.post("/charts/rule")
def rule(  # noqa: PLR0917 (a form sends them by name)
    studio: AskedStudio,
    now: AskedNow,
    jobs: AskedJobs,
    photo: Annotated[list[UploadFile], File()],
    corners: Annotated[str, Form()] = "",
    rows: Annotated[str, Form()] = "",
    columns: Annotated[str, Form()] = "",
    order: Annotated[Literal["reading", "snake", "column"], Form()] = "reading",
    paints: Annotated[str, Form()] = "",
    skip: Annotated[str, Form()] = "",
    title: Annotated[str, Form()] = "",
) -> Response:
    """Read the boxes of a photo as a job."""
    wish = GridWish(
        corners=_corners(corners),
        rows=_count(rows),
        columns=_count(columns),
        paints=",".join(name_paints(studio, paints.splitlines())),
        order=order,
        skip=tuple(part for part in skip.replace(",", " ").split() if part),
        title=title.strip()[:60],
        review=True,
    )
    if wish.corners and (wish.rows is None or wish.columns is None):
        raise BadRequest(say("rule.count_needed"))
    paths = keep_uploads(photo[:1])
    job = jobs.start(say("rule.reading"), _work(studio, paths, wish, now))
    return RedirectResponse(f"/jobs/{job.id}", 303)


def _work(studio: Studio, paths: list[Path], wish: GridWish, now: datetime) -> Callable[[Job], str]:
    def work(job: Job) -> str:
        try:
            job.step(0, 2, say("rule.reading"))
            read = rule_photo(studio, paths[0], replace(wish, title=wish.title or paths[0].stem), now=now)
            job.step(1, 2, say("review.cutting"))
            for number in sorted({one.page_read for one in read.readings if one.page_read is not None}):
                cut_page(studio, number)
            return f"/charts/{read.chart}/review"
        finally:
            forget_uploads(paths)

    return work


def _count(text: str) -> int | None:
    if not text.strip():
        return None
    if not (text.strip().isascii() and text.strip().isdigit() and 1 <= int(text) <= MOST_BOXES):
        raise BadRequest(say("rule.count_wrong", most=MOST_BOXES))
    return int(text)


def _corners(text: str) -> tuple[tuple[float, float], ...]:
    """Return four corners (x, y) in pixels from ``x,y`` pairs with blanks between; none from no text."""
    try:
        points = tuple((float(x), float(y)) for x, y in (pair.split(",") for pair in text.split()))
    except ValueError:
        points = ((0.0, 0.0),)
    if points and (len(points) != 4 or not all(abs(n) < 1e6 for point in points for n in point)):
        raise BadRequest(say("rule.corners_wrong"))
    return points
