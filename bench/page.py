"""How quickly the page answers with 5,000 painted paints: the first time, after any change, and from then on.

Processor time of the server, since a bench shares its machine with others; the changes are made by another
program, so that the page has to find out. Run: python bench/page.py.
"""

from __future__ import annotations

import gc
import tempfile
import time
import warnings
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from statistics import median

import numpy as np

from halfpan.collection import changes, charts, page_reads, paints, swatches
from halfpan.collection.page_reads import PageRead
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.chart.sheet import Chart, Sheet
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.reading import Light, Swatch
from halfpan.demo.film import film_at
from halfpan.demo.studio_paints import studio_paints
from halfpan.studio.add_paints import add_paint
from halfpan.studio.correct_paint import correct_paint
from halfpan.studio.keep_finding import keep_finding
from halfpan.studio.studio import Studio, open_studio
from halfpan.studio.undo import undo
from halfpan.web.app import create_app
from halfpan.web.static import static_files

PAINTS, REPEATS = 5000, 7
ASKED = (
    "/paints", "/paints?view=table", "/paints?sort=name", "/api/paints/narrow?find=blue", "/paints/p77",
    "/paints?find=blue", "/charts", "/stock",
)  # fmt: skip
NOW = datetime(2026, 3, 1, tzinfo=UTC)
STRENGTHS = np.array([1.0, 0.12, 0.04, *np.geomspace(1.0, 0.04, 12)])


def fill(folder: Path) -> None:
    """Put 5,000 painted paints into a studio: the invented ones over and over, numbered."""
    own = studio_paints()
    chance = np.random.default_rng(3)
    studio = open_studio(folder)
    many = [
        replace(own[n % len(own)].paint, name=f"{own[n % len(own)].paint.name} {n // len(own) + 1}")
        for n in range(PAINTS)
    ]
    with studio.transaction() as db, changes.noted(db, "added the paints of the bench", now=NOW):
        ids = paints.add_all(db, many, now=NOW)
    with studio.transaction() as db, changes.noted(db, "read them", now=NOW):
        charts.add(db, Chart("BENCH2", "swatch", Sheet(210, 297), ()), now=NOW)
        number = page_reads.add(db, PageRead("BENCH2", 1, None, Light("paper"), (), "", NOW))
        films = [reflectance_to_lab(film_at(one.film, STRENGTHS, np.full(31, 0.86))) for one in own]
        kept = [
            box_of(f"A{n}", paint, films[n % len(own)] + chance.normal(0, 3, 3))
            for n, paint in enumerate(ids)
        ]
        swatches.add_all(db, [replace(one, chart="BENCH2", page_read=number) for one in kept])
    studio.close()


def box_of(box: str, paint: str, labs: np.ndarray) -> KeptSwatch:
    """Return an accepted box of one paint."""
    masstone, mid, tint, *path = (tuple(lab) for lab in labs.tolist())
    measures = Swatch(
        box, paint, "", masstone, mid, tint, 1.2, contrast_ratio=0.2, transparency="transparent",
        granulation=0.01, path=tuple(path),
    )  # fmt: skip
    return KeptSwatch(measures, NOW, state="accepted")


def doings(studio: Studio) -> list[Callable[[int], object]]:
    """Return what is done between two looks at the page."""
    seen = Finding("staining", "stains")
    return [
        lambda n: correct_paint(studio, f"p{n}", now=NOW, notes=f"note {n}"),
        lambda n: add_paint(studio, replace(studio_paints()[0].paint, name=f"New one {n}"), now=NOW),
        lambda n: keep_finding(studio, f"p{n}", seen, now=NOW),
        lambda n: undo(studio, now=NOW),  # noqa: ARG005
        lambda n: correct_paint(studio, f"p{n}", now=NOW, codes="PG7"),
    ]


def took(ask: Callable[[], object]) -> float:
    """Return the processor time of something in milliseconds."""
    start = time.process_time()
    ask()
    return 1000 * (time.process_time() - start)


def main() -> None:
    """Print the table."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from fastapi.testclient import TestClient
    with tempfile.TemporaryDirectory() as folder:
        fill(Path(folder) / "many")
        other = open_studio(Path(folder) / "many")
        gc.freeze()  # as `halfpan serve` does
        print(f"| {PAINTS:,} painted paints | first | after a change | worst of {REPEATS * 2} | then | KB |")
        print("|---|---|---|---|---|---|")
        for number, address in enumerate(ASKED):
            with TestClient(create_app(Path(folder) / "many"), base_url="http://127.0.0.1") as page:
                ask = partial(page.get, address)
                first = took(ask)
                then = median(took(ask) for _ in range(REPEATS))
                after = []
                for n in range(REPEATS * 2):
                    done = doings(other)
                    done[n % len(done)](100 * number + n + 1)
                    after.append(took(ask))
                answer = ask()
                assert answer.status_code == 200, answer.text
                size = len(answer.content) / 1000
            ms = f"{first:.0f} | {median(after):.0f} | {max(after):.0f} | {then:.0f}"
            print(f"| {address} | {ms} | {size:.0f} |")
        other.close()
    shown = ("css/ground.css", "css/controls.css", "css/wall.css", "js/frame.js", "js/wall.js")
    fonts = [name for name in static_files() if name.endswith("latin.woff2")]
    weight = sum(len(static_files()[name]) for name in (*shown, *fonts)) / 1000
    print(f"\nMilliseconds. Style, scripts and letters of the wall: {weight:.0f} KB")


if __name__ == "__main__":
    main()
