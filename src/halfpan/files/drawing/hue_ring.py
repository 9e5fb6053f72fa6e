"""The hue ring of one's paints: angle is hue, distance is lightness at mid strength, gaps are hatched."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from halfpan.core.arranging.ring import OnRing, RingGap
from halfpan.core.colour.screen import lab_to_hex
from halfpan.files.drawing.svg import HAIR, INK, RULE, SECOND, SHEET, picture, tag, words

SIZE, MIDDLE, OUTER, INNER = 760.0, 380.0, 230.0, 60.0
GAP = OUTER + 12
_NAME = OUTER + 24


def hue_ring(ring: Sequence[OnRing], gaps: Sequence[RingGap], names: Mapping[str, str]) -> str:
    """Return the ring as SVG.

    Hue angles run anticlockwise from the right, as in CIELAB. Dark paints lie near the middle, light ones
    near the edge: circles at L* 20, 40, 60, 80. A round mark is a paint of clear hue, a square one is
    greyish; a gap is a hatched arc with its width in degrees.
    """
    parts = [_hatch()]
    for lightness in (20, 40, 60, 80):
        parts.append(tag("circle", {"cx": MIDDLE, "cy": MIDDLE, "r": _reach(lightness), "fill": "none",
                                    "stroke": HAIR}))  # fmt: skip
        parts.append(
            words(f"L* {lightness}", MIDDLE + 3, MIDDLE - _reach(lightness) - 2, size=9, fill=SECOND)
        )
    parts += [_arc(gap) for gap in gaps] + [_width(gap) for gap in gaps]
    parts += [_mark(one) for one in ring] + _names(ring, names)
    foot = "angle: hue · distance: lightness, dark inside · square: greyish · hatched: no paint here"
    parts.append(words(foot, MIDDLE, SIZE - 12, size=11, anchor="middle", fill=SECOND))
    told = "; ".join(f"{names[one.paint]} at {one.hue:.0f}°, L* {one.mid[0]:.0f}" for one in ring)
    wide = "; ".join(f"no paint from {gap.start:.0f}° to {gap.end:.0f}°" for gap in gaps)
    return picture(SIZE, SIZE, "Hue ring", f"{told}. {wide}", parts)


def _reach(lightness: float) -> float:
    return INNER + (OUTER - INNER) * min(max(lightness, 0.0), 100.0) / 100


def _at(hue: float, reach: float) -> tuple[float, float]:
    turn = math.radians(hue)
    return MIDDLE + reach * math.cos(turn), MIDDLE - reach * math.sin(turn)


def _mark(one: OnRing) -> str:
    x, y = _at(one.hue, _reach(one.mid[0]))
    look = {"fill": str(lab_to_hex(one.mid)), "stroke": INK, "stroke_width": 1}
    if one.greyish:
        return tag("rect", {"x": x - 5, "y": y - 5, "width": 10, "height": 10, **look})
    return tag("circle", {"cx": x, "cy": y, "r": 6, **look})


def _names(ring: Sequence[OnRing], names: Mapping[str, str]) -> list[str]:
    """Set names round the ring, pushed apart along it where they would touch, each with a thin line."""
    parts = []
    placed = _apart([one.hue for one in ring])
    for one, turn in zip(ring, placed, strict=True):
        x0, y0 = _at(one.hue, _reach(one.mid[0]))
        x1, y1 = _at(turn, _NAME - 4)
        parts.append(
            tag("line", {"x1": x0, "y1": y0, "x2": x1, "y2": y1, "stroke": HAIR, "stroke_width": 0.6})
        )
        x, y = _at(turn, _NAME)
        left = math.cos(math.radians(turn)) < 0
        turned = 180 - turn if left else -turn
        text = words(names[one.paint], x, y + 3, size=9, serif=True, anchor="end" if left else "start")
        parts.append(tag("g", {"transform": f"rotate({turned:.1f} {x:.1f} {y:.1f})"}, text))
    return parts


def _apart(hues: Sequence[float]) -> list[float]:
    """Return angles in the same order, at least as far apart as their names need, near the hues."""
    count = len(hues)
    room = min(3.0, 360 / max(count, 1))
    turns = list(hues)
    for _ in range(50 * count if count > 1 else 0):
        moved = False
        for i in range(count):
            after = turns[i + 1] if i + 1 < count else turns[0] + 360
            push = (room - (after - turns[i])) / 2
            if push > 1e-3:
                turns[i] -= push
                turns[(i + 1) % count] += push
                moved = True
        if not moved:
            break
    return turns


def _hatch() -> str:
    line = tag("path", {"d": "M0 0L8 8M-2 6L2 10M6 -2L10 2", "stroke": RULE, "stroke_width": 1.4})
    pattern = {"id": "none", "width": 8, "height": 8, "patternUnits": "userSpaceOnUse"}
    return tag("defs", {}, tag("pattern", pattern, line))


def _arc(gap: RingGap) -> str:
    end = gap.start + gap.width
    (x0, y0), (x1, y1) = _at(gap.start, OUTER), _at(end, OUTER)
    (x2, y2), (x3, y3) = _at(end, GAP), _at(gap.start, GAP)
    large = 1 if gap.width > 180 else 0
    path = (
        f"M{x0:.1f} {y0:.1f}A{OUTER:g} {OUTER:g} 0 {large} 0 {x1:.1f} {y1:.1f}"
        f"L{x2:.1f} {y2:.1f}A{GAP:g} {GAP:g} 0 {large} 1 {x3:.1f} {y3:.1f}Z"
    )
    return tag("path", {"d": path, "fill": "url(#none)", "stroke": INK, "stroke_width": 0.8})


def _width(gap: RingGap) -> str:
    x, y = _at(gap.start + gap.width / 2, OUTER - 16)
    back = tag("rect", {"x": x - 14, "y": y - 9, "width": 28, "height": 13, "fill": SHEET})
    return back + words(f"{gap.width:.0f}°", x, y + 1, size=10, anchor="middle")
