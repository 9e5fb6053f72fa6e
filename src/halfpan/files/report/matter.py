"""What a report is made of: sections of words, walls of painted boxes, pictures, tables and plots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tile:
    """One box of a wall: its picture (any browser's format), what it is, and what is said of it.

    ``doubtful`` marks it by the black line, never by a colour; ``said`` are short lines under the name.
    """

    picture: bytes
    name: str
    said: Sequence[str] = ()
    alt: str = ""
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Wall:
    """Boxes side by side that touch, as on the sheet, under one heading."""

    heading: str
    tiles: Sequence[Tile]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One picture with a line below it."""

    picture: bytes
    alt: str
    caption: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text; the columns named in ``numbers`` stand to the right."""

    headings: Sequence[str]
    rows: Sequence[Sequence[str]]
    numbers: Sequence[str] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph, or a list of terms with what stands for them."""

    text: str = ""
    terms: Sequence[tuple[str, str]] = ()


@dataclass(frozen=True, slots=True)
class Dot:
    """One colour on a plot: where it was read, its colour as #rrggbb, and where the truth lies, if known."""

    x: float
    y: float
    colour: str
    true: tuple[float, float] | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class Plot:
    """Colours on the plane of a* (across) and b* (up)."""

    dots: Sequence[Dot]
    note: str = ""


Matter = Tile | Wall | Figure | Table | Words | Plot


@dataclass(frozen=True, slots=True)
class Section:
    """A heading in the margin, a note under it, and the matter beside it."""

    heading: str
    matter: Sequence[Matter]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Report:
    """A whole report."""

    title: str
    lead: str
    sections: Sequence[Section]
    foot: str = ""
