"""Names of paints: when two are the same name, when they may be, and what a name promises.

A name is never identity. It is compared without accents, case and the trade's usual variants (phthalo for
phthalocyanine, lake for lacquer); anything beyond that is a "maybe".
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from rapidfuzz import fuzz, process

from halfpan.core.paint.index import Group, PigmentName, pigment_names

_VARIANTS = {
    "phthalocyanine": "phthalo", "phtalocyanine": "phthalo", "pthalocyanine": "phthalo",
    "phtalo": "phthalo", "pthalo": "phthalo", "thalo": "phthalo", "phtahlo": "phthalo",
    "lacquer": "lake", "lac": "lake", "gray": "grey", "color": "colour", "ocher": "ochre",
    "siena": "sienna", "quin": "quinacridone", "cad": "cadmium", "ultramarin": "ultramarine",
    "pyrrol": "pyrrole", "vandyke": "van dyke", "vandyck": "van dyke", "indanthrene": "indanthrone",
    "naphtol": "naphthol", "gs": "green shade", "rs": "red shade", "ys": "yellow shade",
    "bs": "blue shade", "carbazole": "dioxazine", "dioxine": "dioxazine", "aliz": "alizarin",
}  # fmt: skip
_MAYBE = 84.0
COLOUR_WORDS: Mapping[str, Group] = {
    "yellow": "yellow", "lemon": "yellow", "orange": "orange", "red": "red", "scarlet": "red",
    "crimson": "red", "vermilion": "red", "rose": "rose", "pink": "rose", "magenta": "rose",
    "violet": "violet", "purple": "violet", "mauve": "violet", "blue": "blue", "turquoise": "turquoise",
    "teal": "turquoise", "green": "green", "emerald": "green", "brown": "earth", "ochre": "earth",
    "sienna": "earth", "umber": "earth", "earth": "earth", "sepia": "earth", "grey": "neutral",
    "black": "black", "white": "white", "silver": "metallic", "bronze": "metallic",
    "copper": "metallic",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Promise:
    """A pigment that a paint's name speaks of. ``hue`` and ``genuine`` are words of the name itself."""

    named: PigmentName
    hue: bool
    genuine: bool


@lru_cache(maxsize=1 << 15)
def fold_name(name: str) -> str:
    """Return a name as it is compared: small letters, no accents or marks, usual variants made one."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c)).replace("ß", "ss")
    words = re.sub(r"[^\w]+", " ", re.sub(r"['’`]", "", plain)).split()
    return " ".join(_VARIANTS.get(word, word) for word in words)


def near_names(name: str, names: Iterable[str], *, at_least: float = _MAYBE) -> list[tuple[str, float]]:
    """Return the names that may be meant by ``name``, best first, with a likeness of 0-100.

    Notes
    -----
    Likeness is the normalised edit distance of the folded words in sorted order; 84 lets about one typing
    error in six letters pass (chosen by trial on common slips, no source).
    """
    choices = {other: fold_name(other) for other in names}
    found = process.extract(
        fold_name(name), choices, scorer=fuzz.token_sort_ratio, score_cutoff=at_least, limit=None
    )
    return [(other, score) for _, score, other in found]


def colour_words(name: str) -> list[Group]:
    """Return the colour groups that the words of a name speak of, in their order."""
    return [COLOUR_WORDS[word] for word in fold_name(name).split() if word in COLOUR_WORDS]


@lru_cache(maxsize=1 << 15)
def promises(name: str) -> tuple[Promise, ...]:
    """Return the pigments that a paint's name speaks of; the longest name counts, its words only once."""
    text = f" {fold_name(name)} "
    hue, genuine = " hue " in text, " genuine " in text
    found = []
    for folded, named in _folded_names():
        if folded in text:
            found.append(Promise(named, hue, genuine))
            text = text.replace(folded, " , ")
    return tuple(found)


@cache
def _folded_names() -> tuple[tuple[str, PigmentName], ...]:
    return tuple((f" {fold_name(named.name)} ", named) for named in pigment_names())
