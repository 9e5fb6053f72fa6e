"""A pigment of the index, and the paints of the studio that contain it."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.index import Fact, Pigment, Substance, pigment, pigments, substances
from halfpan.core.paint.light_words import ASTM_SOURCE, what_it_means
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class PigmentShown:
    """A code, what the index knows of it (none: unknown), its substances, and the paints that carry it.

    ``astm_means`` says what its ASTM word stands for, where it has one.
    """

    code: str
    pigment: Pigment | None
    substances: tuple[Substance, ...]
    paints: tuple[Paint, ...]
    astm_means: Fact | None = None


def show_pigment(studio: Studio, text: str) -> PigmentShown:
    """Return what is known of a code.

    Raises
    ------
    BadRequest
        When the text is not one code.
    """
    read = parse_codes(text, pigments().keys())
    if len(read) != 1 or read[0].canonical is None:
        meant = f" {read[0].proposal}?" if len(read) == 1 and read[0].proposal else ""
        raise BadRequest(f"“{text}” is not one pigment code such as PB29 or PB15:3.{meant}")
    code = read[0].canonical
    known = pigment(code)
    with studio.look() as db:
        carriers = paints.containing(db, code)
    held = tuple(substances()[symbol] for symbol in known.hazards) if known else ()
    return PigmentShown(code, known, held, tuple(carriers), _astm_means(known))


def _astm_means(known: Pigment | None) -> Fact | None:
    meaning = what_it_means(known.astm.text) if known else None
    return Fact(meaning, "well known", ASTM_SOURCE) if meaning else None


def list_pigments(studio: Studio, *, owned: bool = False) -> list[tuple[str, Pigment | None, int]]:
    """Return codes with what is known of them and how many paints carry them.

    ``owned`` narrows the list to the codes of the studio's paints, unknown ones included.
    """
    with studio.look() as db:
        carried: dict[str, int] = {}
        for one in paints.listed(db):
            for code in set(one.codes):
                carried[code] = carried.get(code, 0) + 1
    codes = [*pigments(), *sorted(carried.keys() - pigments().keys())]
    return [(code, pigment(code), carried.get(code, 0)) for code in codes if not owned or code in carried]
