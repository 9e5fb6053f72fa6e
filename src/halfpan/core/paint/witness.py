"""Label, literature, proof: three witnesses side by side, never merged into one value.

The label is what the maker prints, the literature what is published about the pigments of its codes, the
proof what your own charts, tests and eyes show. Where two of them can be compared and do not agree, a
sentence says so; where one is silent, its place is empty.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from halfpan.core.paint.finding import Finding
from halfpan.core.paint.index import Fact, Pigment, pigment
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch
from halfpan.core.paint.scales import PROPERTIES, WORDS, Property, level_of, scale_of

Witness = Literal["label", "literature", "proof"]
WITNESSES: tuple[Witness, ...] = ("label", "literature", "proof")

_SLACK = 0.02
_ONE_STEP = 1 / 3


@dataclass(frozen=True, slots=True)
class Said:
    """What one witness says: its words, and where they stand between 0 and 1 if that can be told."""

    text: str
    level: float | None = None


@dataclass(frozen=True, slots=True)
class Statement:
    """One property of a paint as its three witnesses tell it; an empty place is silence."""

    property: Property
    label: Said | None
    literature: Said | None
    proof: Said | None
    disagreement: str | None

    def by(self, witness: Witness) -> Said | None:
        """Return what one witness says."""
        return {"label": self.label, "literature": self.literature, "proof": self.proof}[witness]


def statements(paint: Paint, proof: Mapping[Property, Said] | None = None) -> tuple[Statement, ...]:
    """Return what the three witnesses say about light, transparency, granulation and staining.

    Parameters
    ----------
    paint : Paint
        Its label speaks for the maker, its codes lead to the literature.
    proof : mapping of property to Said, optional
        From `swatch_says`, `findings_say` and light tests.
    """
    proven = proof or {}
    return tuple(_statement(paint, prop, proven.get(prop)) for prop in PROPERTIES)


def label_says(paint: Paint, prop: Property) -> Said | None:
    """Return what the label prints about a property, word for word, with the direction of its scale."""
    printed = {
        "light": paint.label.lightfastness,
        "transparency": paint.label.transparency,
        "granulation": paint.label.granulation,
        "staining": paint.label.staining,
    }[prop]
    if not printed:
        return None
    scale = scale_of(prop, paint.label.scales)
    direction = f" ({scale})" if scale and scale != "words" else ""
    return Said(printed + direction, level_of(prop, printed, paint.label.scales))


def literature_says(codes: Sequence[str], prop: Property) -> Said | None:
    """Return what is published about the pigments of these codes; unknown codes are named as unknown.

    Notes
    -----
    In light the weakest pigment of a mixture decides. For the rest a mixture of unlike pigments has no one
    answer, so the level stays empty.
    """
    return _published(tuple(codes), prop)


@lru_cache(maxsize=8192)
def _published(codes: tuple[str, ...], prop: Property) -> Said | None:
    known = {code: pigment(code) for code in dict.fromkeys(codes)}
    facts = {code: _fact(found, prop) for code, found in known.items() if found}
    if not facts:
        return None
    told = [f"{code} {fact.text} ({fact.certainty})" for code, fact in facts.items()]
    told += [f"{code} unknown" for code in known if code not in facts]
    levels = [WORDS[prop][fact.text] for fact in facts.values()]
    if prop == "light":
        settled = max(levels) if len(facts) == len(known) or max(levels) > 0 else None
    else:
        alike = len(facts) == len(known) and max(levels) - min(levels) < _SLACK
        settled = levels[0] if alike else None
    return Said("; ".join(told), settled)


CANNOT_TELL = "cannot be told"


@dataclass(frozen=True, slots=True)
class GrainRule:
    """When a measured grain earns a word. Halfpan's own limits, to be turned as you like.

    A wash of the virtual painter without any grain reads up to 0.022 for unevenness alone, half of them
    up to 0.012, and one of a clearly granulating paint from 0.027; fifteen real washes, taken as scanned
    at 300 dots an inch, run from 0.013 (flat) to 0.074 (grainy). A paint is smooth when even the doubt
    stays under ``granulating_from``, granulating when it stays over ``even_wash``; in between there is no
    word.
    """

    even_wash: float = 0.015
    smooth_up_to: float = 0.020
    granulating_from: float = 0.027


def grain_word(value: float, within: float | None, rule: GrainRule | None = None) -> str | None:
    """Return "smooth" or "granulating", or none when a reading of grain cannot tell."""
    used, doubt = rule or GrainRule(), within or 0.0
    if value >= used.granulating_from and value - doubt >= used.even_wash:
        return "granulating"
    return "smooth" if value <= used.smooth_up_to and value + doubt <= used.granulating_from else None


def swatch_says(swatch: Swatch, grain: GrainRule | None = None) -> dict[Property, Said]:
    """Return what a painted and read box shows: transparency over the black line, and grain.

    Where the doubt spans several words of transparency, that is said: the box was tried, and cannot tell.
    """
    said: dict[Property, Said] = {}
    if swatch.transparency is not None or swatch.contrast_ratio is not None:
        ratio = ""
        if swatch.contrast_ratio is not None:
            around = f" ± {swatch.contrast_ratio_within:.2f}" if swatch.contrast_ratio_within else ""
            ratio = f", contrast ratio {swatch.contrast_ratio:.2f}{around}"
        level = WORDS["transparency"].get(swatch.transparency or "")
        text = f"{swatch.transparency or CANNOT_TELL} over the black line{ratio}"
        said["transparency"] = Said(text, level)
    if swatch.granulation is not None:
        around = f" ± {swatch.granulation_within:.3f}" if swatch.granulation_within is not None else ""
        word = grain_word(swatch.granulation, swatch.granulation_within, grain)
        level = None if word is None else WORDS["granulation"][word]
        text = f"grain {swatch.granulation:.3f}{around} above the paper's own"
        said["granulation"] = Said(f"{word}, {text}" if word else text, level)
    elif swatch.granulation_up_to is not None:
        said["granulation"] = _up_to(swatch.granulation_up_to, grain or GrainRule())
    return said


def _up_to(limit: float, rule: GrainRule) -> Said:
    """Return what an upper limit says: smooth where it lies under ``granulating_from``, else nothing."""
    text = f"grain no more than {limit:.3f}, too faint for its photo to say how much"
    smooth = limit <= rule.granulating_from
    return (
        Said(f"smooth, {text}", WORDS["granulation"]["smooth"]) if smooth else Said(f"{CANNOT_TELL}: {text}")
    )


def findings_say(findings: Sequence[Finding]) -> dict[Property, Said]:
    """Return what was last found by eye for each of the four properties."""
    said: dict[Property, Said] = {}
    for finding in findings:
        for prop in PROPERTIES:
            if finding.quality.strip().casefold() == prop:
                said[prop] = Said(finding.sentence, finding.level)
    return said


def answers(prop: Property, said: Said | None) -> bool | None:
    """Say whether a paint is transparent, granulating, staining or doubtful in light by one witness.

    Returns
    -------
    bool or None
        None when the witness is silent or cannot be compared. Transparent means transparent or
        semi-transparent; doubtful in light means anything short of holding.
    """
    if said is None or said.level is None:
        return None
    if prop == "transparency":
        return said.level <= _ONE_STEP + _SLACK
    return said.level >= {"light": 0.3, "granulation": 0.5, "staining": 0.5}[prop] - _SLACK


def _fact(found: Pigment, prop: Property) -> Fact:
    return {
        "light": found.light,
        "transparency": found.transparency,
        "granulation": found.granulation,
        "staining": found.staining,
    }[prop]


def _statement(paint: Paint, prop: Property, proof: Said | None) -> Statement:
    label, literature = label_says(paint, prop), literature_says(paint.codes, prop)
    said = (("the label", label), ("the literature", literature), ("your proof", proof))
    return Statement(prop, label, literature, proof, _disagreement(said))


def _disagreement(said: Sequence[tuple[str, Said | None]]) -> str | None:
    spoken = [(who, one) for who, one in said if one is not None and one.level is not None]
    apart = [
        (abs((a.level or 0) - (b.level or 0)), who, a, other, b)
        for index, (who, a) in enumerate(spoken)
        for other, b in spoken[index + 1 :]
    ]
    if not apart:
        return None
    far, who, a, other, b = max(apart, key=lambda pair: pair[0])
    if far < _ONE_STEP - _SLACK:
        return None
    verb = "differ by a step" if far < 2 * _ONE_STEP - _SLACK else "disagree"
    return f"{who[0].upper()}{who[1:]} and {other} {verb}: “{a.text}” against “{b.text}”."
