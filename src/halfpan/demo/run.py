"""The whole job on the invented studio, in one folder: made beside its place, then put in it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from halfpan.demo.compare import Score, compare, score
from halfpan.demo.fill import Filled, fill_studio
from halfpan.demo.hung import Hung
from halfpan.demo.story import demo_report
from halfpan.errors import BadRequest
from halfpan.files.report import write_report
from halfpan.studio.studio import Studio, open_studio

MARK = "made-by-halfpan-demo.txt"
MARKED = "This folder was made by `halfpan demo`; running it again makes the folder anew.\n"
REPORT = "report.html"


@dataclass(frozen=True, slots=True)
class DemoDone:
    """What was made, where it lies, how well each picture was read, and what the window did."""

    folder: Path
    places: tuple[tuple[str, Path], ...]
    scores: tuple[Score, ...]
    window: Hung


def run_demo(
    out: Path, *, now: datetime, seed: int = 7, tell: Callable[[str], None] = lambda _: None
) -> DemoDone:
    """Make the invented studio in a folder, and do the whole job in it.

    Parameters
    ----------
    out : a new or empty folder, or one that an earlier demo made
    now : the time of day
    seed : of all chance
    tell : told what is going on, a sentence at a time

    Raises
    ------
    BadRequest
        When the folder holds something else.
    """
    if out.exists() and not _may_replace(out):
        raise BadRequest(
            f"{out} holds something that no demo made, so nothing was put there. "
            "Name another folder with --out."
        )
    part = out.with_name(f".{out.name}.part")
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir(parents=True)
    (part / MARK).write_text(MARKED, encoding="utf-8")
    try:
        studio = open_studio(part / "studio")
        try:
            done = _all_of_it(studio, part, out, now=now, seed=seed, tell=tell)
        finally:
            studio.close()
        if out.exists():
            shutil.rmtree(out)
        part.replace(out)
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise
    return done


def fill_invented_studio(
    studio: Studio, *, now: datetime, seed: int = 7, tell: Callable[[str], None] = lambda _: None
) -> Filled:
    """Fill an empty open studio with the invented one; prints and pictures go into its ``demo`` folder."""
    folder = studio.folder / "demo"
    folder.mkdir(exist_ok=True)
    return fill_studio(studio, folder, now=now, seed=seed, tell=tell)


def _all_of_it(
    studio: Studio, part: Path, out: Path, *, now: datetime, seed: int, tell: Callable[[str], None]
) -> DemoDone:
    filled = fill_studio(studio, part, now=now, seed=seed, tell=tell)
    tell("writing the report")
    places = (
        ("Report", out / REPORT),
        ("List of paints", out / filled.listing.name),
        *((f"Print {n}", out / path.name) for n, (_, path) in enumerate(filled.prints, 1)),
        ("Pictures", out / "*.jpg"),
        ("Studio", out / "studio"),
    )
    told = [(what, f"{where.parent.name}/{where.name}") for what, where in places[1:]]
    open_it = ("Look round", f"halfpan --studio {out / 'studio'} serve")
    write_report(part / REPORT, demo_report(studio, filled, [*told, open_it]))
    scores = tuple(score(back, compare(back)) for back in filled.back)
    return DemoDone(out, places, scores, filled.window)


def _may_replace(out: Path) -> bool:
    return out.is_dir() and ((out / MARK).exists() or not any(out.iterdir()))
