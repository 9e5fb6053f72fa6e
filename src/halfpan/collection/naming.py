"""Things the painter names: a tin, a paper, a light test is found by its name or its number."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol, TypeVar

from halfpan.errors import BadRequest


class Named(Protocol):
    """Something with a number and a name."""

    @property
    def id(self) -> Any:
        """Its number."""

    @property
    def name(self) -> str:
        """What the painter calls it."""


N = TypeVar("N", bound=Named)


def named(everything: Sequence[N], text: str | int, what: str) -> N:
    """Return the one of a name, capitals or not, or of a number.

    Parameters
    ----------
    everything : those there are
    text : the name or number
    what : what they are, in the singular, for the refusal

    Raises
    ------
    BadRequest
        When there is none.
    """
    wanted = str(text).strip().casefold()
    for one in everything:
        if wanted in {str(one.id), one.name.casefold()}:
            return one
    names = ", ".join(one.name for one in everything) or "none yet"
    raise BadRequest(f"There is no {what} “{text}” here; the {what}s are: {names}.")
