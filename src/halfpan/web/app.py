"""The page as an ASGI app. Making it opens nothing and starts nothing; serving it does."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import ExitStack, asynccontextmanager
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock

from fastapi import Depends, FastAPI, Request
from starlette.middleware.base import RequestResponseEndpoint
from starlette.responses import RedirectResponse, Response

import halfpan
from halfpan.studio.studio import open_studio
from halfpan.web.guard import LOOPBACK, UPLOAD_BYTES, Guard
from halfpan.web.jobs import Jobs
from halfpan.web.pairing import Pairing
from halfpan.web.pending import Pending
from halfpan.web.refusals import answer_refusals
from halfpan.web.routes import ROUTERS
from halfpan.web.same_site import require_token
from halfpan.web.walls import Walls

Clock = Callable[[], datetime]


def create_app(
    studio_folder: Path | None = None,
    *,
    read_only: bool = False,
    hosts: frozenset[str] = LOOPBACK,
    pairing_code: str | None = None,
    upload_bytes: int = UPLOAD_BYTES,
    clock: Clock = lambda: datetime.now(UTC),
) -> FastAPI:
    """Return the page over one studio.

    Parameters
    ----------
    studio_folder
        The studio; the painter's own one when left out. It is opened when the app starts up.
    read_only
        Refuse every change, and write nothing into the studio: pictures of boxes that are not cut yet are
        cut into a folder of their own, which goes when the page closes.
    hosts
        Host names the page answers to.
    pairing_code
        Let other devices in that type this code; none lets only this computer in.
    upload_bytes
        The largest upload.
    clock
        What time it is.
    """

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        with ExitStack() as beside:
            workings = Path(beside.enter_context(_beside())) if read_only else None
            app.state.studio = app.state.own_studio = open_studio(studio_folder, workings=workings)
            app.state.studio_name = app.state.studio.folder.name
            app.state.jobs = Jobs()
            yield
            app.state.jobs.close()
            app.state.studio.close()
            app.state.own_studio.close()

    app = FastAPI(
        title="Halfpan",
        version=halfpan.__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        dependencies=[Depends(require_token)],
        lifespan=lifespan,
    )
    app.state.read_only = read_only
    app.state.clock = clock
    app.state.pending = Pending()
    app.state.walls = Walls()
    app.state.cutting = Lock()  # one page at a time is cut into crops; the others wait for theirs
    app.state.pairing = Pairing(pairing_code) if pairing_code else None
    for router in ROUTERS:
        app.include_router(router)
    answer_refusals(app)
    app.middleware("http")(_only_paired)
    app.add_middleware(Guard, hosts=hosts, read_only=read_only, upload_bytes=upload_bytes)
    return app


def _beside() -> TemporaryDirectory[str]:
    return TemporaryDirectory(prefix="halfpan-", ignore_cleanup_errors=True)


async def _only_paired(request: Request, answer: RequestResponseEndpoint) -> Response:
    """On the network, send a device that has not typed the code to the page that asks for it."""
    pairing: Pairing | None = request.app.state.pairing
    path = request.url.path
    if pairing is None or pairing.let_in(request) or path == "/pair" or path.startswith("/static/"):
        return await answer(request)
    return RedirectResponse("/pair", 303)
