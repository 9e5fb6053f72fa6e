"""Reading a chart: hand in photos, wait, look over what was read, accept it, move what lies wrong."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, File, Form, Request, UploadFile
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response

from halfpan.errors import BadRequest
from halfpan.files.words import say, words
from halfpan.studio.assign_box import assign_box
from halfpan.studio.cut_crops import cut_page, photo_view
from halfpan.studio.measuring import Corners, ReadWish
from halfpan.studio.nudge_page import nudge_box, nudge_corners
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, accept, set_aside
from halfpan.studio.see_review import see_review
from halfpan.studio.studio import Studio
from halfpan.web.asked import AskedCutting, AskedJobs, AskedNow, AskedStudio, AskedWall
from halfpan.web.frame import show
from halfpan.web.jobs import Job
from halfpan.web.pages.undo import done_at
from halfpan.web.refusals import wants_json
from halfpan.web.static import FOR_EVER
from halfpan.web.uploads import forget_uploads, keep_uploads

router = APIRouter(include_in_schema=False)


@router.post("/charts/read")
def read_photos(  # noqa: PLR0917 (a form sends them by name)
    request: Request,
    studio: AskedStudio,
    now: AskedNow,
    jobs: AskedJobs,
    photo: Annotated[list[UploadFile], File()],
    chart: Annotated[str, Form()] = "",
    page: Annotated[str, Form()] = "",
) -> Response:
    """Take photos and read them as a job; chart and page stand in where a printed code cannot be read."""
    if page and not (page.isascii() and page.isdigit() and int(page)):
        raise BadRequest(say("review.page_wrong"))
    wish = ReadWish(chart=chart, page=int(page) if page else None, review=True)
    paths = keep_uploads(photo)

    def work(job: Job) -> str:
        try:
            return _read(studio, paths, wish, now, job)
        finally:
            forget_uploads(paths)

    job = jobs.start(say("review.reading", len(paths)), work)
    if wants_json(request):
        return JSONResponse(job.document())
    return RedirectResponse(f"/jobs/{job.id}", 303)


def _read(studio: Studio, paths: list[Path], wish: ReadWish, now: datetime, job: Job) -> str:
    done = 0
    total = 2 * len(paths)

    def tell(words: str) -> None:
        nonlocal done
        job.step(min(done, total), total, words)
        done += 1

    read = read_chart(studio, paths, wish, now=now, tell=tell)
    for number in sorted({one.page_read for one in read.readings if one.page_read is not None}):
        tell(say("review.cutting"))
        cut_page(studio, number)
    return f"/charts/{read.chart}/review"


@router.get("/charts/{chart}/review")
def review_page(
    request: Request, chart: str, studio: AskedStudio, wall: AskedWall, cutting: AskedCutting
) -> Response:
    """Show the photos of a chart with their boxes, doubtful ones first."""
    with cutting:
        kept, sheets = see_review(studio, chart)
    if not sheets:
        raise BadRequest(say("review.nothing", chart=kept.chart.chart))
    names = {one.paint.id: one.paint for one in wall}
    return show(
        request,
        "review.html",
        {"kept": kept, "sheets": sheets, "names": names, "wall": wall, "why": why},
        section="charts",
    )


@router.get("/photos/{page_read}.webp")
def photo(page_read: int, studio: AskedStudio, cutting: AskedCutting) -> Response:
    """Answer with a kept photo, small enough to look at."""
    with cutting:
        view = photo_view(studio, page_read)
    return FileResponse(view.path, media_type="image/webp", headers={"cache-control": FOR_EVER})


@router.post("/charts/{chart}/accept")
def accept_readings(
    chart: str, studio: AskedStudio, now: AskedNow, readings: Annotated[str, Form()]
) -> Response:
    """Accept readings by their numbers."""
    accept(studio, Which(numbers=_numbers(readings)), now=now)
    return done_at(f"/charts/{chart}/review", studio)


@router.post("/charts/{chart}/set-aside")
def set_readings_aside(
    chart: str,
    studio: AskedStudio,
    now: AskedNow,
    readings: Annotated[str, Form()],
    reason: Annotated[str, Form()] = "",
) -> Response:
    """Set readings aside, to be painted again."""
    set_aside(studio, Which(numbers=_numbers(readings)), reason or say("review.repaint"), now=now)
    return done_at(f"/charts/{chart}/review", studio)


@router.post("/charts/{chart}/assign")
def assign(  # noqa: PLR0917 (a form sends them by name)
    chart: str,
    studio: AskedStudio,
    now: AskedNow,
    box: Annotated[str, Form()],
    page: Annotated[int, Form()],
    paint: Annotated[str, Form()],
) -> Response:
    """Say which paint a spare box was painted with."""
    assign_box(studio, chart, box, paint, now=now, page=page)
    return done_at(f"/charts/{chart}/review", studio)


@router.post("/charts/{chart}/nudge")
def nudge(  # noqa: PLR0917 (a form sends them by name)
    chart: str,
    studio: AskedStudio,
    now: AskedNow,
    cutting: AskedCutting,
    page_read: Annotated[int, Form()],
    box: Annotated[str, Form()] = "",
    x_mm: Annotated[float, Form()] = 0.0,
    y_mm: Annotated[float, Form()] = 0.0,
    corners: Annotated[str, Form()] = "",
) -> Response:
    """Read again with one box, or the sheet's corners, moved."""
    if box:
        number = nudge_box(studio, page_read, box, (x_mm, y_mm), now=now)
    else:
        number = nudge_corners(studio, page_read, _corners(corners), now=now)
    with cutting:
        cut_page(studio, number)
    return done_at(f"/charts/{chart}/review", studio)


def why(reason: str) -> str:
    """Return a flag of the reader as a sentence for a painter."""
    key = f"review.why.{reason}"
    return say(key) if key in words() else f"{reason.capitalize()}."


def _numbers(text: str) -> tuple[int, ...]:
    parts = text.replace(",", " ").split()
    if not parts or not all(part.isascii() and part.isdigit() for part in parts):
        raise BadRequest(say("review.which"))
    return tuple(int(part) for part in parts)


def _corners(text: str) -> Corners:
    """Return sheet corners (row, col) from ``col,row`` pairs with blanks between."""
    try:
        pairs = [tuple(float(part) for part in pair.split(",")) for pair in text.split()]
        return tuple((row, col) for col, row in pairs)
    except ValueError:
        raise BadRequest(say("review.corners_wrong")) from None
