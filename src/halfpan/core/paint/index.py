"""What is published about pigments, each fact with its certainty and the kind of its source.

A code that is not in the index stays unknown: `pigment` answers none and nobody fills the gap. The facts
are about pigments in general; what your own paint does is the proof's to say.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Literal

Certainty = Literal["published", "well known", "fairly sure", "weak or varies by make"]
Group = Literal[
    "yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green",
    "earth", "neutral", "black", "white", "metallic",
]  # fmt: skip

_CERTAINTY: Mapping[str, Certainty] = {
    "S": "published",
    "A": "well known",
    "B": "fairly sure",
    "C": "weak or varies by make",
}
_TRANSPARENCY = {"T": "transparent", "ST": "semi-transparent", "SO": "semi-opaque", "O": "opaque"}
_GRANULATING = {"Y": "granulating", "some": "somewhat granulating", "N": "smooth"}
_STAINING = {
    "low": "lifts",
    "low-med": "mostly lifts",
    "med": "stains somewhat",
    "med-high": "stains",
    "high": "stains strongly",
}
_FADES = {"Y": "fugitive", "partial": "doubtful", "N": "holds"}


@dataclass(frozen=True, slots=True)
class Fact:
    """One statement of the literature: its words, how sure they are, and where they come from."""

    text: str
    certainty: Certainty
    source: str


@dataclass(frozen=True, slots=True)
class Pigment:
    """One Colour Index name and what is known of it.

    ``astm`` is the ASTM word for watercolour ("not listed" where the list had no entry); ``other_light``
    what other tests say; ``light`` the index's own summary of both: holds, doubtful or fugitive.
    ``hazards`` are substances by their symbol or name, see `substances`; ``hazard_note``
    narrows them where a code has many faces.
    """

    code: str
    name: str
    chemistry: str
    group: Group
    constitution: tuple[str, ...]
    origin: Fact
    astm: Fact
    other_light: Fact | None
    light: Fact
    transparency: Fact
    granulation: Fact
    staining: Fact
    hazards: tuple[str, ...]
    hazard_note: str
    hazard_certainty: Certainty
    constitution_certainty: Certainty
    sources: str
    note: str

    @property
    def solid_solution(self) -> bool:
        """Whether it is two structures in one crystal: two constitution numbers under one code."""
        return len(self.constitution) > 1 and self.chemistry == "quinacridone"


@dataclass(frozen=True, slots=True)
class PigmentName:
    """A name on labels and the codes it stands for. ``traditional``: the substance is seldom in it today."""

    name: str
    codes: tuple[str, ...]
    traditional: bool
    certainty: Certainty
    note: str


@dataclass(frozen=True, slots=True)
class Substance:
    """A substance that pigments may hold, and what is cautioned about it."""

    symbol: str
    name: str
    caution: Fact


def pigment(code: str) -> Pigment | None:
    """Return what is known of a canonical code, or none: unknown."""
    return pigments().get(code)


@cache
def pigments() -> Mapping[str, Pigment]:
    """Return the whole index, by code, in its own order."""
    return MappingProxyType({row["code"]: _pigment(row) for row in _rows("pigments.csv")})


@cache
def pigment_names() -> tuple[PigmentName, ...]:
    """Return the names that promise a pigment, the longest first."""
    names = [
        PigmentName(
            row["name"],
            tuple(row["codes"].split()),
            row["kind"] == "traditional",
            _CERTAINTY[row["certainty"]],
            row["note"],
        )
        for row in _rows("pigment_names.csv")
    ]
    return tuple(sorted(names, key=lambda n: -len(n.name)))


@cache
def substances() -> Mapping[str, Substance]:
    """Return the substances that `Pigment.hazards` speaks of, by their symbol."""
    return MappingProxyType(
        {
            row["symbol"]: Substance(
                row["symbol"], row["name"], Fact(row["caution"], _CERTAINTY[row["certainty"]], row["source"])
            )
            for row in _rows("substances.csv")
        }
    )


@cache
def codes_by_constitution() -> Mapping[str, tuple[str, ...]]:
    """Return the codes that share each constitution number: one structure may have several codes."""
    shared: dict[str, tuple[str, ...]] = {}
    for known in pigments().values():
        for number in known.constitution:
            shared[number] = (*shared.get(number, ()), known.code)
    return MappingProxyType(shared)


def _rows(file: str) -> Iterator[dict[str, str]]:
    text = resources.files("halfpan.data").joinpath(file).read_text(encoding="utf-8")
    return iter(csv.DictReader(text.splitlines()))


def _pigment(row: dict[str, str]) -> Pigment:
    def fact(text: str, certainty: str) -> Fact:
        sure = _CERTAINTY[row[f"cert_{certainty}"]]
        from_where = row["sources"] if sure == "published" else "compiled from memory, no single source"
        return Fact(text, sure, from_where)

    return Pigment(
        code=row["code"],
        name=row["name"],
        chemistry=row["chemistry"],
        group=_group(row["group"]),
        constitution=tuple(number for number in row["constitution"].split(",") if number),
        origin=fact(row["origin"], "origin"),
        astm=fact(row["astm_watercolour"], "light"),
        other_light=fact(row["other_light"], "light") if row["other_light"] else None,
        light=fact(_FADES[row["fades"]], "light"),
        transparency=fact(_TRANSPARENCY[row["transparency"]], "transparency"),
        granulation=fact(_GRANULATING[row["granulating"]], "granulating"),
        staining=fact(_STAINING[row["staining"]], "staining"),
        hazards=tuple(part.partition(" (")[0] for part in row["hazard"].split(";") if part),
        hazard_note=" ".join(
            part.partition(" (")[2].rstrip(")") for part in row["hazard"].split(";")
        ).strip(),
        hazard_certainty=_CERTAINTY[row["cert_hazard"]],
        constitution_certainty=_CERTAINTY[row["cert_constitution"]],
        sources=row["sources"],
        note=row["note"],
    )


def _group(text: str) -> Group:
    for group in GROUPS:
        if group == text:
            return group
    raise ValueError(f"the packaged index holds an unknown group {text!r}")


GROUPS: tuple[Group, ...] = (
    "yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green",
    "earth", "neutral", "black", "white", "metallic",
)  # fmt: skip
