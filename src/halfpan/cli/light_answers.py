"""What ``halfpan light-test`` answers in words and tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from halfpan.cli.frame import put_text, say, several
from halfpan.cli.table import put_table

if TYPE_CHECKING:
    from halfpan.studio.follow_light_tests import Followed, StripSeen

NOTE = (
    "My window test: these days, this paper. ΔE*ab 1.7 is just noticeable (ISO 105-A02, step 4); 4 is what "
    "ASTM D4303 allows its category I in its own exposure: a yardstick, no rating."
)


def counted(one: Followed) -> str:
    """Return how many paints a test has, in words."""
    return several(len(one.paints), "paint")


def put_remark(one: Followed) -> None:
    """Say that the window faces away from the sun, if it does."""
    if one.remark:
        say(one.remark)


def put_test(one: Followed) -> None:
    """Answer with one light test: where, since when, and what changed in each stroke."""
    test = one.test
    facing = f"facing {test.facing}" if test.facing else ""
    where = ", ".join(part for part in (test.place, facing, test.glass) if part)
    since = f"since {test.started.isoformat()}" + (f" until {test.ended.isoformat()}" if test.ended else "")
    put_text(f"{test.name}: {one.days} days {since}{', ' + where if where else ''}.")
    dose = f"{one.dose:.2g} Mlx h" if one.dose is not None else "unknown"
    put_text(f"Dose: {dose}. Paper: {test.paper or 'not noted'}.")
    put_remark(one)
    _put_waiting(one)
    if not one.strips:
        put_text("Nothing was read that counts." if one.waiting else "It was not looked at yet.")
        return
    rows = [
        (strip.strip.box, strip.paint.name if strip.paint else "", strip.strip.strength,
         f"{strip.strip.looks[-1].days:.0f}", f"{strip.now.delta_e_ab:.1f} ± {strip.now.within_ab:.1f}",
         f"{strip.now.delta_e_00:.1f} ± {strip.now.within_00:.1f}", ", ".join(strip.ways), strip.grey_scale,
         _passed(strip), _notes(strip))
        for strip in one.strips
    ]  # fmt: skip
    headings = ["box", "paint", "stroke", "day", "ΔE*ab", "ΔE00", "in light", "grey scale", "passed", "notes"]
    put_table("", headings, rows, right=["box", "day"], note=NOTE)


def _put_waiting(one: Followed) -> None:
    """Say which strokes wait for review and why, and how to let them count."""
    for wash in one.waiting:
        name = wash.paint.name if wash.paint else "a box without a paint"
        why = f": {', '.join(wash.why)}" if wash.why else ""
        put_text(f"Box {wash.box}, {name}, {wash.strength}: {several(wash.looks, 'look')} to review{why}.")
    if one.waiting and one.test.chart:
        put_text(f"They count once accepted: halfpan readings accept --chart {one.test.chart}")


def _passed(strip: StripSeen) -> str:
    sure = [one for one in strip.passed if one.by is not None]
    return "; ".join(f"{one.limit:g} between day {one.after:.0f} and {one.by:.0f}" for one in sure)


def _notes(strip: StripSeen) -> str:
    told = []
    if not strip.now.from_start:
        told.append("not read before it was hung")
    if (moved := strip.strip.kept_changed) is not None:
        told.append(f"the covered half changed too, ΔE00 {moved.delta_e:.1f} ± {moved.within:.1f}")
    if strip.sensitivity:
        told.append(f"as blue wool {strip.strip.blue_wool}: {strip.sensitivity} sensitivity")
    return "; ".join(told)
