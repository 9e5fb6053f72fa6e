"""How quickly the page answers with 5,000 paints: the first time after a change, and from then on.

Figures of one run on one machine; the ratio of the two and the sizes are what carries over.
"""

from __future__ import annotations

import tempfile
import time
import warnings
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from halfpan.collection import changes, paints
from halfpan.demo.studio_paints import studio_paints
from halfpan.studio.studio import open_studio
from halfpan.web.app import create_app
from halfpan.web.static import static_files

PAINTS, REPEATS = 5000, 7
ASKED = ("/paints", "/paints?view=table", "/api/paints/narrow?find=blue", "/paints/p77", "/charts")


def fill(folder: Path) -> None:
    """Put 5,000 paints into a studio: the invented ones over and over, numbered."""
    own = [one.paint for one in studio_paints()]
    many = [
        replace(own[n % len(own)], name=f"{own[n % len(own)].name} {n // len(own) + 1}")
        for n in range(PAINTS)
    ]
    studio = open_studio(folder)
    now = datetime.now(UTC)
    with studio.transaction() as db, changes.noted(db, "added the paints of the bench", now=now):
        paints.add_all(db, many, now=now)
    studio.close()


def main() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from fastapi.testclient import TestClient
    with tempfile.TemporaryDirectory() as folder:
        fill(Path(folder) / "many")
        with TestClient(create_app(Path(folder) / "many"), base_url="http://127.0.0.1") as page:
            print(f"| {PAINTS:,} paints | first, ms | then (median of {REPEATS}), ms | KB |")
            print("|---|---|---|---|")
            for address in ASKED:
                times = []
                for _ in range(REPEATS + 1):
                    start = time.perf_counter()
                    answer = page.get(address)
                    times.append(1000 * (time.perf_counter() - start))
                then = sorted(times[1:])[REPEATS // 2]
                print(f"| {address} | {times[0]:.0f} | {then:.0f} | {len(answer.content) / 1000:.0f} |")
    shown = ("css/ground.css", "css/controls.css", "css/wall.css", "js/frame.js", "js/wall.js")
    fonts = [name for name in static_files() if name.endswith("latin.woff2")]
    weight = sum(len(static_files()[name]) for name in (*shown, *fonts)) / 1000
    print(f"\nStyle, scripts and letters of the wall: {weight:.0f} KB")


if __name__ == "__main__":
    main()
