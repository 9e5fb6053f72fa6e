"""How long each kind of picture takes to read, everything included, against its decoding alone; and memory.

Every kind is read in a process of its own, decoding and reading by turns, and the medians of some rounds are
compared, so that other work on the machine falls on both alike. The first kind, an A4 scan at 600 dots an
inch, is the one with a limit: four times its decoding. Prints a markdown table.
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import multiprocessing
import pickle
import resource
import sys
import time
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))
sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "files" / "photo"))

from halfpan.core.chart.sheet import Page
from halfpan.core.colour.screen import decode_srgb
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page
from halfpan.core.measuring.target import find_target
from halfpan.demo.painter import paint_sheet
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_films
from halfpan.files.photo.picture import open_pictures
from halfpan.files.target_colours import published_target
from virtual.pictures import print_page, take

KEPT = Path(__file__).resolve().parent / "out" / "speed"
TWELVE_MILLION = 11_900_000


@dataclass(frozen=True)
class Case:
    """One kind of picture: what it is, its file, and the page that is in it."""

    name: str
    make: Callable[[], bytes]
    page: Callable[[], Page]
    target: bool = False
    own_decoding: bool = True
    """Whether OpenCV can decode it; else what comes before measuring is the decoding."""


def scanned() -> bytes:
    """Return a painted page scanned at 600 dots an inch, as JPEG."""
    chart, picture = print_page(0, 600)
    rng = np.random.default_rng(600)
    painted, _ = paint_sheet(chart, chart.pages[0], picture, studio_films(), rng=rng, dpi=600)
    return scan(painted, rng=rng).file


def sixteen_bits() -> bytes:
    """Return the same scan with 16 bits a channel, not compressed, as scanners' own programs write it."""
    eight = cv2.imdecode(np.frombuffer(kept("jpeg", scanned), np.uint8), cv2.IMREAD_COLOR)
    rng = np.random.default_rng(16)
    wide = eight.astype(np.uint16) * 257
    for row in range(0, len(wide), 100):
        band = wide[row : row + 100]
        band += rng.integers(0, 257, band.shape, dtype=np.uint16) * (band < 65535)
    return cv2.imencode(".tiff", wide, [cv2.IMWRITE_TIFF_COMPRESSION, 1])[1].tobytes()


def in_a_pdf() -> bytes:
    """Return the same scan as a page of a PDF, as a scanner with a feeder writes it."""
    import io

    from reportlab.lib.utils import ImageReader
    from reportlab.pdfgen.canvas import Canvas

    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(595.2, 841.8), invariant=1)
    canvas.drawImage(ImageReader(io.BytesIO(kept("jpeg", scanned))), 0, 0, 595.2, 841.8)
    canvas.save()
    return file.getvalue()


def shot(situation: str):
    """Return the first photograph of the phone-like camera that has twelve million pixels."""
    for seed in range(20):
        taken = take(situation, "phone", seed)
        rows, cols = open_pictures(taken.shot.file, taken.name)[0].photo.shape
        if rows * cols > TWELVE_MILLION:
            return taken
    raise LookupError("none of twenty photographs has twelve million pixels")


def photographed(situation: str) -> bytes:
    return shot(situation).shot.file


def raw() -> bytes:
    """Return what an invented camera's sensor would hold of a photograph, as DNG."""
    from dng import dng, mosaic_of

    eight = cv2.imdecode(np.frombuffer(photographed("photo"), np.uint8), cv2.IMREAD_COLOR)[..., ::-1]
    eight = eight[: eight.shape[0] // 2 * 2, : eight.shape[1] // 2 * 2]
    return dng(mosaic_of(decode_srgb(eight / 255.0), *eight.shape[:2]))


def scan_page() -> Page:
    return print_page(0, 100)[0].pages[0]


def photo_page(situation: str) -> Page:
    return shot(situation).page


CASES = {
    "jpeg": Case("A4 scan, 600 dpi, JPEG", scanned, scan_page),
    "tiff": Case("A4 scan, 600 dpi, 16-bit TIFF", sixteen_bits, scan_page),
    "pdf": Case("A4 scan, 600 dpi, in a PDF", in_a_pdf, scan_page, own_decoding=False),
    "photo": Case("phone, paper only", partial(photographed, "photo"), partial(photo_page, "photo")),
    "target": Case(
        "phone, with a target", partial(photographed, "photo"), partial(photo_page, "photo"), target=True
    ),
    "hard": Case(
        "phone, lens, bent sheet, shadow, glare, with a target",
        partial(photographed, "hard"),
        partial(photo_page, "hard"),
        target=True,
    ),
    "raw": Case("camera raw (DNG)", raw, partial(photo_page, "photo"), own_decoding=False),
}


def kept(key: str, make: Callable[[], bytes]) -> bytes:
    """Return a file made once and kept."""
    path = KEPT / f"{key}.file"
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(make())
    return path.read_bytes()


def prepare(key: str) -> None:
    """Make a case's file and page, in a process of its own: their memory is none of the reader's."""
    kept(key, CASES[key].make)
    path = KEPT / f"{key}.page"
    path.write_bytes(pickle.dumps(CASES[key].page()))


def measure(key: str, threads: int, rounds: int) -> dict:
    """Read a case some times, decoding and reading by turns."""
    case = CASES[key]
    cv2.setNumThreads(threads)
    clock = time.perf_counter if threads < 0 else time.process_time
    content, page = kept(key, case.make), pickle.loads((KEPT / f"{key}.page").read_bytes())
    decodings, readings, found = [], [], 0
    for _ in range(rounds):
        start = clock()
        if case.own_decoding:
            cv2.imdecode(np.frombuffer(content, np.uint8), cv2.IMREAD_COLOR | cv2.IMREAD_ANYDEPTH)
        else:
            open_pictures(content, "file")
        middle = clock()
        found = read(content, page, target=case.target)
        decodings.append(middle - start)
        readings.append(clock() - middle)
    (picture,) = open_pictures(content, "file")
    return {
        "size": f"{picture.photo.shape[1]} x {picture.photo.shape[0]}, {len(content) / 1e6:.1f} MB",
        "decoding": float(np.median(decodings)),
        "reading": float(np.median(readings)),
        "ratio": float(np.median(np.array(readings) / np.array(decodings))),
        "memory": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6,
        "readings": found,
    }


def read(content: bytes, page: Page, *, target: bool) -> int:
    """Open, find, flatten, even out, correct, read, doubt: return how many readings came of it."""
    (picture,) = open_pictures(content, "file")
    found = locate(picture.photo)
    assert found.page == page.page
    reference = None
    if target:
        seen = find_target(picture.photo, published_target())
        assert seen is not None
        reference = seen.patches
    return len(measure_page(picture.photo, page, located=found, reference=reference).readings)


def alone(work, *given):
    """Run a piece of work in a fresh process."""
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        return pool.submit(work, *given).result()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=7)
    parser.add_argument("--only", choices=CASES, action="append", help="these kinds alone")
    given = parser.parse_args()
    print("| picture | size | time | decoding | read, everything included | ratio | most memory | readings |")
    print("|---|---|---|---|---|---|---|---|")
    for key in given.only or CASES:
        alone(prepare, key)
        for name, threads in (("of the processor, one thread", 1), ("on the clock", -1)):
            row = alone(measure, key, threads, given.rounds)
            print(
                f"| {CASES[key].name} | {row['size']} | {name} | {row['decoding']:.2f} s | "
                f"{row['reading']:.2f} s | {row['ratio']:.1f} x | {row['memory']:.2f} GB | "
                f"{row['readings']} |",
                flush=True,
            )


if __name__ == "__main__":
    main()
