"""Pictures that went wrong: none may crash the reader or give a box another's colour.

Forty pictures by default; docs/science/reading.md gives the figures of ``--count 400``.
"""

from __future__ import annotations

import argparse
import sys
import traceback
from collections import Counter
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

OUT = Path(__file__).resolve().parent / "out"
FIRST_SEED = 9100
DPI = 200
WRONG_MM = 4.0


def one(seed: int):
    """Take and read one spoilt picture: its faults, what became of it, and the misses of its masstones."""
    rng = np.random.default_rng([FIRST_SEED, seed])
    chart, picture = print_page(seed % 12, DPI)
    page = chart.pages[0]
    painted, truth = paint_sheet(chart, page, picture, studio_films(), rng=rng, dpi=DPI)
    faults, camera, setting = faulty_picture(rng)
    shot = photograph(painted, rng=rng, camera=camera, setting=setting)
    photo = open_pictures(shot.file, "the picture")[0].photo
    sheet = (chart.sheet.width_mm, chart.sheet.height_mm)
    try:
        located = locate(photo)
        seen = see_page(photo, page, located=located, sheet=sheet)
        read = read_boxes(seen, page, respond(seen, page))
    except HalfpanError as refusal:
        return faults, str(refusal), [], 0
    given = {reading.box for reading in read.readings}
    rects = [z.rect for b in page.boxes if b.box in given for z in b.zones]
    if not rects:
        return faults, "Nothing could be read.", [], 0
    middles = np.array([(r.x + r.width / 2, r.y + r.height / 2) for r in rects])
    off = np.linalg.norm(to_picture(seen.flattening, middles) - shot.view.place(middles), axis=1)
    wrong = int((off / seen.flattening.pixels_per_mm > WRONG_MM).sum())
    wrong += located.chart not in {None, chart.chart}
    misses = []
    for reading in read.readings:
        box = truth.box(reading.box)
        if reading.zone == "masstone" and box is not None and box.film is not None:
            lab = truth.zone(reading.box, "masstone").lab
            miss = float(delta_e_2000(np.array(reading.lab), lab))
            misses.append((miss, reading.within_delta_e00, reading.flags))
    return faults, None, misses, wrong


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args()
    cv2.setNumThreads(1)
    reasons: Counter = Counter()
    tried: Counter = Counter()
    refused: Counter = Counter()
    crashed = wrong = 0
    entries = []
    for seed in range(given.first, given.first + given.count):
        try:
            faults, reason, misses, off = one(seed)
        except Exception:  # noqa: BLE001 -- a crash is what is being counted
            crashed += 1
            traceback.print_exc()
            continue
        tried.update(faults)
        wrong += off
        if off:
            print(f"    {seed} {'+'.join(faults)}: {off} zones out of place")
        entries += misses
        if reason is not None:
            refused.update(faults)
            reasons[reason] += 1
            print(f"    {seed} {'+'.join(faults)}: {reason}")
    misses = np.array([e[0] for e in entries])
    radii = np.array([e[1] for e in entries])
    done = given.count - crashed
    print("| pictures | crashed | refused | zones in the wrong place | dE00 median / p90 | covered |")
    print("|---|---|---|---|---|---|")
    lost = sum(reasons.values())
    print(
        f"| {given.count} | {crashed} | {lost} ({100 * lost / max(done, 1):.0f} %) | {wrong} | "
        f"{np.median(misses):.1f} / {np.quantile(misses, 0.9):.1f} | {100 * np.mean(misses <= radii):.0f} % |"
    )
    print("\n| fault | pictures | refused |\n|---|---|---|")
    for fault, count in sorted(tried.items()):
        print(f"| {fault} | {count} | {refused[fault]} |")


if __name__ == "__main__":
    main()
