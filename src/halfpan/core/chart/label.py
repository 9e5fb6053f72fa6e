"""What a box says about its paint, and how it is set below the box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from halfpan.core.chart.fit import fit, one_line, words_at
from halfpan.core.chart.ink import POINT, Ink, Measure, Rule
from halfpan.core.chart.measures import Measures


@dataclass(frozen=True, slots=True)
class BoxLabel:
    """What one box is for and what is printed below it.

    Attributes
    ----------
    paint : the id of the paint
    name, codes, maker, range : as the label prints them; any may be empty
    family : the heading above the first box of a run of paints; empty for none
    pale : white or nearly white, so that it needs a black ground to be seen
    """

    paint: str
    name: str
    codes: Sequence[str] = ()
    maker: str = ""
    range: str = ""
    family: str = ""
    pale: bool = False

    @property
    def text(self) -> str:
        """Name, codes and maker in one line."""
        parts = (
            self.name,
            " ".join(self.codes),
            ", ".join(part for part in (self.maker, self.range) if part),
        )
        return " · ".join(part for part in parts if part)


def label_ink(
    label: BoxLabel | None, *, x: float, top: float, m: Measures, measure: Measure
) -> tuple[Ink, ...]:
    """Set a label below its box: name, codes, maker and range, and a hair line to write on.

    Parameters
    ----------
    label : None for a spare box, which gets two empty lines
    x, top : left edge and upper end of its room, mm
    m, measure : lengths of the chart, width of a text
    """
    scale = m.type
    width = min(m.box + m.gap - 1.9 * scale, m.right - x)
    foot = top + m.label - 1.9 * scale
    note = Rule(x, foot, x + m.box, foot)
    if label is None:
        return note, Rule(x, top + 4.6 * scale, x + m.box, top + 4.6 * scale)
    name = fit(label.name, width, measure=measure, face="serif bold", size=7.9 * scale, least=6.6 * scale)
    base = top + 0.95 * name.size * POINT
    ink: list[Ink] = [*words_at(name, x, base, measure=measure, face="serif bold")]
    base += (len(name.lines) - 1) * name.leading
    for line in _witness(label, width, tight=len(name.lines) > 1, scale=scale, measure=measure):
        base += 2.65 * scale
        ink.append(one_line(line, x, base, width, measure=measure, face="sans", size=6.4 * scale))
    return (*ink, note) if base + 0.9 * scale < foot else tuple(ink)


def _witness(label: BoxLabel, width: float, *, tight: bool, scale: float, measure: Measure) -> list[str]:
    """Return codes, maker and id: in one line below a name of two, to leave room to write on."""
    maker = ", ".join(part for part in (label.maker, label.range) if part)
    codes, owner = " ".join(label.codes), " · ".join(part for part in (maker, label.paint) if part)
    both = " · ".join(part for part in (codes, owner) if part)
    if tight and measure(both, "sans", 5.8 * scale) <= width:
        return [both]
    return [line for line in (codes, owner) if line]
