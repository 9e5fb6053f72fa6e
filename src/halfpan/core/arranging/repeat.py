"""How far two swatches of one paint lie apart when the same painter paints them: the measure of likeness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halfpan.core.arranging.painted import Painted, colours, hiding
from halfpan.core.colour.difference import delta_e_2000

Array = NDArray[np.float64]

GUESS = 4.0
GUESS_HIDING = 0.08


@dataclass(frozen=True, slots=True)
class Repeatability:
    """How far two swatches of one paint may lie apart, 95 %: CIEDE2000 at each strength, contrast ratio.

    ``measured`` is how many paints were painted several times for it; 0 means the guess.
    """

    masstone: float = GUESS
    mid: float = GUESS
    tint: float = GUESS
    hiding: float = GUESS_HIDING
    measured: int = 0

    def limits(self) -> Array:
        """Return the three limits of colour, shape (3,)."""
        return np.array([self.masstone, self.mid, self.tint])

    def in_words(self) -> str:
        """Say what the limits rest on."""
        if self.measured:
            paints = "one paint" if self.measured == 1 else f"{self.measured} paints"
            return f"Measured on {paints} that you painted several times."
        return (
            f"How far your own swatches of one paint differ is not measured yet: ΔE {GUESS:.0f} is assumed "
            "(2 to 5 are usual). Paint one paint three times and read it to know."
        )


def repeatability_from(repeats: Sequence[Sequence[Painted]]) -> Repeatability:
    """Return the repeatability of a painter from paints that were painted several times.

    Parameters
    ----------
    repeats : sequence of sequences
        For each paint, its swatches; paints with a single one are passed over.

    Notes
    -----
    The limit is 1.96 times the root mean square difference of pairs: the 95th percentile if the swatches
    differ along one line (mostly how much paint lies there), a little wide if they scatter all round. With
    few repeats it is rough, so their number stands beside it.
    """
    groups = [group for group in repeats if len(group) >= 2 and np.isfinite(colours(group)).any()]
    if not groups:
        return Repeatability()
    masstone, mid, tint = (
        _limit([_pair_differences(colours(group)[:, strength]) for group in groups], GUESS)
        for strength in range(3)
    )
    most = _limit([_pair_steps(hiding(group)) for group in groups], GUESS_HIDING)
    return Repeatability(masstone, mid, tint, most, measured=len(groups))


def _limit(pairs: Sequence[Array], guess: float) -> float:
    found = np.concatenate(pairs)
    found = found[np.isfinite(found)]
    return 1.96 * float(np.sqrt(np.mean(found**2))) if found.size else guess


def _pair_differences(labs: Array) -> Array:
    first, second = np.triu_indices(len(labs), 1)
    return delta_e_2000(labs[first], labs[second])


def _pair_steps(values: Array) -> Array:
    first, second = np.triu_indices(len(values), 1)
    return np.asarray(np.abs(values[first] - values[second]), dtype=np.float64)
