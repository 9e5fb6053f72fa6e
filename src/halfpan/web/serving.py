"""Serving the page: which address it is bound to, and what is said about it."""

from __future__ import annotations

import gc
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from halfpan.errors import StudioTrouble
from halfpan.files.words import say
from halfpan.web.app import create_app
from halfpan.web.guard import LOOPBACK
from halfpan.web.pairing import new_code


@dataclass(frozen=True, slots=True)
class Serving:
    """How the page is to be served."""

    studio_folder: Path | None = None
    port: int = 8330
    read_only: bool = False
    on_network: bool = False
    browser: bool = True


def serve_page(wish: Serving, *, tell: Callable[[str], None]) -> None:
    """Serve the page until it is stopped, and say where it is.

    Raises
    ------
    StudioTrouble
        When the port is taken.
    """
    listening = _listen("0.0.0.0" if wish.on_network else "127.0.0.1", wish.port)  # noqa: S104 (asked for)
    port = listening.getsockname()[1]
    code = new_code() if wish.on_network else None
    names = network_names() if wish.on_network else frozenset()
    app = create_app(wish.studio_folder, read_only=wish.read_only, hosts=LOOPBACK | names, pairing_code=code)
    gc.collect()
    gc.freeze()  # the program itself need not be looked through for rubbish in the middle of an answer
    tell(say("serve.here", address=f"http://127.0.0.1:{port}"))
    if code:
        addresses = ", ".join(f"http://{name}:{port}" for name in sorted(names - LOOPBACK))
        may = say("serve.may_see" if wish.read_only else "serve.may_change")
        tell(say("serve.network", addresses=addresses or say("serve.no_network"), may=may, code=code))
    if wish.browser:
        threading.Timer(0.8, webbrowser.open, [f"http://127.0.0.1:{port}"]).start()
    config = uvicorn.Config(app, log_level="warning", server_header=False, proxy_headers=False)
    uvicorn.Server(config).run(sockets=[listening])


def network_names() -> frozenset[str]:
    """Return the names and numbers by which other devices reach this computer."""
    name = socket.gethostname()
    found = {name, f"{name}.local"}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # a documentation address (RFC 5737): nothing is sent to it
            found.add(probe.getsockname()[0])
        except OSError:
            pass
    return frozenset(found)


def _listen(address: str, port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((address, port))
        listening.listen(128)
    except OSError as trouble:
        listening.close()
        raise StudioTrouble(say("serve.port", port=port)) from trouble
    return listening
