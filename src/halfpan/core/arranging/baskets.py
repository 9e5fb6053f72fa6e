"""A class list by code: what each line accepts, and the cheapest tubes that answer to all of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from halfpan.core.paint.codes import parse_codes
from halfpan.core.paint.contents import same_pigment
from halfpan.core.paint.index import pigment
from halfpan.core.paint.paint import Paint
from halfpan.errors import BadRequest


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a class list: the code wanted first, then the teacher's own alternates."""

    codes: tuple[str, ...]

    def accepts(self, paint: Paint) -> bool:
        """Whether a paint is made of one of these pigments and no other."""
        codes = set(paint.codes)
        return len(codes) == 1 and any(same_pigment(next(iter(codes)), code) for code in self.codes)


@dataclass(frozen=True, slots=True)
class Twin:
    """Another code of the same chemistry: an alternate to think about, never taken unasked."""

    code: str
    of: str


@dataclass(frozen=True, slots=True)
class Basket:
    """The cheapest tubes for one student.

    ``tubes`` are (line, paint) by number and id; ``price`` their sum, one paint counted once. ``unpriced``
    are lines with paints whose price is unknown, ``unmet`` lines nothing answers to.
    """

    tubes: tuple[tuple[int, str], ...]
    price: float
    currency: str
    unpriced: tuple[int, ...]
    unmet: tuple[int, ...]


def read_line(text: str) -> Line:
    """Return the line that a text such as ``PB29`` or ``PR101 / PR102`` means.

    Raises
    ------
    BadRequest
        When a part of it is no pigment code.
    """
    codes = []
    for part in text.replace(" or ", "/").split("/"):
        read = parse_codes(part)
        if len(read) != 1 or read[0].canonical is None:
            raise BadRequest(f"“{part.strip()}” is not one pigment code; write PB29, or PR101 / PR102.")
        codes.append(read[0].canonical)
    return Line(tuple(dict.fromkeys(codes)))


def twins(line: Line, known: Sequence[str]) -> tuple[Twin, ...]:
    """Return codes out of ``known`` that share chemistry and hue group with a code of the line."""
    found = []
    for code in line.codes:
        own = pigment(code)
        for other in known:
            theirs = pigment(other)
            if own is None or theirs is None or not own.constitution or other in line.codes:
                continue
            if own.constitution == theirs.constitution and own.group == theirs.group:
                found.append(Twin(other, code))
    return tuple(found)


def cheapest_basket(lines: Sequence[Line], offered: Sequence[Paint], currency: str = "") -> Basket:
    """Return the cheapest paints that answer to every line that can be met.

    Parameters
    ----------
    lines
        Of the class list.
    offered
        Paints with prices, whoever sells them; a paint without a price is never taken.
    currency
        Which prices count; needed only where there are several.

    Raises
    ------
    BadRequest
        When prices are in several currencies and none is named.
    """
    priced = [one for one in offered if one.price is not None and any(line.accepts(one) for line in lines)]
    currencies = sorted({one.currency for one in priced})
    if not currency and len(currencies) > 1:
        raise BadRequest(f"The prices are in {', '.join(currencies)}: say which of them counts.")
    counted = currency or (currencies[0] if currencies else "")
    priced = [one for one in priced if one.currency == counted]
    accepts = np.array([[line.accepts(one) for one in priced] for line in lines], dtype=bool)
    accepts = accepts.reshape(len(lines), len(priced))
    met = accepts.any(axis=1)
    bought = _fewest_coins(np.array([one.price for one in priced], dtype=float), accepts[met])
    tubes = []
    for line in np.flatnonzero(met):
        answers = [i for i in bought if accepts[line, i]]
        tubes.append((int(line), priced[min(answers, key=lambda i: (priced[i].price or 0.0, i))].id))
    open_ = [int(line) for line in np.flatnonzero(~met)]
    unpriced = tuple(line for line in open_ if any(lines[line].accepts(one) for one in offered))
    return Basket(
        tuple(tubes),
        float(sum(priced[i].price or 0.0 for i in bought)),
        counted,
        unpriced,
        tuple(line for line in open_ if line not in unpriced),
    )


def _fewest_coins(price: np.ndarray, accepts: np.ndarray) -> list[int]:
    """Return which paints to buy so that every line has one and the sum is least: an exact small cover."""
    if not len(accepts):
        return []
    answer = milp(
        price,
        constraints=LinearConstraint(accepts.astype(float), 1, np.inf),
        integrality=np.ones(len(price)),
        bounds=Bounds(0, 1),
    )
    return np.flatnonzero(answer.x > 0.5).tolist()
