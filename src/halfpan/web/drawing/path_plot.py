"""The path of a paint from strong to thin on the a*, b* plane."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from halfpan.core.paint.reading import Lab
from halfpan.files.words import say
from halfpan.web.drawing.plane import Plane, dot, drawn, line, names, number, ring, word


def path_plot(
    name: str, path: Sequence[Lab], others: Sequence[tuple[str, Sequence[Lab]]], within: float
) -> Markup:
    """Return the plot as SVG.

    Parameters
    ----------
    name, path
        This paint, strong to thin.
    others
        Names and paths of its nearest; the first is dashed, the others thin.
    within
        95 % radius of the readings, drawn as a dotted ring of that many units.
    """
    plane = Plane(lab for some in (path, *(other for _, other in others)) for lab in some)
    parts = [line(plane, labs, "other dashed" if k == 0 else "other") for k, (_, labs) in enumerate(others)]
    parts += [line(plane, path, "main"), ring(plane, path[0], within)]
    parts += [dot(plane, lab, 7 if k == 0 else 5) for k, lab in enumerate(path)]
    parts += names(plane, [(other, labs[0]) for other, labs in others], taken=[path[0]], dots=path)
    x, y = plane.at(path[0])
    parts.append(word(x + 12, y + 4, say("paint.strong"), kind="key"))
    return drawn(plane, parts, say("paint.plot_label", name=name, told=_told(path)))


def _told(path: Sequence[Lab]) -> str:
    (_, a0, b0), (_, a1, b1) = path[0], path[-1]
    return say("paint.plot_told", a0=number(a0), b0=number(b0), a1=number(a1), b1=number(b1))
