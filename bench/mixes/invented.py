"""The whole way in the invented studio: print, paint, photograph and scan, read, learn; the truth is known.

One chart of all paints and one sheet of planned mixes of the tin; scored on every pair of the tin at 1:1, 1:3
and 3:1, full strength, against the true films.
"""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from itertools import combinations
from pathlib import Path

from halfpan.collection import tins
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.mixing.ground import ground_reflectance
from halfpan.core.mixing.learnt import learn
from halfpan.core.mixing.observation import Observation, Recipe
from halfpan.core.mixing.predict import FULL_STRENGTH, from_parts
from halfpan.demo.fill import fill_studio
from halfpan.demo.film import Film, film_at, mix_films
from halfpan.studio.painted_films import painted_films, usual_paper
from halfpan.studio.studio import open_studio
from mixes.score import Score

PARTS = ((1.0, 1.0), (1.0, 3.0), (3.0, 1.0))


def invented_studio() -> list[Score]:
    """Return the rows before and after the sheet of mixes was painted."""
    with tempfile.TemporaryDirectory() as folder:
        studio = open_studio(Path(folder) / "studio")
        filled = fill_studio(studio, Path(folder), now=datetime.now(UTC))
        with studio.look() as db:
            films, _ = painted_films(db)
            tin = tins.listed(db)[0].paints
        studio.close()
    own = {number: entry.film for number, entry in filled.paints.items()}
    read = {paint for film in films for paint in film.recipe.paints}
    asked = _asked([paint for paint in tin if paint in read], own, usual_paper(films))
    swatches = [film for film in films if film.single]
    boxes = len({film.box for film in films if not film.single})
    rows = {"invented studio, swatches alone": swatches, f"invented studio, {boxes} planned boxes": films}
    scores = []
    for name, known in rows.items():
        scores.append(Score.empty(name))
        scores[-1].add(learn(known), asked, asked)
    return scores


def _asked(
    paints: Sequence[str], films: Mapping[str, Film], paper: tuple[float, float, float]
) -> list[Observation]:
    """Return every pair with its true colour."""
    ground = ground_reflectance(paper)
    asked = []
    for a, b in combinations(paints, 2):
        for m, n in PARTS:
            true = film_at(mix_films([films[a], films[b]], [m / (m + n), n / (m + n)]), 1.0, ground)
            recipe = Recipe((from_parts(((a, m), (b, n)), FULL_STRENGTH),), paper)
            asked.append(Observation(recipe, tuple(reflectance_to_lab(true).tolist())))
    return asked
