"""Seating 100 pans on 10 x 10: time, against chance and against a minute of plain annealing.

Paint sets: Munsell chips (three draws), the invented studio's paints, and the measured films
in ../shared/data when they are there. ``--seconds 60`` sets the annealer's time, ``--anneals 3`` begins it
three times and compares with the best.
"""

from __future__ import annotations

import argparse
import csv
import time
from pathlib import Path

import numpy as np

from halfpan.core.arranging.neighbours import Nearness, nearness_matrix
from halfpan.core.arranging.seating import mean_step, seat_pans, seating_cost
from halfpan.core.colour.difference import delta_e_2000, delta_e_2000_pairs
from halfpan.core.colour.notation import munsell_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.paint.tin import tin_of_rows

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data"
FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")


def chips(seed):
    """100 Munsell chips, half steps of hue, values 3-8, chromas 2-10."""
    names = [
        f"{h}{f} {v}/{c}" for f in FAMILIES for h in (5, 10) for v in range(3, 9) for c in (2, 4, 6, 8, 10)
    ]
    lab = []
    for name in np.random.default_rng(seed).permutation(names):
        try:
            lab.append(munsell_to_lab(str(name)))
        except ValueError:
            continue
        if len(lab) == 100:
            break
    return delta_e_2000_pairs(np.array(lab))


def films():
    """Every measured film of 13 real watercolours at 7 or 8 amounts, 100 in all."""
    with (SHARED / "watercolour_mixtures" / "films.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    bands = [name for name in rows[0] if name.startswith("R")]
    lab = reflectance_to_lab(np.array([[float(row[band]) for band in bands] for row in rows]))
    return delta_e_2000_pairs(lab[np.linspace(0, len(lab) - 1, 100).round().astype(int)])


def studio():
    """100 pans of the invented studio's paints, by masstone, mid and tint."""
    from halfpan.core.mixing.film import film_over
    from halfpan.demo.studio_paints import studio_paints

    paints = studio_paints()
    steps = np.array([1.0, 0.35, 0.12])
    paper = np.full(31, 0.86)
    lab = []
    for strength in (1.0, 0.7):
        for paint in paints:
            load = (steps * strength)[:, None]
            film = paint.film
            painted = film_over(load * film.absorption, load * film.scattering, paper)
            lab.append(reflectance_to_lab(painted))
    lab = np.array(lab[:100])
    return delta_e_2000(lab[:, None], lab[None]).mean(axis=-1)


def anneal(difference, near, seconds, seed):
    """Anneal by swaps of two pans for so many seconds of the processor; return the cost and the swaps tried.

    The heat falls from 20 to 1 by equal shares. Over six seeds of six million swaps in a compiled twin this
    did better than 10 to 1.5, 6 to 1, 4 to 0.5, 40 to 2 and 12 to 1.5, and as well as 30 to 0.5.
    """
    rng = np.random.default_rng(seed)
    pans = rng.permutation(len(difference)).tolist()
    steps = difference.tolist()
    beside = [[(int(k), float(row[k])) for k in np.flatnonzero(row)] for row in near]
    start, moves, share = time.process_time(), 0, 0.0
    while share < 1:
        limits = -20.0 * (1.0 / 20.0) ** share * np.log1p(-rng.random(_BLOCK))
        seats = rng.integers(0, len(pans), (2, _BLOCK)).tolist()
        for i, j, limit in zip(*seats, limits.tolist(), strict=True):
            first, second = pans[i], pans[j]
            a, b = steps[first], steps[second]
            change = 0.0
            for k, weight in beside[i]:
                if k != j:
                    change += weight * (b[pans[k]] - a[pans[k]])
            for k, weight in beside[j]:
                if k != i:
                    change += weight * (a[pans[k]] - b[pans[k]])
            if change < limit:
                pans[i], pans[j] = second, first
        moves += _BLOCK
        share = (time.process_time() - start) / seconds
    return seating_cost(np.array(pans), difference, near), moves


_BLOCK = 5000
_SEEDS = 5


def paint_sets():
    """Return the names of the paint sets and how to make them."""
    sets = {f"Munsell chips, draw {seed}": lambda seed=seed: chips(seed) for seed in (1, 2, 3)}
    sets["invented studio"] = studio
    if SHARED.is_dir():
        sets["measured films"] = films
    return sets


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60)
    parser.add_argument("--anneals", type=int, default=1, help="how often the annealing is begun")
    parser.add_argument("--only", default="", help="part of the name of a paint set")
    options, _ = parser.parse_known_args()
    near = nearness_matrix(tin_of_rows("ten by ten", ["10h"] * 10), Nearness(turn=0))
    if not SHARED.is_dir():
        print("../shared/data is absent: the measured films are left out.\n")
    print(
        "| paints | seconds | step / chance | against annealing: first seed | mean of five | worst "
        "| best of three | swaps tried | gap to a bound |"
    )
    print("|---|---|---|---|---|---|---|---|---|")
    for name, make in paint_sets().items():
        if options.only.lower() in name.lower():
            row(name, make(), near, options)


def row(name, difference, near, options):
    """Print the line of one paint set; the rival is the best of all annealings."""
    start = time.process_time()
    seatings = [seat_pans(difference, near, seed=seed) for seed in range(_SEEDS)]
    took = (time.process_time() - start) / _SEEDS
    costs = np.array([seating.cost for seating in seatings])
    rng = np.random.default_rng(0)
    chance = np.mean([mean_step(rng.permutation(100), difference, near) for _ in range(100)])
    annealed = [anneal(difference, near, options.seconds, seed) for seed in range(options.anneals)]
    rival, moves = min(cost for cost, _ in annealed), np.mean([tried for _, tried in annealed]) / 1e6
    against = costs / rival - 1
    print(
        f"| {name} | {took:.2f} | {mean_step(seatings[0].pans, difference, near) / chance:.3f} "
        f"| {against[0]:+.1%} | {against.mean():+.1%} | {against.max():+.1%} | {against[:3].min():+.1%} "
        f"| {moves:.1f} million | {seatings[0].gap:.0%} |",
        flush=True,
    )


if __name__ == "__main__":
    main()
