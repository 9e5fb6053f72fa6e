"""Photographs of real 24-patch targets, each patch foretold by the others alone.

Run from the project's root; needs the measured photographs in ../shared/data/target_photos.
"""

from __future__ import annotations

import time
from pathlib import Path

import cv2
import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.grid import rule_grid
from halfpan.core.measuring.ruled import measure_ruled
from halfpan.core.measuring.target import find_target, patch_places, read_target
from halfpan.files.photo import load_photo
from halfpan.files.target_colours import published_target

PHOTOS = Path(__file__).resolve().parents[2] / "shared" / "data" / "target_photos"
CORNERS = {
    "photo_passport_warm.png": [(554, 480), (561, 219), (734, 224), (736, 485)],
    "photo_passport_cloth.jpg": [(1314, 955), (1713, 942), (1733, 1222), (1302, 1235)],
    "photo_classic_warm.png": [(290, 166), (788, 194), (769, 527), (270, 501)],
}


def known_boxes() -> dict[str, tuple[float, float, float]]:
    """Return published colours by the names the boxes of a 4 x 6 grid have."""
    return {f"{'ABCD'[k // 6]}{k % 6 + 1}": tuple(lab) for k, lab in enumerate(published_target().tolist())}


def left_out(name: str) -> tuple[list[float], list[float], float]:
    """Distance of each patch, foretold by the others, to its published colour; radii; the mean."""
    photo = load_photo(PHOTOS / name)
    grid = rule_grid(photo, np.array(CORNERS[name], float)[:, ::-1], 4, 6)
    known = known_boxes()
    read = measure_ruled(photo, grid, known=known)
    misses = [float(delta_e_2000(np.array(r.lab), np.array(known[r.box]))) for r in read.readings]
    return misses, [r.within_delta_e00 for r in read.readings], float(read.light.check_delta_e00 or np.nan)


def main() -> None:
    """Print the table."""
    if not PHOTOS.is_dir():
        print("the measured photographs in ../shared/data/target_photos are absent: nothing to do")
        return
    cv2.setNumThreads(1)
    print("| photograph | read as a 4 x 6 chart: mean | median | worst | inside radius | radius median |")
    print("|---|---|---|---|---|---|")
    for name in CORNERS:
        misses, radii, _ = left_out(name)
        inside = sum(m <= r for m, r in zip(misses, radii, strict=True))
        print(
            f"| {name} | {np.mean(misses):.2f} | {np.median(misses):.2f} | {max(misses):.1f} "
            f"| {inside} of {len(misses)} | {np.median(radii):.1f} |"
        )
    print("\n| photograph | target found by itself | time, s | patches shown | apart, patches |")
    print("|---|---|---|---|---|")
    for name, corners in CORNERS.items():
        photo = load_photo(PHOTOS / name)
        start = time.perf_counter()
        found = find_target(photo, published_target())
        took = time.perf_counter() - start
        if found is None:
            print(f"| {name} | no | {took:.2f} | | |")
            continue
        by_hand = read_target(photo, np.array(corners, float)[:, ::-1], published_target())
        a, b = patch_places(found.corners), patch_places(by_hand.corners)
        pitch = np.linalg.norm(a[1] - a[0])
        apart = np.linalg.norm(a - b, axis=1).max() / pitch
        print(f"| {name} | yes | {took:.2f} | {len(found.patches.names)} of 24 | {apart:.2f} |")


if __name__ == "__main__":
    main()
