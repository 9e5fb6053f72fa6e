"""A 600 dpi A4 scan, everything included, against the time its decoding alone takes, in one run; and memory.

The ratio is of the medians of seven runs of each.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import resource
import sys
import time
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page
from halfpan.demo.painter import paint_sheet
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_films
from halfpan.files.photo.picture import open_pictures
from virtual.pictures import print_page

KEPT = Path(__file__).resolve().parent / "out" / "scan-600.jpg"


def scanned(page_of):
    """Return the bytes of a painted page scanned at 600 dpi, made once."""
    if not KEPT.exists():
        chart, picture = print_page(0, 600)
        rng = np.random.default_rng(600)
        painted, _ = paint_sheet(chart, page_of(chart), picture, studio_films(), rng=rng, dpi=600)
        KEPT.parent.mkdir(parents=True, exist_ok=True)
        KEPT.write_bytes(scan(painted, rng=rng).file)
    return KEPT.read_bytes()


def seconds(work, clock):
    spent = []
    for _ in range(7):
        start = clock()
        work()
        spent.append(clock() - start)
    return float(np.median(spent))


def main():
    page = print_page(0, 100)[0].pages[0]
    content = scanned(lambda chart: chart.pages[0])
    shape = cv2.imdecode(np.frombuffer(content, np.uint8), cv2.IMREAD_COLOR).shape

    def whole():
        (picture,) = open_pictures(content, "scan.jpg")
        photo = picture.photo
        found = locate(photo)
        assert found.page == page.page
        assert len(measure_page(photo, page, located=found).readings) > 50

    def decode():
        return cv2.imdecode(np.frombuffer(content, np.uint8), cv2.IMREAD_COLOR)

    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
    print("| scan | time | decoding | read, everything included | ratio | most memory (before reading) |")
    print("|---|---|---|---|---|---|")
    for name, threads, clock in (("on the clock, OpenCV as it comes", -1, time.perf_counter),
                                 ("of the processor, one thread", 1, time.process_time)):  # fmt: skip
        cv2.setNumThreads(threads)
        decoding, reading = seconds(decode, clock), seconds(whole, clock)
        after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
        print(
            f"| {shape[1]} x {shape[0]}, {len(content) / 1e6:.1f} MB | {name} | {decoding:.2f} s "
            f"| {reading:.2f} s | {reading / decoding:.1f} x | {after:.2f} GB ({before:.2f}) |"
        )


if __name__ == "__main__":
    main()
