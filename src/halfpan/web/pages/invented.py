"""The invented studio: filled in a folder of its own, looked round in, and left again."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

from fastapi import APIRouter, FastAPI, Request
from starlette.responses import RedirectResponse, Response

from halfpan.demo.run import fill_invented_studio
from halfpan.files.words import say
from halfpan.studio.studio import Studio, open_studio
from halfpan.web.asked import AskedJobs, AskedNow
from halfpan.web.jobs import Job

router = APIRouter(include_in_schema=False)
STEPS = 18
"""About how many sentences the virtual painter says; only the length of the line depends on it."""


@router.post("/invented-studio")
def open_invented(request: Request, now: AskedNow, jobs: AskedJobs) -> Response:
    """Fill the invented studio if need be, and go there."""
    app: FastAPI = request.app
    folder = app.state.own_studio.folder.with_name(f"{app.state.own_studio.folder.name}, invented")

    def work(job: Job) -> str:
        if not folder.exists():
            _fill(folder, now, job)
        enter(app, open_studio(folder))
        return "/"

    job = jobs.start(say("invented.filling"), work)
    return RedirectResponse(f"/jobs/{job.id}", 303)


@router.post("/own-studio")
def leave_invented(request: Request) -> Response:
    """Go back to the painter's own studio."""
    enter(request.app, request.app.state.own_studio)
    return RedirectResponse("/", 303)


def enter(app: FastAPI, studio: Studio) -> None:
    """Show another studio from now on; one that was borrowed before is let go."""
    left: Studio = app.state.studio
    app.state.studio = studio
    app.state.studio_name = studio.folder.name
    if left is not app.state.own_studio:
        left.close()


def _fill(folder: Path, now: datetime, job: Job) -> None:
    """Let the virtual painter fill a folder; one that was stopped half way leaves nothing behind."""
    part = folder.with_name(f".{folder.name}.part")
    shutil.rmtree(part, ignore_errors=True)
    done = 0

    def tell(words: str) -> None:
        nonlocal done
        job.step(min(done, STEPS), STEPS, words)
        done += 1

    studio = open_studio(part)
    try:
        filled = fill_invented_studio(studio, now=now, tell=tell)
        prints = part / "charts"
        prints.mkdir()
        for chart, pdf in filled.prints:
            shutil.copyfile(pdf, prints / f"{chart.chart}.pdf")
    except BaseException:
        studio.close()
        shutil.rmtree(part, ignore_errors=True)
        raise
    studio.close()
    part.replace(folder)
