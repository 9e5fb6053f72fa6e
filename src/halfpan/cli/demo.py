"""``halfpan demo``: the whole job on the invented studio."""

from __future__ import annotations

import shlex
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from halfpan.cli.frame import AsJson, now, progress, put_json, put_text, say
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.demo.run import DemoDone

app = typer.Typer(help="The whole job on an invented studio.")


@app.command("demo")
def demo(
    *,
    out: Annotated[
        Path, typer.Option(metavar="DIR", help="A new folder, or one that an earlier demo made.")
    ] = Path("halfpan-demo"),
    seed: Annotated[int, typer.Option(help="Of all chance: the same number paints the same.")] = 7,
    as_json: AsJson = False,
) -> None:
    """Print, paint, photograph, read and compare with the truth: the whole job, with invented paints."""
    from halfpan.demo.run import run_demo

    with progress("the invented studio") as bar:

        def tell(what: str) -> None:
            bar.update(bar.task_ids[0], description=what)
            if bar.disable:
                say(what)

        done = run_demo(out, now=now(), seed=seed, tell=tell)
    if as_json:
        put_json(_document(done))
        return
    _put_scores(done)
    for what, path in done.places:
        put_text(f"{what}: {path}")
    put_text(f"To look round: {_called()} --studio {shlex.quote(str(done.folder / 'studio'))} serve")


def _called() -> str:
    """Return what calls Halfpan in this shell: its name if it is found, else its path."""
    name = Path(sys.argv[0]).name
    found = shutil.which(name)
    return name if found and Path(found).resolve() == Path(sys.argv[0]).resolve() else sys.argv[0]


def _document(done: DemoDone) -> dict[str, Any]:
    return {
        "places": {what: str(path) for what, path in done.places},
        "pictures": [
            {
                "picture": s.name,
                "tier": s.tier,
                "boxes": s.boxes,
                "median_delta_e00": s.median,
                "p90_delta_e00": s.ninth,
                "median_within_delta_e00": s.radius,
                "in_range": s.in_range,
                "truth_inside": s.held,
                "unread": s.unread,
                "wrong_paint": s.wrong,
            }
            for s in done.scores
        ],
        "light_test": [
            {
                "box": one.seen.strip.box,
                "paint": one.seen.paint.name if one.seen.paint else None,
                "strength": one.seen.strip.strength,
                "delta_e_ab": one.seen.now.delta_e_ab,
                "within_ab": one.seen.now.within_ab,
                "true_delta_e_ab": one.true_delta_e_ab,
            }
            for one in done.window.strips
        ],
    }


def _put_scores(done: DemoDone) -> None:
    headings = ("picture", "light settled by", "boxes", "ΔE median", "nine in ten", "inside ±", "unread")
    rows = [
        (s.name, s.tier, s.boxes, f"{s.median:.2f}", f"{s.ninth:.2f}", f"{s.held} of {s.in_range}", s.unread)
        for s in done.scores
    ]
    put_table("Read against the truth", headings, rows, right=headings[2:])
    seen = ("paint", "stroke", "ΔE*ab read", "true", "in light")
    changed: list[tuple[str | None, ...]] = [
        (one.seen.paint.name if one.seen.paint else "", one.seen.strip.strength,
         f"{one.seen.now.delta_e_ab:.1f} ± {one.seen.now.within_ab:.1f}", f"{one.true_delta_e_ab:.1f}",
         ", ".join(one.seen.ways) or "no sure change")
        for one in done.window.strips
    ]  # fmt: skip
    changed += [
        (one.paint.name if one.paint else "", one.strength, None, None, f"to review: {', '.join(one.why)}")
        for one in done.window.waiting
    ]
    days = done.window.pictures[-1][0]
    put_table(f"In the window, after {days} days", seen, changed, right=seen[2:4])
