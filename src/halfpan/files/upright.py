"""Tables of one spectrum that stand on their side: a line for each wavelength, a column for each sample."""

from __future__ import annotations

import re
from collections.abc import Sequence

_WAVELENGTH = re.compile(r"wave ?length(?:[ _(]*nm\)?)?|nm|lambda", re.IGNORECASE)
_UNIT = re.compile(r"^(amount(?:_[a-z])?)_(?:ml|g|mg|drops|parts)$")


def stands_on_its_side(head: Sequence[str]) -> bool:
    """Say whether the first column of a table is wavelengths."""
    return len(head) > 1 and _WAVELENGTH.fullmatch(head[0].strip()) is not None


def set_upright(head: Sequence[str], lines: Sequence[Sequence[str]]) -> tuple[list[str], list[list[str]]]:
    """Return the table with a column for each wavelength (``r_400`` ...) and a line for each sample."""
    turned = ["name", *(f"r_{float(line[0].replace(',', '.')):.0f}" for line in lines if line[0].strip())]
    rows = [
        [name, *(line[at].strip() if at < len(line) else "" for line in lines if line[0].strip())]
        for at, name in enumerate(head[1:], start=1)
    ]
    return turned, rows


def without_unit(column: str) -> str:
    """Return the name of an amount's column without its unit: ``amount_a_ml`` is ``amount_a``."""
    return _UNIT.sub(r"\1", column)
