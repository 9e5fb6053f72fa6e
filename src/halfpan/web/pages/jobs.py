"""Long work: how far it is, and a way to stop it."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from halfpan.web.asked import AskedJobs
from halfpan.web.frame import show

router = APIRouter()


@router.get("/jobs/{job}", include_in_schema=False)
def job_page(request: Request, job: str, jobs: AskedJobs) -> Response:
    """Show one job, or what came of it."""
    found = jobs.find(job)
    if found.state == "done":
        return RedirectResponse(found.result, 303)
    return show(request, "job.html", {"job": found})


@router.post("/jobs/{job}/stop", include_in_schema=False)
def stop_job(job: str, jobs: AskedJobs) -> Response:
    """Ask a job to stop."""
    jobs.stop(job)
    return RedirectResponse(f"/jobs/{job}", 303)


@router.get("/api/jobs/{job}", tags=["jobs"])
def job_document(job: str, jobs: AskedJobs) -> dict[str, Any]:
    """Say how far a job is."""
    return jobs.find(job).document()
