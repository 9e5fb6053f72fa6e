"""Choosing 12 of 200 paints: time, and how far from the best there is.

The paints are the invented studio's and mixes of two of them, with their own films. The best is proved where
time allows; where it does not, what no set can pass stands beside the best of many chance beginnings.
``--seconds`` is the most time of the proof; chance beginnings get a quarter of it,
30 at most; ``--only 8-of-40`` asks one task; ``--milp SECONDS`` also asks scipy's ``milp`` on the plain task.
"""

from __future__ import annotations

import argparse
import time

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array, vstack

from halfpan.core.arranging.choosing import Conditions, _swap, choose
from halfpan.core.arranging.choosing_proof import prove_choice
from halfpan.core.arranging.reach import reach_table
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.film import film_over
from halfpan.demo.studio_paints import studio_paints

SHARES = np.array([0, 1 / 9, 1 / 5, 1 / 3, 1 / 2, 2 / 3, 4 / 5, 8 / 9, 1])
STRENGTHS = np.array([1, 1 / 2, 1 / 4, 1 / 8, 1 / 16])
PAPER = np.full(31, 0.86)


def paints(count):
    """Return absorption and scattering of the studio's paints, filled up with mixes of two of them."""
    films = [entry.film for entry in studio_paints()]
    absorption, scattering = (np.array([getattr(f, k) for f in films]) for k in ("absorption", "scattering"))
    rng = np.random.default_rng(0)
    first, second = rng.integers(0, len(films), (2, max(0, count - len(films))))
    share = rng.uniform(0.2, 0.8, (len(first), 1))
    more = [x[first] * share + x[second] * (1 - share) for x in (absorption, scattering)]
    return tuple(np.vstack([x, y])[:count] for x, y in zip((absorption, scattering), more, strict=True))


def colours_of(count):
    """Return the pairs of so many paints and their colours, shape (pairs, shares, strengths, 3)."""
    absorption, scattering = paints(count)
    pairs = np.array([(i, j) for i in range(count) for j in range(i, count)])
    share, strength = SHARES[None, :, None, None], STRENGTHS[None, None, :, None]
    colours = []
    for block in np.array_split(pairs, max(1, len(pairs) // 500)):
        K, S = (
            strength * (x[block[:, 0]][:, None, None] * (1 - share) + x[block[:, 1]][:, None, None] * share)
            for x in (absorption, scattering)
        )
        colours.append(reflectance_to_lab(film_over(K, S, PAPER)))
    return pairs, np.concatenate(colours)


def table_of(count):
    """Return the reach table of so many paints and the seconds it took."""
    start = time.process_time()
    table = reach_table(*colours_of(count), count)
    return table, time.process_time() - start


def best_of_many_swaps(table, wanted, seconds):
    """Return the most cells found by swaps of one paint from chance beginnings, and how many beginnings."""
    rng, start, best, tries = np.random.default_rng(1), time.process_time(), 0, 0
    allowed = np.ones(table.paints, dtype=bool)
    while time.process_time() - start < seconds:
        begin = rng.choice(table.paints, wanted, replace=False).tolist()
        best = max(best, table.count(_swap(table, begin, allowed, Conditions())))
        tries += 1
    return best, tries


def by_milp(table, wanted, seconds):
    """Return what scipy's milp finds on the plain task, and what it says none can pass.

    Plain: a pair needs both its paints, a cell one of its pairs.
    """
    n, cells = table.paints, len(table.cells)
    first, second = np.triu_indices(n)
    words = table.bits[first, second].view(np.uint8)
    covers = np.unpackbits(words, axis=-1, bitorder="little")[:, :cells].astype(bool)
    kinds, weight = np.unique(covers, axis=1, return_counts=True)
    pairs, kind = np.nonzero(kinds)
    each, of_kind = np.arange(len(first)), np.arange(len(weight))
    size = n + len(first) + len(weight)
    rows = [
        coo_array((np.repeat([1.0, -1.0], len(a)), (np.tile(each, 2), np.r_[n + each, a])), (len(a), size))
        for a in (first, second)
    ]
    values = np.r_[np.ones(len(weight)), -np.ones(len(kind))]
    where = (np.r_[of_kind, kind], np.r_[n + len(first) + of_kind, n + pairs])
    rows.append(coo_array((values, where), (len(weight), size)))
    chosen = np.r_[np.ones(n), np.zeros(size - n)]
    answer = milp(
        -np.r_[np.zeros(n + len(first)), weight],
        constraints=[
            LinearConstraint(vstack(rows).tocsr(), -np.inf, 0),
            LinearConstraint(chosen[None], wanted, wanted),
        ],
        integrality=chosen,
        bounds=Bounds(0, 1),
        options={"time_limit": seconds},
    )
    found = "none" if answer.fun is None else f"{-answer.fun:.0f}"
    return found, f"{-answer.mip_dual_bound:.0f}"


TASKS = ((4, 20), (6, 24), (6, 30), (8, 40), (10, 40), (8, 60), (12, 66), (12, 200))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--only", default="")
    parser.add_argument("--milp", type=float, default=0)
    options, _ = parser.parse_known_args()
    print(
        "| task | reach table | choosing (three sets) | reached | none can pass | short of that "
        "| proof took | best of chance beginnings |"
    )
    print("|---|---|---|---|---|---|---|---|")
    for wanted, count in TASKS:
        if options.only in {"", f"{wanted}-of-{count}"}:
            row(wanted, count, options.seconds, options.milp)


def row(wanted, count, seconds, milp_seconds):
    """Print the line of one task."""
    table, made = table_of(count)
    start = time.process_time()
    answers = choose(table, wanted)
    took = time.process_time() - start
    start = time.process_time()
    proof = prove_choice(table, wanted, Conditions(), seconds=seconds, clock=time.process_time)
    proving = time.process_time() - start
    best, tries = best_of_many_swaps(table, wanted, min(30, seconds / 4))
    reached = answers[0].cells
    print(
        f"| {wanted} of {count} | {made:.1f} s | {took:.3f} s | {reached} of {len(table.cells)} "
        f"({answers[0].share:.0%}) | {proof.bound}{' (proved)' if proof.proved else ''} "
        f"| {1 - reached / proof.bound:.2%} | {proving:.1f} s | {best} of {tries} |",
        flush=True,
    )
    if milp_seconds:
        start = time.process_time()
        found, most = by_milp(table, wanted, milp_seconds)
        print(f"milp: {found}, none can pass {most}, {time.process_time() - start:.1f} s", flush=True)


if __name__ == "__main__":
    main()
