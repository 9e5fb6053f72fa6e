"""Where a mix goes on the a*, b* plane: through its ratios, and thinning out. Predicted lines are dashed."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from halfpan.core.paint.reading import Lab
from halfpan.files.words import say
from halfpan.studio.try_mix import MixTried
from halfpan.web.drawing.plane import WIDTH, Plane, dot, drawn, line, names, number, ring, word


def mix_plot(tried: MixTried) -> Markup:
    """Return the plot of a mix: its predicted paths, its paints as painted, and the boxes painted of it."""
    ladder = [one.lab for one in tried.ladder]
    full = tried.ladder[0]
    across = [one.ladder[0] for one in tried.ratios]
    painted = [(paint.name, _path(tried, paint.id)) for paint in tried.paints]
    own = [(name, path) for name, path in painted if path]
    proofs = tried.proofs[:8]
    every = [*ladder, *across, *(lab for _, path in own for lab in path), *(one.lab for one in proofs)]
    plane = Plane(every)
    parts = [line(plane, path, "other") for _, path in own]
    if across:
        parts.append(line(plane, across, "main dashed"))
    parts.append(line(plane, ladder, "ladder-path dashed"))
    parts += [ring(plane, full.lab, full.within_delta_e00)]
    parts += [dot(plane, lab, 4) for lab in [*across, *ladder[1:]]]
    parts += [cross(plane, one.lab) for one in proofs]
    parts.append(dot(plane, full.lab, 8))
    dots = [*across, *ladder]
    parts += names(plane, [(name, path[0]) for name, path in own], taken=[full.lab], dots=dots)
    x, y = plane.at(full.lab)
    left = plane.at(ladder[1])[0] > x or x > WIDTH * 0.8  # clear of the line that thins it out
    chosen = say("mixes.chosen", parts=" : ".join(f"{part:g}" for part in tried.parts))
    parts.append(word(x - 14 if left else x + 14, y + 4, chosen, "end" if left else "start", "key"))
    return drawn(plane, parts, _told(tried, ladder))


def cross(plane: Plane, lab: Lab) -> Markup:
    """Return the mark of a painted box."""
    x, y = plane.at(lab)
    return Markup('<path class="proof-mark" d="M{} {}l10 10M{} {}l10 -10"/>').format(
        x - 5, y - 5, x - 5, y + 5
    )


def _path(tried: MixTried, paint: str) -> tuple[Lab, ...]:
    box = tried.boxes.get(paint)
    if box is None:
        return ()
    strong = box.swatch.masstone
    return box.swatch.path or ((strong,) if strong else ())


def _told(tried: MixTried, ladder: Sequence[Lab]) -> str:
    (_, a0, b0), (_, a1, b1) = ladder[0], ladder[-1]
    values = {"a0": number(a0), "b0": number(b0), "a1": number(a1), "b1": number(b1)}
    name = " + ".join(f"{part:g} {paint.name}" for part, paint in zip(tried.parts, tried.paints, strict=True))
    return say("mixes.plot_label", name=name, told=say("paint.plot_told", None, **values))
