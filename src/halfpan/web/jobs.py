"""Long work as a job: it has a name, says how far it is, and can be stopped.

One job works at a time, in a thread (the arithmetic releases the interpreter), the others wait in line. A job
that stops keeps what it has kept so far; one that fails says why and leaves the rest of the studio alone.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from secrets import token_hex
from typing import Any, Literal

from halfpan.errors import BadRequest, HalfpanError
from halfpan.files.words import say

State = Literal["waiting", "working", "done", "stopped", "failed"]
KEPT = 100


class Stopped(Exception):
    """The painter asked the job to stop."""


@dataclass(slots=True)
class Job:
    """One piece of long work. ``result`` is an address to go to once it is done."""

    id: str
    title: str
    state: State = "waiting"
    done: int = 0
    total: int = 0
    item: str = ""
    words: str = ""
    result: str = ""
    stop_asked: threading.Event = field(default_factory=threading.Event)

    def step(self, done: int, total: int, item: str = "") -> None:
        """Say how far the work is; called by the work itself, and the place where it can be stopped."""
        if self.stop_asked.is_set():
            raise Stopped
        self.done, self.total, self.item = done, total, item

    @property
    def over(self) -> bool:
        """Whether nothing more will happen."""
        return self.state in {"done", "stopped", "failed"}

    def document(self) -> dict[str, Any]:
        """Return the job as the JSON document of ``/api/jobs``."""
        return {
            "job": self.id,
            "title": self.title,
            "state": self.state,
            "done": self.done,
            "total": self.total,
            "item": self.item,
            "words": self.words,
            "result": self.result,
        }


class Jobs:
    """The jobs of one running page."""

    def __init__(self) -> None:
        self._jobs: dict[str, Job] = {}
        self._workers = ThreadPoolExecutor(max_workers=1, thread_name_prefix="halfpan-job")

    def start(self, title: str, work: Callable[[Job], str]) -> Job:
        """Queue ``work``, which is handed its job and returns the address of its result."""
        job = Job(token_hex(8), title)
        self._jobs[job.id] = job
        for old in [j.id for j in self._jobs.values() if j.over][: max(0, len(self._jobs) - KEPT)]:
            del self._jobs[old]
        self._workers.submit(_run, job, work)
        return job

    def find(self, job: str) -> Job:
        """Return a job by its id."""
        if job not in self._jobs:
            raise BadRequest(say("jobs.unknown"))
        return self._jobs[job]

    def stop(self, job: str) -> Job:
        """Ask a job to stop at its next step."""
        found = self.find(job)
        found.stop_asked.set()
        return found

    def close(self) -> None:
        """Stop everything, when the page closes."""
        for job in self._jobs.values():
            job.stop_asked.set()
        self._workers.shutdown(wait=True, cancel_futures=True)


def _run(job: Job, work: Callable[[Job], str]) -> None:
    try:
        job.step(0, job.total)
        job.state = "working"
        job.result = work(job)
        job.state = "done"
    except Stopped:
        job.state = "stopped"
        job.words = say("jobs.stopped")
    except HalfpanError as refusal:
        job.state = "failed"
        job.words = str(refusal)
    except Exception:  # a thread has nobody above it to tell
        job.state = "failed"
        job.words = say("jobs.bug")
        logging.getLogger(__name__).exception("the job “%s” failed", job.title)
