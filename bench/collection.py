"""How long a studio of 5,000 paints takes to add to, to open and to ask; run: python bench/collection.py."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from halfpan.collection import paints, readings, swatches
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.paint.reading import Reading, Swatch
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.export_paints import export_paints
from halfpan.studio.find_paint import find_paint
from halfpan.studio.list_paints import list_paints
from halfpan.studio.painted_paints import painted_paints
from halfpan.studio.studio import Studio, open_studio
from halfpan.studio.undo import undo

PAINTS = 5000
NOW = datetime(2026, 3, 1, tzinfo=UTC)
CODES = ("PB29", "PY150", "PR101", "PG7", "PV19", "PBk9", "PO62", "PBr7")


def paint_list(count: int) -> str:
    """Return a list of invented paints with headings."""
    chance = np.random.default_rng(1)
    lines = ["maker,range,name,codes,form,size,price"]
    for i in range(count):
        codes = " ".join(chance.choice(CODES, size=chance.integers(1, 4), replace=False))
        lines.append(f"Maker {i % 40},Range {i % 7},Colour {i},{codes},tube,15,{chance.uniform(4, 30):.2f}")
    return "\n".join(lines)


def paint_all(studio: Studio) -> None:
    """Give every paint one swatch and three readings."""
    chance = np.random.default_rng(2)
    with studio.transaction() as db:
        for paint in paints.listed(db):
            L, a, b = chance.uniform((20, -60, -60), (90, 60, 60))
            lab = (float(L), float(a), float(b))
            swatch = Swatch("", paint.id, paint.name, masstone=lab, mid=lab, tint=lab, path=(lab,) * 12)
            swatches.add_all(db, [KeptSwatch(swatch, NOW, state="accepted")])
            reading = Reading("", paint.id, "masstone", lab, 1.0, "paper", state="accepted")
            kept = KeptReading(reading, NOW)
            zones = ("masstone", "mid", "tint")
            readings.add_all(db, [replace(kept, reading=replace(reading, zone=zone)) for zone in zones])


@contextmanager
def timed(what: str, limit_s: float) -> Iterator[None]:
    """Print how long something took beside how long it may."""
    start = time.perf_counter()
    yield
    took = time.perf_counter() - start
    print(f"| {what} | {took:.3f} | {limit_s:g} | {'yes' if took <= limit_s else 'NO'} |", flush=True)


def main() -> None:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PAINTS
    text = paint_list(count)
    print(f"{count} paints\n\n| what | seconds | may take | kept |\n|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        with timed("make a new studio", 2):
            studio = open_studio(Path(folder) / "studio")
        with timed("add the list", 5):
            add_paints(studio, parse_table(text), now=NOW)
        paint_all(studio)
        studio.close()
        with timed("open the studio", 0.5):
            studio = open_studio(Path(folder) / "studio")
        for what, ask in questions(studio, text, Path(folder)):
            with timed(what, 5 if "same list" in what or "workbook" in what else 0.5):
                ask()
        with timed("undo the adding", 5):
            undo(studio, now=NOW)
        studio.close()


def questions(studio: Studio, text: str, folder: Path) -> list[tuple[str, Callable[[], object]]]:
    """Return what is asked of a full studio."""

    def ask(question: Callable[..., object], *given: object) -> Callable[[], object]:
        def asked() -> object:
            with studio.look() as db:
                return question(db, *given)

        return asked

    return [
        ("list all", lambda: list_paints(studio)),
        ("find words", lambda: list_paints(studio, "maker 12 pv19")),
        ("find one by name", ask(find_paint, "Colour 4321" if text.count("\n") > 4321 else "Colour 1")),
        ("who contains PB29", ask(paints.containing, "PB29")),
        ("all with their swatches", ask(painted_paints)),
        ("readings that count", ask(readings.counting)),
        ("preview the same list again", lambda: preview_list(studio, parse_table(text))),
        ("export a csv", lambda: export_paints(studio, folder / "list.csv")),
        ("export a workbook", lambda: export_paints(studio, folder / "list.xlsx")),
    ]


if __name__ == "__main__":
    main()
