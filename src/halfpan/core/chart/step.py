"""One box as it is painted at the table: what to copy below it, and what to know before the brush goes in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Said:
    """What the label or the literature says: of a property, or (a caution) of one paint of several."""

    about: str
    witness: Literal["label", "literature"]
    text: str


@dataclass(frozen=True, slots=True)
class Pour:
    """One paint of a box: its name, codes and maker, and its parts in a mix (none: the paint alone)."""

    name: str
    codes: tuple[str, ...]
    maker: str
    parts: float | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """One box to paint.

    Attributes
    ----------
    page, box : where it is
    pours : its paints; none for a spare box
    test : which test is asked for, empty for a plain wash
    said : what label and literature say, of a box with one paint
    cautions : before the brush goes in, each with its witness
    painted, note : how far it is, and the painter's line about it
    """

    page: int
    box: str
    pours: tuple[Pour, ...] = ()
    test: str = ""
    said: tuple[Said, ...] = ()
    cautions: tuple[Said, ...] = ()
    painted: bool = False
    note: str = ""

    @property
    def key(self) -> str:
        """The box and its page in one word, as a ticked list writes it."""
        return f"{self.page}/{self.box}"
