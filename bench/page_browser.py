"""What a browser does with 5,000 painted paints: the longest task while it loads, scrolls and finds.

A task that takes long holds up the scrolling hand. Processor time of Chromium's main thread, since a bench
shares its machine with others; the pictures are a plain one, so that drawing them is not measured.
Run: python bench/page_browser.py.
"""

from __future__ import annotations

import socket
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import uvicorn
from playwright.sync_api import Page, sync_playwright

from halfpan.web.app import create_app
from page import PAINTS, fill

CHROMIUM = Path("/usr/bin/chromium")
PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="212" height="318"><rect width="212" height="318"/></svg>'
)
WATCHED = ["toplevel", "disabled-by-default-devtools.timeline", "__metadata"]


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve a studio on a port of its own."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(create_app(folder), log_level="warning"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=10)


def longest_task(page: Page, act: Callable[[], object]) -> float:
    """Return the longest task of the page's main thread during an act, in milliseconds of processor time."""
    session = page.context.browser.new_browser_cdp_session()  # type: ignore[union-attr]
    events: list[dict[str, Any]] = []
    done = threading.Event()
    session.on("Tracing.dataCollected", lambda piece: events.extend(piece["value"]))
    session.on("Tracing.tracingComplete", lambda _: done.set())
    session.send(
        "Tracing.start",
        {"transferMode": "ReportEvents", "traceConfig": {"includedCategories": WATCHED}},
    )
    act()
    session.send("Tracing.end")
    while not done.is_set():
        page.wait_for_timeout(50)
    session.detach()
    main = {
        (one["pid"], one["tid"])
        for one in events
        if one.get("name") == "thread_name" and one["args"].get("name") == "CrRendererMain"
    }
    tasks = [
        one["tdur"] / 1000
        for one in events
        if one.get("ph") == "X"
        and "RunTask" in one["name"]
        and (one["pid"], one["tid"]) in main
        and "tdur" in one
    ]
    return max(tasks, default=0.0)


def scroll(page: Page) -> None:
    """Scroll through twenty-five screens, then far down at once."""
    for _ in range(25):
        page.evaluate("scrollBy(0, 700)")
        page.wait_for_timeout(30)
    page.evaluate("scrollTo(0, document.documentElement.scrollHeight / 2)")
    page.wait_for_timeout(500)


def find(page: Page) -> None:
    """Type four letters into the search."""
    page.locator("input[type=search]").focus()
    page.keyboard.type("blue")
    page.wait_for_timeout(1500)


def main() -> None:
    """Print the table."""
    if not CHROMIUM.exists():
        print("Chromium is not installed, so nothing was measured.")
        return
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        fill(Path(folder) / "many")
        browser = driver.chromium.launch(
            executable_path=str(CHROMIUM), args=["--no-sandbox", "--disable-gpu"]
        )
        print(f"| {PAINTS:,} painted paints | loading | scrolling | finding |\n|---|---|---|---|")
        with served(Path(folder) / "many") as url:
            for view in ("wall", "table"):
                page = browser.new_page(viewport={"width": 1440, "height": 900})
                page.route(
                    "**/crops/**", lambda asked: asked.fulfill(content_type="image/svg+xml", body=PICTURE)
                )
                address = f"{url}/paints?view={view}"
                page.goto(address)
                spans = [
                    longest_task(
                        page, lambda page=page, address=address: page.goto(address, timeout=120_000)
                    ),
                    longest_task(page, lambda page=page: scroll(page)),
                    longest_task(page, lambda page=page: find(page)),
                ]
                print(f"| {view} | {' | '.join(f'{span:.0f}' for span in spans)} |", flush=True)
                page.close()
        browser.close()
    print("\nMilliseconds of processor time of the longest task.")


if __name__ == "__main__":
    main()
