"""One row of the table: errors, and what the model had said about them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from halfpan.core.colour.difference import delta_e_76, delta_e_2000
from halfpan.core.mixing.films import arrange
from halfpan.core.mixing.learnt import Learnt
from halfpan.core.mixing.observation import Observation
from halfpan.core.mixing.trust import spread

LEVELS = (0.5, 0.8, 0.9, 0.95)


@dataclass
class Score:
    """Errors of one row of the table, with what the model had said about them."""

    name: str
    apart: list[np.ndarray]
    apart_76: list[np.ndarray]
    inside: list[np.ndarray]
    radius: list[np.ndarray]
    paints: list[tuple[str, ...]]

    @classmethod
    def empty(cls, name: str) -> Score:
        """Begin a row."""
        return cls(name, [], [], [], [], [])

    def add(self, learnt: Learnt, asked: list[Observation], truth: list[Observation], **how: float) -> None:
        """Score what was asked against what was painted."""
        expected = spread(learnt, arrange([o.recipe for o in asked], learnt.rows, learnt.unit), **how)
        lab = np.array([o.lab for o in truth])
        apart = delta_e_2000(expected.lab, lab)
        self.apart.append(apart)
        self.apart_76.append(delta_e_76(expected.lab, lab))
        self.inside.append(np.stack([apart <= expected.within(level) for level in LEVELS], axis=1))
        self.radius.append(expected.within())
        self.paints += [o.recipe.paints for o in truth]

    @property
    def mean(self) -> float:
        """Return the mean error."""
        return float(np.concatenate(self.apart).mean())

    def line(self) -> str:
        """Return the row of the table."""
        apart, near = np.concatenate(self.apart), np.concatenate(self.apart_76) < 5
        inside = np.concatenate(self.inside)
        worst = min(
            inside[[p in paints for paints in self.paints], 3].mean()
            for p in {p for paints in self.paints for p in paints}
        )
        covers = " / ".join(f"{100 * c:.0f}" for c in inside.mean(axis=0))
        return (
            f"| {self.name} | {apart.mean():.2f} | {np.median(apart):.2f} | {np.quantile(apart, 0.9):.2f} "
            f"| {100 * near.mean():.0f} % | {covers} | {100 * worst:.0f} "
            f"| {np.concatenate(self.radius).mean():.1f} |"
        )


HEAD = (
    "| boxes | mean dE00 | median | p90 | dE76 < 5 | 50 / 80 / 90 / 95 % radius covers "
    "| 95 % of the worst paint | mean 95 % radius |\n|---|---|---|---|---|---|---|---|"
)
