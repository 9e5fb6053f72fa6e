"""What was learnt of the paints, kept as plain numbers so that the next question need not learn it again.

It is worked out from readings and can be thrown away at any time. A mark made of the readings, the model and
the program's version says whether it is still true.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfpan import __version__
from halfpan.core.mixing.learnt import MODEL, Learnt
from halfpan.core.mixing.observation import Observation
from halfpan.core.mixing.prior import Prior
from halfpan.files.whole import write_whole


def mark_of(observations: Sequence[Observation], prior: Prior, unit: float | None) -> str:
    """Return the mark of everything the numbers depend on."""
    told = repr((__version__, MODEL, prior, unit, tuple(observations)))
    return sha256(told.encode()).hexdigest()


def write_learnt(path: Path, learnt: Learnt, mark: str) -> None:
    """Keep what was learnt."""
    arrays = {
        "mark": np.array(mark),
        "version": np.array(__version__),
        "paints": np.array(learnt.paints, dtype=np.str_),
        "coefficients": learnt.coefficients,
        "unit": np.array(learnt.unit),
    }
    for i, (members, covariance) in enumerate(learnt.groups):
        arrays[f"members_{i}"] = np.array(members, dtype=np.int64)
        arrays[f"covariance_{i}"] = covariance
    content = io.BytesIO()
    np.savez(content, allow_pickle=False, **arrays)
    write_whole(path, content.getvalue())


def read_learnt(path: Path, observations: Sequence[Observation], prior: Prior) -> tuple[Learnt, str] | None:
    """Return what was kept and its mark; none when there is nothing, or nothing that can be read."""
    try:
        with np.load(path, allow_pickle=False) as kept:
            groups: list[tuple[tuple[int, ...], NDArray[np.float64]]] = []
            while (name := f"members_{len(groups)}") in kept:
                members = tuple(int(m) for m in kept[name])
                groups.append((members, kept[f"covariance_{len(groups)}"]))
            learnt = Learnt(
                paints=tuple(str(p) for p in kept["paints"]),
                coefficients=kept["coefficients"],
                groups=tuple(groups),
                observations=(),
                unit=float(kept["unit"]),
                prior=prior,
            )
            mark = str(kept["mark"])
    except (OSError, ValueError, KeyError, zipfile.BadZipFile):
        return None
    return replace(learnt, observations=tuple(o for o in observations if o.recipe.paints)), mark
