"""A paint as it lies on the table, and what its label prints.

The label is kept as printed for ever; corrections stand beside it. A missing value is unknown: neither
nought nor "no".
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class Label:
    """What the maker prints, word for word. ``scales`` states the direction of each printed scale."""

    name: str = ""
    codes: str = ""
    lightfastness: str = ""
    transparency: str = ""
    granulation: str = ""
    staining: str = ""
    health: str = ""
    scales: str = ""


@dataclass(frozen=True, slots=True)
class Paint:
    """One paint of the collection. ``id`` never changes; ``codes`` are canonical and in label order."""

    id: str
    maker: str
    range: str
    name: str
    codes: tuple[str, ...] = ()
    label: Label = field(default_factory=Label)
    other_names: tuple[str, ...] = ()
    form: str = ""
    size_ml: float | None = None
    price: float | None = None
    currency: str = ""
    series: str = ""
    batch: str = ""
    bought: date | None = None
    amount_left: float | None = None
    place: str = ""
    favourite: bool = False
    tags: tuple[str, ...] = ()
    notes: str = ""
    owned: bool = True
