"""What a painter demands of a set of paints, turned into conditions by one witness; silence is not a yes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import nan

from halfpan.core.arranging.choosing import Conditions
from halfpan.core.arranging.painted import Painted
from halfpan.core.paint.cautions import check_unwanted, holds
from halfpan.core.paint.scales import Property
from halfpan.core.paint.witness import Witness, answers
from halfpan.errors import BadRequest

STRONG_DARK = 35.0  # L* of a masstone: Halfpan's own threshold for "a strong dark"


@dataclass(frozen=True, slots=True)
class Demands:
    """Demands on a set. ``by`` is the one witness that is asked about light and granulation.

    ``single`` takes single-pigment paints only, ``lasting`` those that hold in light, ``without`` substances
    or codes; ``granulating`` and ``dark`` ask for at least one. ``budget`` is in the currency of the prices.
    """

    single: bool = False
    lasting: bool = False
    by: Witness = "label"
    without: tuple[str, ...] = ()
    granulating: bool = False
    dark: bool = False
    budget: float | None = None
    must: frozenset[str] = frozenset()
    must_not: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Passed:
    """Which paints may be taken, and which were left out because a witness is silent about them."""

    conditions: Conditions
    refused: tuple[str, ...]
    unknown: tuple[str, ...]


def conditions_of(painted: Sequence[Painted], demands: Demands, among: Sequence[int]) -> Passed:
    """Return the conditions for `choosing.choose`, paints numbered as in ``painted``.

    Parameters
    ----------
    painted
        All paints of the reach table.
    demands : Demands
    among
        The numbers of those that may be looked at.

    Raises
    ------
    BadRequest
        When nothing is left, prices in several currencies meet a budget, or what is not wanted is unknown.
    """
    check_unwanted(demands.without)
    verdicts = {i: _may(painted[i], demands) for i in among}
    must = frozenset(i for i, one in enumerate(painted) if one.paint.id in demands.must)
    allowed = frozenset(i for i, verdict in verdicts.items() if verdict) | must
    groups = []
    if demands.granulating:
        groups.append(_at_least_one(painted, allowed, "granulation", demands.by))
    if demands.dark:
        groups.append(_darks(painted, allowed))
    conditions = Conditions(
        allowed=allowed,
        must=must,
        one_of=tuple(groups),
        price=_prices(painted, allowed, demands),
        budget=demands.budget,
    )
    return Passed(
        conditions,
        tuple(painted[i].paint.id for i, verdict in verdicts.items() if verdict is False and i not in must),
        tuple(painted[i].paint.id for i, verdict in verdicts.items() if verdict is None and i not in must),
    )


def _may(one: Painted, demands: Demands) -> bool | None:
    """Say whether a paint meets all demands; none when it is not known and nothing speaks against it."""
    told: list[bool | None] = [one.paint.id not in demands.must_not]
    if demands.single:
        told.append(len(set(one.paint.codes)) == 1 if one.paint.codes else None)
    if demands.lasting:
        doubtful = _answer(one, "light", demands.by)
        told.append(None if doubtful is None else not doubtful)
    for unwanted in demands.without:
        held = holds(one.paint, unwanted)
        told.append(None if held is None else not held)
    if demands.budget is not None:
        told.append(True if one.paint.price is not None else None)
    return False if False in told else None if None in told else True


def _answer(one: Painted, prop: Property, by: Witness) -> bool | None:
    statement = next(said for said in one.statements() if said.property == prop)
    return answers(prop, statement.by(by))


def _at_least_one(
    painted: Sequence[Painted], allowed: frozenset[int], prop: Property, by: Witness
) -> frozenset[int]:
    found = frozenset(i for i in allowed if _answer(painted[i], prop, by))
    if not found:
        raise BadRequest(f"No paint that may be taken is granulating by the {by}: ask another witness.")
    return found


def _darks(painted: Sequence[Painted], allowed: frozenset[int]) -> frozenset[int]:
    found = frozenset(
        i
        for i in allowed
        if (swatch := painted[i].swatch) and swatch.masstone and swatch.masstone[0] <= STRONG_DARK
    )
    if not found:
        raise BadRequest(f"No paint that may be taken was read as dark as L* {STRONG_DARK:g} in masstone.")
    return found


def _prices(painted: Sequence[Painted], allowed: frozenset[int], demands: Demands) -> tuple[float, ...]:
    if demands.budget is None:
        return ()
    currencies = {painted[i].paint.currency for i in allowed if painted[i].paint.price is not None}
    if len(currencies) > 1:
        raise BadRequest(f"The prices are in {', '.join(sorted(currencies))}: a budget needs one currency.")
    prices = (one.paint.price for one in painted)
    return tuple(nan if price is None else price for price in prices)
