"""Pictures that went wrong: none may crash the reader or give a box another's colour.

Forty pictures by default; docs/science/reading.md gives the figures of ``--count 400``. A picture is kept in
``out/spoilt`` once it was taken, and what became of it beside it, so that a long run can be done in parts:
``--table`` shows all that was done.
"""

from __future__ import annotations

import argparse
import pickle
import re
import sys
import traceback
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.boxes import read_boxes
from halfpan.core.measuring.flatten import to_picture
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import respond, see_page
from halfpan.demo.camera import photograph
from halfpan.demo.faults import faulty_picture
from halfpan.demo.painter import paint_sheet
from halfpan.demo.studio_paints import studio_films
from halfpan.errors import HalfpanError
from halfpan.files.photo.picture import open_pictures
from virtual.pictures import print_page

OUT = Path(__file__).resolve().parent / "out" / "spoilt"
FIRST_SEED = 9100
DPI = 200
WRONG_MM = 4.0


@dataclass
class Outcome:
    """What became of one picture: refused with a reason, or the misses and radii of its masstones."""

    faults: tuple
    refused: str | None = None
    crashed: bool = False
    misplaced: int = 0
    entries: list = field(default_factory=list)
    unread: list = field(default_factory=list)


def take(seed: int):
    """Return one spoilt picture, taken now or kept from before: faults, shot, chart and truth."""
    path = OUT / f"{seed:03d}.pickle"
    if path.exists():
        return pickle.loads(path.read_bytes())
    rng = np.random.default_rng([FIRST_SEED, seed])
    chart, picture = print_page(seed % 12, DPI)
    painted, truth = paint_sheet(chart, chart.pages[0], picture, studio_films(), rng=rng, dpi=DPI)
    faults, camera, setting = faulty_picture(rng)
    taken = faults, photograph(painted, rng=rng, camera=camera, setting=setting), chart, truth
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(pickle.dumps(taken))
    return taken


def read(seed: int) -> Outcome:
    """Take and read one spoilt picture."""
    faults, shot, chart, truth = take(seed)
    page = chart.pages[0]
    photo = open_pictures(shot.file, "the picture")[0].photo
    sheet = (chart.sheet.width_mm, chart.sheet.height_mm)
    try:
        located = locate(photo)
        seen = see_page(photo, page, located=located, sheet=sheet)
        read = read_boxes(seen, page, respond(seen, page))
    except HalfpanError as refusal:
        return Outcome(faults, str(refusal))
    unread = [one.reason for one in read.unread]
    given = {reading.box for reading in read.readings}
    rects = [z.rect for b in page.boxes if b.box in given for z in b.zones]
    if not rects:
        return Outcome(faults, "Nothing could be read.", unread=unread)
    middles = np.array([(r.x + r.width / 2, r.y + r.height / 2) for r in rects])
    off = np.linalg.norm(to_picture(seen.flattening, middles) - shot.view.place(middles), axis=1)
    misplaced = int((off / seen.flattening.pixels_per_mm > WRONG_MM).sum())
    misplaced += located.chart not in {None, chart.chart}
    entries = []
    for reading in read.readings:
        box = truth.box(reading.box)
        if reading.zone == "masstone" and box is not None and box.film is not None:
            lab = truth.zone(reading.box, "masstone").lab
            miss = float(delta_e_2000(np.array(reading.lab), lab))
            entries.append((miss, reading.within_delta_e00, reading.flags))
    return Outcome(faults, misplaced=misplaced, entries=entries, unread=unread)


def of_any_box(reason: str) -> str:
    """Return a reason for a box unread without the box's name, so that like ones can be counted."""
    return re.sub(r" box \S+\.$", " a box.", reason)


def tell(outcomes: dict) -> None:
    """Print the tables of some outcomes."""
    done = [one for one in outcomes.values() if not one.crashed]
    entries = np.array([e[:2] for one in done for e in one.entries])
    lost = [one for one in done if one.refused]
    wrong = sum(one.misplaced for one in done)
    print("| pictures | crashed | refused | zones in the wrong place | dE00 median / p90 | covered |")
    print("|---|---|---|---|---|---|")
    print(
        f"| {len(outcomes)} | {len(outcomes) - len(done)} | "
        f"{len(lost)} ({100 * len(lost) / max(len(done), 1):.0f} %) | {wrong} | "
        f"{np.median(entries[:, 0]):.1f} / {np.quantile(entries[:, 0], 0.9):.1f} | "
        f"{100 * np.mean(entries[:, 0] <= entries[:, 1]):.0f} % |"
    )
    tried = Counter(f for one in done for f in one.faults)
    refused = Counter(f for one in lost for f in one.faults)
    print("\n| fault | pictures | refused |\n|---|---|---|")
    for fault, count in sorted(tried.items(), key=lambda item: -refused[item[0]] / item[1]):
        print(f"| {fault} | {count} | {refused[fault]} |")
    print("\n| reason | pictures | their faults |\n|---|---|---|")
    for reason, count in Counter(one.refused for one in lost).most_common():
        theirs = Counter(f for one in lost if one.refused == reason for f in one.faults).most_common(4)
        print(f"| {reason} | {count} | {', '.join(f'{f} {n}' for f, n in theirs)} |")
    print("\n| reason for a box unread | boxes |\n|---|---|")
    for reason, count in Counter(of_any_box(r) for o in done for r in o.unread).most_common():
        print(f"| {reason} | {count} |")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--only-take", action="store_true", help="take the pictures and read nothing")
    parser.add_argument("--table", action="store_true", help="show all that was done so far, read nothing")
    given = parser.parse_args()
    cv2.setNumThreads(1)
    path = OUT / "outcomes.pickle"
    kept = pickle.loads(path.read_bytes()) if path.exists() else {}
    if given.table:
        tell(dict(sorted(kept.items())))
        return
    now = {}
    for seed in range(given.first, given.first + given.count):
        if given.only_take:
            take(seed)
            continue
        try:
            now[seed] = read(seed)
        except Exception:  # noqa: BLE001 -- a crash is what is being counted
            now[seed] = Outcome((), crashed=True)
            traceback.print_exc()
        if now[seed].refused or now[seed].misplaced:
            print(f"    {seed} {'+'.join(now[seed].faults)}: {now[seed].refused or 'zones out of place'}")
    if now:
        path.write_bytes(pickle.dumps(kept | now))
        tell(now)


if __name__ == "__main__":
    main()
