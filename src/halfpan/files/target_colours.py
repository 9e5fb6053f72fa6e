"""The known colours of a 24-patch target: the published ones, or those measured on the user's own."""

from __future__ import annotations

import csv
import io
from importlib.resources import files
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfpan.errors import UnreadableTable

PATCHES = 24


def published_target() -> NDArray[np.float64]:
    """Return the published Lab (D50, 2 degree) of the classic 24-patch target, shape (24, 3).

    Patches in reading order, the neutral row last; source in ``data/SOURCES.md``.
    """
    text = (files("halfpan") / "data" / "target_24.csv").read_text("utf-8")
    rows = csv.DictReader(io.StringIO(text))
    return np.array([[float(row[c]) for c in ("L", "a", "b")] for row in rows])


def read_target_colours(path: Path) -> NDArray[np.float64]:
    """Return the user's own values for a target's 24 patches, in reading order.

    Parameters
    ----------
    path : a csv with columns L, a, b (or R_400 ... R_700), or a CGATS or CxF file, of 24 rows

    Raises
    ------
    UnreadableTable
        When there are not 24 usable rows.
    """
    from halfpan.files.instrument import read_measured

    table = read_measured(path)
    if len(table.rows) != PATCHES or table.problems:
        first = f" ({table.problems[0]})" if table.problems else ""
        raise UnreadableTable(
            f"{path.name} gives {len(table.rows)} usable colours where a target has {PATCHES}{first}; "
            "list the patches row by row, the greys last."
        )
    return np.array([row.lab for row in table.rows], dtype=np.float64)
