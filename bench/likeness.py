"""All duplicates and look-alikes among 5,000 painted paints, and all pairs of colours against the library.

Run: ``python bench/likeness.py``. Times are of this machine; the last line is a ratio inside one run.
"""

from __future__ import annotations

from time import perf_counter

import colour
import numpy as np

from halfpan.core.arranging.kin import find_kin
from halfpan.core.arranging.likeness import find_likenesses
from halfpan.core.arranging.order import in_order
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.difference import delta_e_2000_pairs
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.demo.film import film_at
from halfpan.demo.studio_paints import studio_paints

COUNT = 5000
PAPER = np.full(31, 0.86)


def paints(rng):
    made = []
    sources = studio_paints()
    for k in range(COUNT):
        source = sources[k % len(sources)]
        labs = reflectance_to_lab(
            film_at(source.film, rng.normal(1, 0.15) * np.array([1.0, 0.12, 0.04]), PAPER)
        )
        labs = labs + rng.normal(
            0, [4.0, 6.0, 6.0], 3
        )  # another paint of that kind, not another swatch of it
        key = f"p{k}"
        paint = Paint(key, f"Maker {k % 40}", "Range", f"{source.paint.name} {k % 7}", source.paint.codes)
        made.append(Painted(paint, Swatch("A1", key, paint.name, *(tuple(lab.tolist()) for lab in labs))))
    return made


def timed(what, work):
    start = perf_counter()
    answer = work()
    print(f"{what:52s} {perf_counter() - start:6.2f} s")
    return answer


def main():
    everything = paints(np.random.default_rng(7))
    found = timed(
        f"duplicates and look-alikes of {COUNT} paints", lambda: find_likenesses(everything, Repeatability())
    )
    print(f"  {len(found)} pairs")
    timed(f"cousins and namesakes of {COUNT} paints", lambda: find_kin(everything, Repeatability()))
    timed(f"order of {COUNT} paints", lambda: in_order(everything))
    labs = np.array([one.swatch.mid for one in everything])
    pairs = timed("all pairs, CIEDE2000, here", lambda: delta_e_2000_pairs(labs))
    start = perf_counter()
    for row in range(0, COUNT, 250):  # in blocks, so that the library need not hold 25 million rows at once
        reference = colour.delta_E(labs[row : row + 250, None], labs[None], method="CIE 2000")
        assert np.abs(reference - pairs[row : row + 250]).max() < 1e-4
    library = perf_counter() - start
    start = perf_counter()
    delta_e_2000_pairs(labs)
    print(
        f"all pairs are {library / (perf_counter() - start):.1f} times as fast as colour-science, within 1e-4"
    )


if __name__ == "__main__":
    main()
