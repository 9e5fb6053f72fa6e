"""How well mixes are predicted, and how fast: the whole table of docs/science/mixing.md.

Real watercolours measured on paper (../shared/data/watercolour_mixtures; see its SOURCES.md). The model sees
colours only, never the spectra, and is scored on pairs it never saw: five folds by pair, several splits.

    python bench/mixing.py            three splits, everything
    python bench/mixing.py --quick    one split
    python bench/mixing.py --only chosen new-tube
"""

from __future__ import annotations

import argparse
from dataclasses import replace

from halfpan.core.mixing.prior import Prior
from mixes.invented import invented_studio
from mixes.learning import new_tube, seen_pairs, unseen_pairs
from mixes.painted import DATA, painted
from mixes.score import HEAD, Score
from mixes.speed import speed
from mixes.spoilt import rough_amounts, swapped, with_noise


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="one split instead of three")
    sections = ("unseen", "new-tube", "noise", "rough", "swapped", "ladders-trusted", "invented", "speed")
    parser.add_argument("--only", nargs="*", choices=sections, default=sections)
    wanted = parser.parse_args()
    if not DATA.is_dir():
        print("the measured mixtures in ../shared/data/watercolour_mixtures are absent: nothing to do")
        return
    data, prior, splits = painted(), Prior(), 1 if wanted.quick else 3
    print(f"{splits} split(s), five folds by pair; {prior}\n")
    tables = {
        "unseen": lambda: [*unseen_pairs(data, splits, prior), seen_pairs(data, splits, prior)],
        "new-tube": lambda: new_tube(data, prior),
        "noise": lambda: with_noise(data, splits, prior),
        "rough": lambda: rough_amounts(data, splits, prior),
        "invented": invented_studio,
        "ladders-trusted": lambda: unseen_pairs(
            data, 1, replace(prior, swatch_doubt=1.0, swatch_offset=1e-3)
        ),
    }
    for name in sections:
        if name not in wanted.only:
            continue
        print(f"## {name}\n")
        if name in tables:
            scores = tables[name]()
            print(HEAD, *(s.line() for s in scores), sep="\n")
            _ratios(scores)
        else:
            print(*(swapped(data, splits, prior) if name == "swapped" else speed(data)), sep="\n")
        print(flush=True)


def _ratios(scores: list[Score]) -> None:
    by_name = {s.name: s for s in scores}
    for count in (13, 26):
        if f"{count} random" in by_name:
            gain = 1 - by_name[f"{count} chosen"].mean / by_name[f"{count} random"].mean
            print(f"\n{count} chosen boxes err {100 * gain:.0f} % less than {count} random ones.")


if __name__ == "__main__":
    main()
