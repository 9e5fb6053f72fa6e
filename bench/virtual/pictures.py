"""Take the pictures: what lies under three simple cameras and a phone-like one, truth beside each.

A picture is kept in ``out/pictures`` once it was taken, since taking it costs far more than reading it.
"""

from __future__ import annotations

import pickle
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from halfpan.core.chart.sheet import Page
from halfpan.demo.brush import Hand
from halfpan.demo.camera import photograph, simple_camera, simple_setting
from halfpan.demo.painter import any_paper, paint_sheet
from halfpan.demo.phone import phone_camera, phone_paper, phone_setting
from halfpan.demo.printed import rule_studio_chart
from halfpan.demo.scanner import odd_scanner, scan
from halfpan.demo.shot import Shot
from halfpan.demo.studio_paints import studio_films, studio_paints
from halfpan.demo.truth import Truth
from halfpan.files.pdf import chart_pdf, page_picture
from halfpan.files.target_colours import published_target

KEPT = Path(__file__).resolve().parents[1] / "out" / "pictures"
MIXING = {"even": "towards grey", "simple": "leaking", "vivid": "either way"}
ODD = {
    "scan": {"oddness": 0.8},
    "photo": {"oddness": 0.6},
    "mixed": {"oddness": 1.05, "mixed": True},
    "hard": {"oddness": 0.8, "mixed": True},
}
SITUATIONS = ("scan", "photo", "hard", "mixed")
DPI = 300
PAINTS = 26
FIRST_SEED = 4100


@dataclass(frozen=True)
class Taken:
    """One picture, the page that is in it and all that is true of it."""

    name: str
    shot: Shot
    page: Page
    sheet: tuple[float, float]
    truth: Truth


@cache
def print_page(seed: int, dpi: int):
    """Rule and print the first page of a chart of paints drawn by chance, in the studio's own order."""
    paints = studio_paints()
    drawn = np.random.default_rng([FIRST_SEED, seed]).permutation(len(paints))[:PAINTS]
    ruled = rule_studio_chart([paints[k] for k in sorted(drawn)])
    return ruled.chart, page_picture(chart_pdf(ruled), 1, dpi)


def take(situation: str, camera: str, seed: int) -> Taken:
    """Return one picture, taken now or kept from before; ``camera`` is one of ``MIXING`` or phone."""
    name = f"{situation}-{camera}-{seed:02d}"
    path = KEPT / f"{name}.pickle"
    if path.exists():
        return pickle.loads(path.read_bytes())
    taken = _take(name, situation, camera, seed)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(pickle.dumps(taken))
    return taken


def _take(name: str, situation: str, kind: str, seed: int) -> Taken:
    phone = kind == "phone"
    rng = np.random.default_rng([FIRST_SEED, SITUATIONS.index(situation), int(phone), seed])
    chart, picture = print_page(seed, DPI)
    page = chart.pages[0]
    hand = Hand(dry=0.34 if situation == "hard" else 0.28, spill=0.28) if phone else Hand()
    paper = phone_paper(rng) if phone else any_paper(rng)
    painted, truth = paint_sheet(
        chart, page, picture, studio_films(), rng=rng, dpi=DPI, hand=hand, paper=paper
    )
    if situation == "scan":
        shot = scan(painted, rng=rng, scanner=odd_scanner(rng, **ODD[situation]) if phone else None)
    else:
        hard = situation == "hard"
        camera = phone_camera(rng, **ODD[situation]) if phone else simple_camera(rng, mixing=MIXING[kind])
        setting = phone_setting(rng, hard=hard) if phone else simple_setting(rng, hard=hard)
        shot = photograph(painted, rng=rng, camera=camera, setting=setting, target=published_target())
    return Taken(name, shot, page, (chart.sheet.width_mm, chart.sheet.height_mm), truth)
