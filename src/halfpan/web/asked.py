"""What a route asks of the running page: its studio, its clock, its jobs."""

from __future__ import annotations

from datetime import datetime
from threading import Lock
from typing import Annotated

from fastapi import Depends, Request

from halfpan.studio.see_wall import WallPaint
from halfpan.studio.studio import Studio
from halfpan.web.jobs import Jobs
from halfpan.web.pending import Pending
from halfpan.web.walls import Walls


def _studio(request: Request) -> Studio:
    studio: Studio = request.app.state.studio
    return studio


def _now(request: Request) -> datetime:
    now: datetime = request.app.state.clock()
    return now


def _jobs(request: Request) -> Jobs:
    jobs: Jobs = request.app.state.jobs
    return jobs


def _pending(request: Request) -> Pending:
    pending: Pending = request.app.state.pending
    return pending


def _wall(request: Request) -> tuple[WallPaint, ...]:
    walls: Walls = request.app.state.walls
    return walls.see(request.app.state.studio)


def _cutting(request: Request) -> Lock:
    lock: Lock = request.app.state.cutting
    return lock


AskedCutting = Annotated[Lock, Depends(_cutting)]
AskedWall = Annotated[tuple[WallPaint, ...], Depends(_wall)]
AskedPending = Annotated[Pending, Depends(_pending)]
AskedStudio = Annotated[Studio, Depends(_studio)]
AskedNow = Annotated[datetime, Depends(_now)]
AskedJobs = Annotated[Jobs, Depends(_jobs)]
