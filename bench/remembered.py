"""A scanner that was once seen with known colours: how well it reads later sheets from paper alone.

Each seed is another odd scanner. It scans one sheet whose boxes are known, and then another sheet, which is
read twice: from paper alone, and from paper with the scanner remembered.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import outside_srgb
from halfpan.core.measuring.page import measure_page, respond, see_page
from halfpan.demo.painter import any_paper, paint_sheet
from halfpan.demo.scanner import odd_scanner, scan
from halfpan.demo.studio_paints import studio_films
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo.picture import open_pictures
from virtual.pictures import DPI, print_page

FIRST_SEED = 7300


def scanned(seed: int, scanner, rng):
    """Print, paint and scan one sheet: its picture, page and truth."""
    chart, picture = print_page(seed, DPI)
    painted, truth = paint_sheet(
        chart, chart.pages[0], picture, studio_films(), rng=rng, dpi=DPI, paper=any_paper(rng)
    )
    shot = scan(painted, rng=rng, scanner=scanner)
    known = {
        b.box: tuple(truth.zone(b.box, "masstone").lab)
        for b in truth.boxes
        if b.film is not None and float(outside_srgb(truth.zone(b.box, "masstone").lab)) == 0
    }
    return open_pictures(shot.file, "the scan")[0].photo, chart.pages[0], known


def misses(read, known):
    """Miss and radius of each masstone that is known."""
    seen = [r for r in read.readings if r.zone == "masstone" and r.box in known]
    return [(float(delta_e_2000(np.array(r.lab), np.array(known[r.box]))), r.within_delta_e00) for r in seen]


def score(seed: int, scanner, rng, rows) -> None:
    """Remember a scanner by one sheet and read the next one with and without that."""
    photo, page, known = scanned(seed, scanner, rng)
    device = respond(see_page(photo, page), page, reference=known)
    photo, page, known = scanned(seed + 1, scanner, rng)
    rows["paper alone"] += misses(measure_page(photo, page), known)
    rows["paper, scanner remembered"] += misses(measure_page(photo, page, device=device), known)
    rows["every box known (the most there is)"] += misses(measure_page(photo, page, reference=known), known)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=3)
    given = parser.parse_args()
    cv2.setNumThreads(1)
    rows = {"paper alone": [], "paper, scanner remembered": [], "every box known (the most there is)": []}
    for seed in range(given.seeds):
        rng = np.random.default_rng([FIRST_SEED, seed])
        scanner = odd_scanner(rng)
        try:
            score(seed, scanner, rng, rows)
        except UnreadablePhoto as refusal:
            print("   ", refusal)
    print("| odd scanner | dE00 median / p90 | median radius | covered | boxes |\n|---|---|---|---|---|")
    for name, pairs in rows.items():
        miss, radius = np.array(pairs).T
        print(
            f"| {name} | {np.median(miss):.2f} / {np.quantile(miss, 0.9):.2f} | {np.median(radius):.1f} | "
            f"{100 * np.mean(miss <= radius):.0f} % | {len(miss)} |"
        )


if __name__ == "__main__":
    main()
