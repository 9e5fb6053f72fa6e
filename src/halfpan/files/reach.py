"""A reach table kept as plain numbers, with the mark of all it depends on. It may be thrown away."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path

import numpy as np

from halfpan import __version__
from halfpan.core.arranging.reach import BAND, CORE, SECTOR, ReachTable
from halfpan.core.mixing.learnt import MODEL, Learnt
from halfpan.files.whole import write_whole


def mark_of_reach(learnt: Learnt, paints: Sequence[str], ground: Sequence[float]) -> str:
    """Return the mark of everything a reach table depends on, the version of the program included."""
    rows = [learnt.rows[paint] for paint in paints]
    told = repr((__version__, MODEL, BAND, SECTOR, CORE, learnt.prior, tuple(paints), tuple(ground))).encode()
    return sha256(told + learnt.coefficients[rows].tobytes()).hexdigest()


def write_reach(path: Path, table: ReachTable, mark: str) -> None:
    """Keep a reach table."""
    content = io.BytesIO()
    version = np.array(__version__)
    np.savez_compressed(
        content, allow_pickle=False, bits=table.bits, cells=table.cells, mark=np.array(mark), version=version
    )
    write_whole(path, content.getvalue())


def read_reach(path: Path, mark: str) -> ReachTable | None:
    """Return the table that was kept under this mark; none when there is none, or it is of another mark."""
    try:
        with np.load(path, allow_pickle=False) as kept:
            if str(kept["mark"]) != mark:
                return None
            return ReachTable(kept["bits"], kept["cells"])
    except (OSError, ValueError, KeyError, zipfile.BadZipFile):
        return None
