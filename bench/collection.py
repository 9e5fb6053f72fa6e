"""How long a studio of 5,000 painted paints takes to add to, to open and to ask.

Processor time, since a bench shares its machine with others. Each question is asked by a program that has
read nothing yet, and again by one that runs on and remembers what it read. Run: python bench/collection.py.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from halfpan.collection import changes, charts, paints, readings, swatches
from halfpan.collection.readings import KeptReading
from halfpan.collection.swatches import KeptSwatch
from halfpan.core.chart.sheet import Chart, Sheet
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Reading, Swatch
from halfpan.demo.film import film_at
from halfpan.demo.studio_paints import studio_paints
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints, preview_list
from halfpan.studio.check_labels import check_labels
from halfpan.studio.class_list import class_list
from halfpan.studio.compare_ranges import compare_ranges
from halfpan.studio.correct_paint import correct_paint
from halfpan.studio.export_paints import export_paints
from halfpan.studio.find_alike import find_alike, find_alike_to
from halfpan.studio.list_cautions import list_cautions
from halfpan.studio.list_paints import list_paints
from halfpan.studio.name_paint import name_paint
from halfpan.studio.order_paints import order_paints, place_paint
from halfpan.studio.own_paint import own_paint
from halfpan.studio.see_paint import see_paint
from halfpan.studio.see_wall import see_wall
from halfpan.studio.show_paint import show_paint
from halfpan.studio.show_pigment import show_pigment
from halfpan.studio.stock import list_stock
from halfpan.studio.studio import Studio, open_studio
from halfpan.studio.substitute_paint import substitute_paint
from halfpan.studio.undo import latest_changes, undo
from halfpan.studio.wish import list_wishes, wish_for

PAINTS, REPEATS = 5000, 2
NOW = datetime(2026, 3, 1, tzinfo=UTC)
SAMPLE = "Colour 77"
STRENGTHS = np.array([1.0, 0.12, 0.04, *np.geomspace(1.0, 0.04, 12)])


def paint_list(count: int) -> str:
    """Return a list of invented paints with headings."""
    chance = np.random.default_rng(1)
    own = studio_paints()
    lines = ["maker,range,name,codes,form,size,price"]
    for i in range(count):
        codes = " ".join(own[i % len(own)].paint.codes)
        lines.append(f"Maker {i % 40},Range {i % 7},Colour {i},{codes},tube,15,{chance.uniform(4, 30):.2f}")
    return "\n".join(lines)


def paint_all(studio: Studio) -> None:
    """Give every paint one swatch and three readings, as a chart of it would."""
    chance = np.random.default_rng(2)
    films = [reflectance_to_lab(film_at(one.film, STRENGTHS, np.full(31, 0.86))) for one in studio_paints()]
    with studio.transaction() as db, changes.noted(db, "read charts of them all", now=NOW):
        charts.add(db, Chart("BENCH2", "swatch", Sheet(210, 297), ()), now=NOW)
        told, read = [], []
        for i, paint in enumerate(paints.listed(db)):
            labs = films[i % len(films)] + chance.normal(0, [4.0, 6.0, 6.0], 3)
            masstone, mid, tint, *path = (tuple(lab) for lab in labs.tolist())
            swatch = Swatch(
                f"A{i}", paint.id, paint.name, masstone, mid, tint, 1.2, contrast_ratio=0.2,
                transparency="transparent", granulation=0.01, path=tuple(path),
            )  # fmt: skip
            told.append(KeptSwatch(swatch, NOW, chart="BENCH2", state="accepted"))
            for zone, lab in (("masstone", masstone), ("mid", mid), ("tint", tint)):
                one = Reading(f"A{i}", paint.id, zone, lab, 1.0, "paper", state="accepted")
                read.append(KeptReading(one, NOW, chart="BENCH2"))
        swatches.add_all(db, told)
        readings.add_all(db, read)


def wish(studio: Studio) -> None:
    """Put twenty wishes beside them."""
    for i, one in enumerate(studio_paints()[:20]):
        wanted = Paint("", "Old Quarry", "Wished", f"{one.paint.name} wished", one.paint.codes)
        wish_for(studio, wanted, f"reason {i}", now=NOW)


def took(ask: Callable[..., object], *given: object) -> float:
    """Return the processor time of something, in seconds."""
    start = time.process_time()
    ask(*given)
    return time.process_time() - start


def say(what: str, limit_s: float, *seconds: float) -> None:
    """Print how long something took beside how long it may."""
    times = " | ".join(f"{one:.3f}" for one in seconds) + (" |" if len(seconds) == 1 else "")
    print(f"| {what} | {times} | {limit_s:g} | {'yes' if max(seconds) <= limit_s else 'NO'} |", flush=True)


def main() -> None:
    """Print the table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else PAINTS
    text = paint_list(count)
    print(f"{count} paints\n\n| what | first, s | then, s | may take | kept |\n|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        say("make a new studio", 2, took(lambda: open_studio(folder / "studio").close()))
        studio = open_studio(folder / "studio")
        say("add the list", 5, took(lambda: add_paints(studio, parse_table(text), now=NOW)))
        paint_all(studio)
        wish(studio)
        studio.close()
        say("open the studio", 0.5, took(lambda: open_studio(folder / "studio").close()))
        for what, limit_s, ask in questions(text, folder):
            say(what, limit_s, *asked(folder / "studio", ask))
        studio = open_studio(folder / "studio")
        for what, do in doings():
            say(what, 0.5, took(do, studio))
        say("undo the adding", 5, took(lambda: undo(studio, 1, now=NOW)))
        studio.close()


def asked(folder: Path, ask: Callable[[Studio], object]) -> tuple[float, float]:
    """Return how long a question takes a program that has read nothing yet, and one that runs on."""
    first, then = [], []
    for _ in range(REPEATS):
        studio = open_studio(folder)
        first.append(took(ask, studio))
        then.append(took(ask, studio))
        studio.close()
    return min(first), min(then)


def questions(text: str, folder: Path) -> list[tuple[str, float, Callable[[Studio], object]]]:
    """Return what is asked of a full studio, and how many seconds each may take."""
    return [
        ("list all", 0.5, list_paints),
        ("find words", 0.5, lambda s: list_paints(s, "maker 12 pv19")),
        ("one paint by name", 0.5, lambda s: show_paint(s, SAMPLE)),
        ("who contains PB29", 0.5, lambda s: show_pigment(s, "PB29")),
        ("do I own it, by codes", 0.5, lambda s: own_paint(s, "PB29 PV19")),
        ("do I own it, by name and look", 0.5, lambda s: own_paint(s, SAMPLE)),
        ("the order, with odd neighbours", 0.5, order_paints),
        ("the place of a paint, with its repaints", 0.5, lambda s: place_paint(s, SAMPLE)),
        ("one range", 0.5, lambda s: compare_ranges(s, "Maker 1")),
        ("two ranges side by side", 0.5, lambda s: compare_ranges(s, "Maker 1", "Maker 2")),
        ("what is this", 0.5, lambda s: name_paint(s, SAMPLE)),
        ("what looks like it", 0.5, lambda s: find_alike_to(s, SAMPLE)),
        ("what could replace it", 0.5, lambda s: substitute_paint(s, SAMPLE)),
        ("labels checked", 0.5, check_labels),
        ("cautions of all", 0.5, list_cautions),
        ("class list", 0.5, lambda s: class_list(s, ["PB29", "PY150"])),
        ("wishes, with what covers them", 0.5, list_wishes),
        ("stock", 0.5, list_stock),
        ("history", 0.5, latest_changes),
        ("the wall", 0.5, see_wall),
        ("the page of a paint", 0.5, lambda s: see_paint(s, "p77")),
        ("readings that count", 0.5, lambda s: _looked(s, readings.counting)),
        ("export a csv", 0.5, lambda s: export_paints(s, folder / "list.csv")),
        ("all duplicates and look-alikes", 2, find_alike),
        ("the whole collection at a glance", 2, lambda s: compare_ranges(s, "all")),
        ("preview the same list again", 5, lambda s: preview_list(s, parse_table(text))),
        ("export a workbook", 5, lambda s: export_paints(s, folder / "list.xlsx")),
    ]


def doings() -> list[tuple[str, Callable[[Studio], object]]]:
    """Return what is done to a full studio."""
    return [
        ("write a note", lambda s: correct_paint(s, "p77", now=NOW, notes="a note")),
        ("undo it", lambda s: undo(s, now=NOW)),
    ]


def _looked(studio: Studio, question: Callable[..., object]) -> object:
    with studio.look() as db:
        return question(db)


if __name__ == "__main__":
    main()
