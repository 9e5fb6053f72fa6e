"""What mixes of three paints really reach of what counts as reached, and against counting cubes of two.

Sets of several sizes are chosen out of the invented studio's paints and mixes of two of them: by the reach
table, and by cubes of Lab of side 8 that mixes of two fall into. The films are asked for every mix of three.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from choosing import PAPER, colours_of, paints
from halfpan.core.arranging.choosing import choose
from halfpan.core.arranging.reach import BAND, SECTOR, ReachTable, reach_table
from halfpan.core.colour.spaces import lab_to_lch
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.film import film_over

COUNT, RING, SIDE, PARTS = 66, 8, 8, 20
STRENGTHS = 0.5 ** np.arange(0, 4.5, 0.5)


def cube_table(pairs, colours):
    """Return a reach table whose cells are cubes of Lab, with two colours put in between two shares."""
    first, step = colours[:, :-1], np.diff(colours, axis=1)
    along = np.concatenate([*(first + step * k / 3 for k in range(3)), colours[:, -1:]], axis=1)
    cubes = np.floor(along.reshape(len(pairs), -1, 3) / SIDE).astype(int)
    names, which = np.unique(cubes.reshape(-1, 3), axis=0, return_inverse=True)
    flags = np.zeros((len(pairs), -(-len(names) // 64) * 64), dtype=bool)
    np.put_along_axis(flags, which.reshape(len(pairs), -1), True, axis=1)
    words = np.packbits(flags, axis=1, bitorder="little").view(np.uint64)
    bits = np.zeros((COUNT, COUNT, words.shape[1]), dtype=np.uint64)
    bits[pairs[:, 0], pairs[:, 1]] = bits[pairs[:, 1], pairs[:, 0]] = words
    return ReachTable(bits, (names + 0.5) * SIDE)


def mixes_of_three(chosen):
    """Return the colours of every mix of three of some paints, shape (n, 3)."""
    steps = range(PARTS + 1)
    parts = np.array([(i, j, PARTS - i - j) for i in steps for j in steps if i + j <= PARTS]) / PARTS
    found = []
    for three in combinations(chosen, 3):
        films = [STRENGTHS[:, None] * (parts @ of[list(three)])[:, None] for of in paints(COUNT)]
        found.append(reflectance_to_lab(film_over(*films, PAPER)).reshape(-1, 3))
    return np.concatenate(found)


def places(lab):
    """Return where colours lie: band of lightness, sector of hue, ring of chroma."""
    lightness, chroma, hue = np.moveaxis(lab_to_lch(lab), -1, 0)
    return [tuple(one) for one in np.stack([lightness // BAND, hue // SECTOR, chroma // RING], axis=-1)]


def told(table, chosen):
    """Return what share of the cells that count mixes of three reach, and how many cubes they fall into."""
    colours = mixes_of_three(chosen)
    there = set(places(colours))
    counted = places(table.cells[table.reached(chosen)] * [1, 0.999, 0.999])  # just inside the outer edge
    return np.mean([one in there for one in counted]), len(np.unique(colours // SIDE, axis=0))


def main():
    pairs, colours = colours_of(COUNT)
    table, cubes = reach_table(pairs, colours, COUNT), cube_table(pairs, colours)
    print(
        "| paints | cells counted | of these by three | cubes by three | the same, chosen by cubes of two |"
    )
    print("|---|---|---|---|---|")
    for wanted in (3, 4, 5, 6, 8, 10, 12, 16, 24):
        (ours,), (theirs,) = choose(table, wanted, sets=1), choose(cubes, wanted, sets=1)
        met, three = told(table, ours.paints)
        print(
            f"| {wanted} | {ours.cells} | {met:.1%} | {three} | {told(table, theirs.paints)[1]} |", flush=True
        )
    rng = np.random.default_rng(0)
    chance = [
        told(table, rng.choice(COUNT, rng.integers(6, 13), replace=False).tolist())[0] for _ in range(10)
    ]
    print(f"\nTen chance sets of 6 to 12: {min(chance):.1%} to {max(chance):.1%}")
    alone = colours[pairs[:, 0] == pairs[:, 1]][:, 0]
    _, chroma, hue = np.moveaxis(lab_to_lch(alone[:, 1]), -1, 0)
    for low, high in ((60, 100), (0, 50), (230, 310)):
        six = np.flatnonzero((hue >= low) & (hue < high) & (chroma > 20))[:6].tolist()
        met, _ = told(table, six)
        print(f"Six paints of hue {low} to {high}: {met:.1%} of {table.count(six)} cells")


if __name__ == "__main__":
    main()
