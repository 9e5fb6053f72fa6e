"""What was learnt of the paints, kept as plain numbers so that the next question need not learn it again.

It is worked out from readings and can be thrown away at any time. Each group of paints carries the mark of
the readings it was found from, so that only what was read anew is learnt anew.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import numpy as np

from halfpan import __version__
from halfpan.core.mixing.learnt import Learnt, Together
from halfpan.core.mixing.prior import Prior
from halfpan.files.whole import write_whole


def write_learnt(path: Path, learnt: Learnt) -> None:
    """Keep what was learnt."""
    arrays = {
        "version": np.array(__version__),
        "paints": np.array(learnt.paints, dtype=np.str_),
        "coefficients": learnt.coefficients,
        "unit": np.array(learnt.unit),
        "marks": np.array([group.mark for group in learnt.groups], dtype=np.str_),
    }
    for i, group in enumerate(learnt.groups):
        arrays[f"members_{i}"] = np.array(group.members, dtype=np.int64)
        arrays[f"covariance_{i}"] = group.covariance
    content = io.BytesIO()
    np.savez(content, allow_pickle=False, **arrays)
    write_whole(path, content.getvalue())


def read_learnt(path: Path, prior: Prior) -> Learnt | None:
    """Return what was kept, without its readings; none where this version of the program kept nothing."""
    try:
        with np.load(path, allow_pickle=False) as kept:
            if str(kept["version"]) != __version__:
                return None
            groups = tuple(
                Together(tuple(int(m) for m in kept[f"members_{i}"]), kept[f"covariance_{i}"], str(mark))
                for i, mark in enumerate(kept["marks"])
            )
            paints = tuple(str(paint) for paint in kept["paints"])
            return Learnt(paints, kept["coefficients"], groups, (), float(kept["unit"]), prior)
    except (OSError, ValueError, KeyError, zipfile.BadZipFile):
        return None
