"""All-pairs CIEDE2000 against colour-science, in one run: a ratio and the largest disagreement."""

from __future__ import annotations

import time
import warnings

import numpy as np

from halfpan.core.colour.difference import delta_e_2000_pairs

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

N = 5000


def main():
    rng = np.random.default_rng(0)
    lab = np.column_stack([rng.uniform(0, 100, N), rng.uniform(-90, 90, (N, 2))])
    start = time.process_time()
    ours = delta_e_2000_pairs(lab)
    mine = time.process_time() - start
    start = time.process_time()
    theirs = np.vstack(
        [colour.difference.delta_E_CIE2000(lab[i : i + 500, None], lab[None]) for i in range(0, N, 500)]
    )
    reference = time.process_time() - start
    print(
        f"| all pairs of {N} colours | halfpan {mine:.2f} s | colour-science {reference:.2f} s "
        f"| {reference / mine:.1f} x as fast | largest disagreement {np.abs(ours - theirs).max():.1e} |"
    )


if __name__ == "__main__":
    main()
