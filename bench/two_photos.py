"""Two photos of one painted page, glare and shadow elsewhere in each: what merging them gains, and its flag.

Eight pages on each camera by default. A reading is flagged where the photos differ by more than both radii
allow; the flag hits when the reading kept misses by more than its own radius.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.merge import DISAGREE, merge_reads
from halfpan.core.measuring.page import measure_page
from halfpan.core.measuring.target import find_target
from halfpan.demo.camera import photograph, simple_camera, simple_setting
from halfpan.demo.painter import any_paper, paint_sheet
from halfpan.demo.phone import phone_camera, phone_setting
from halfpan.demo.studio_paints import studio_films
from halfpan.errors import HalfpanError
from halfpan.files.photo.picture import open_pictures
from halfpan.files.target_colours import published_target
from virtual.pictures import print_page

FIRST_SEED = 5200
DPI = 200


def pair(seed: int, phone: bool):
    """Paint a page, photograph it twice and read both; None for a photo that was refused."""
    rng = np.random.default_rng([FIRST_SEED, int(phone), seed])
    chart, printed = print_page(seed, DPI)
    page = chart.pages[0]
    painted, truth = paint_sheet(chart, page, printed, studio_films(), rng=rng, dpi=DPI, paper=any_paper(rng))
    camera = phone_camera(rng) if phone else simple_camera(rng)
    sheet, target, reads = (chart.sheet.width_mm, chart.sheet.height_mm), published_target(), []
    for _ in range(2):
        setting = phone_setting(rng, hard=True) if phone else simple_setting(rng, hard=True)
        shot = photograph(painted, rng=rng, camera=camera, setting=setting, target=target)
        photo = open_pictures(shot.file, "the picture")[0].photo
        found = find_target(photo, target)
        try:
            reference = found.patches if found is not None else None
            reads.append(measure_page(photo, page, reference=reference, sheet=sheet))
        except HalfpanError:
            continue
    return truth, [box.box for box in page.boxes if truth.box(box.box) and truth.box(box.box).film], reads


def misses(read, truth) -> list:
    """Return (miss, radius, whether the photos disagree) of each masstone."""
    return [
        (
            float(delta_e_2000(np.array(r.lab), truth.zone(r.box, "masstone").lab)),
            r.within_delta_e00,
            DISAGREE in r.flags,
        )
        for r in read.readings
        if r.zone == "masstone" and truth.box(r.box) is not None and truth.box(r.box).film is not None
    ]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=8)
    parser.add_argument("--camera", choices=["simple", "phone"], default="simple")
    given = parser.parse_args()
    cv2.setNumThreads(1)
    alone, together, painted, pages = [], [], 0, 0
    for seed in range(given.seeds):
        truth, boxes, reads = pair(seed, given.camera == "phone")
        if len(reads) < 2:
            continue
        pages += 1
        painted += len(boxes)
        alone += [m for read in reads for m in misses(read, truth)]
        together += misses(merge_reads(reads), truth)
    one, both = (np.array(v, dtype=float) for v in (alone, together))
    bad, flagged = both[:, 0] > both[:, 1], both[:, 2] > 0
    shares = [100 * len(one) / (2 * painted), 100 * len(both) / painted]
    print("| camera | pages | boxes read: one photo | two | dE00 median / p90: one | two | covered by two |")
    print("|---|---|---|---|---|---|---|")
    print(
        f"| {given.camera} | {pages} | {shares[0]:.0f} % | {shares[1]:.0f} % | "
        f"{np.median(one[:, 0]):.2f} / {np.quantile(one[:, 0], 0.9):.2f} | "
        f"{np.median(both[:, 0]):.2f} / {np.quantile(both[:, 0], 0.9):.2f} | {100 * np.mean(~bad):.0f} % |"
    )
    hit = int((flagged & bad).sum())
    print(
        f"\npictures disagree: raised on {flagged.sum()} of {len(both)}, {hit} of them outside their radius"
    )
    print(f"outside their radius: {int(bad.sum())}, {hit} of them caught")


if __name__ == "__main__":
    main()
