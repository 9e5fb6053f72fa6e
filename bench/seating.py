"""Seating 100 pans on 10 x 10: time, against chance and against a minute of plain annealing.

Paint sets: Munsell chips (three draws), the invented studio's paints, and the measured films
in ../shared/data when they are there. ``--seconds 60`` sets the annealer's time.
"""

from __future__ import annotations

import argparse
import csv
import math
import random
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
    """Plain annealing by swaps of two pans, the cost in plain Python."""
    chance = random.Random(seed)
    n = len(difference)
    pans = list(range(n))
    chance.shuffle(pans)
    steps, beside = difference.tolist(), [list(np.flatnonzero(row)) for row in near > 0]
    weights = near.tolist()
    start, heat, moves = time.perf_counter(), 20.0, 0
    while True:
        if moves % 2000 == 0:
            share = (time.perf_counter() - start) / seconds
            if share >= 1:
                return seating_cost(np.array(pans), difference, near)
            heat = 20.0 * (1.0 / 20.0) ** share
        moves += 1
        i, j = int(chance.random() * n), int(chance.random() * n)
        if i == j:
            continue
        a, b = steps[pans[i]], steps[pans[j]]
        change = sum(weights[i][k] * (b[pans[k]] - a[pans[k]]) for k in beside[i] if k != j)
        change += sum(weights[j][k] * (a[pans[k]] - b[pans[k]]) for k in beside[j] if k != i)
        if change < 0 or chance.random() < math.exp(-change / heat):
            pans[i], pans[j] = pans[j], pans[i]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, default=60)
    options, _ = parser.parse_known_args()
    near = nearness_matrix(tin_of_rows("ten by ten", ["10h"] * 10), Nearness(turn=0))
    sets = [(f"Munsell chips, draw {seed}", chips(seed)) for seed in (1, 2, 3)]
    sets.append(("invented studio", studio()))
    if SHARED.is_dir():
        sets.append(("measured films", films()))
    else:
        print("../shared/data is absent: the measured films are left out.\n")
    print("| paints | seconds | step / chance | against annealing | best of three | gap to a bound |")
    print("|---|---|---|---|---|---|")
    for name, difference in sets:
        start = time.process_time()
        seating = seat_pans(difference, near)
        took = time.process_time() - start
        three = min(seating.cost, *(seat_pans(difference, near, seed=seed).cost for seed in (1, 2)))
        rng = np.random.default_rng(0)
        chance = np.mean([mean_step(rng.permutation(100), difference, near) for _ in range(100)])
        annealed = anneal(difference, near, options.seconds, 0)
        print(
            f"| {name} | {took:.2f} | {mean_step(seating.pans, difference, near) / chance:.3f} "
            f"| {seating.cost / annealed - 1:+.1%} | {three / annealed - 1:+.1%} | {seating.gap:.0%} |",
            flush=True,
        )


if __name__ == "__main__":
    main()
