"""Is the label's text in order? Codes that cannot be read, do not exist, or do not fit the paint's name.

Every remark has one of three levels. *Changed*: the code is clear, its spelling was brought into form and
the original kept. *Asked*: a person has to answer; a proposal may stand beside it. *Noted*: in order, but
worth knowing. Nothing is refused and nothing is corrected here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from halfpan.core.paint.codes import Code, parse_codes
from halfpan.core.paint.contents import NameCheck, check_name
from halfpan.core.paint.index import Group, codes_by_constitution, pigment, pigments
from halfpan.core.paint.names import colour_words, fold_name

Level = Literal["changed", "asked", "noted"]

_WHEEL = ("yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green")
_NATURAL_WORDS = {"natural", "genuine"}
_SYNTHETIC_WORDS = {"mars", "synthetic"}
_SHADES = {("PB15", "green shade"): "PB15:3", ("PB15", "red shade"): "PB15:6"}


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing to tell about a label: on which piece, what, and what it may have been meant for."""

    level: Level
    about: str
    text: str
    proposal: str | None = None


@dataclass(frozen=True, slots=True)
class Checked:
    """A label's codes as they can be read now, and every remark on them."""

    codes: tuple[str, ...]
    read: tuple[Code, ...]
    remarks: tuple[Remark, ...]

    @property
    def asks(self) -> bool:
        """Whether a person has to answer something."""
        return any(remark.level == "asked" for remark in self.remarks)


def check_label(name: str, codes: str) -> Checked:
    """Check what a label prints.

    Parameters
    ----------
    name : str
        The paint's name; it gives evidence for or against a code.
    codes : str
        The codes as printed or typed, in one text.

    Returns
    -------
    Checked
        ``codes`` holds only what can be read without a person's answer.
    """
    read = parse_codes(codes, pigments().keys())
    clear = tuple(code.canonical for code in read if code.canonical)
    remarks = [
        *(remark for code in read for remark in _spelling(code)),
        *(remark for code in read for remark in _existence(code, name)),
        *_repeats(clear),
        *(remark for check in check_name(name, clear) for remark in _name_remarks(check, clear)),
        *_shade(name, clear),
        *_origin(name, clear),
        *_colour(name, clear),
    ]
    if not read:
        remarks.append(Remark("noted", codes.strip(), "No pigment code is given: what is in it is unknown."))
    return Checked(clear, read, tuple(remarks))


def _spelling(code: Code) -> Iterator[Remark]:
    if code.problem is None:
        return
    if code.canonical:
        text = code.problem[0].upper() + code.problem[1:]
        yield Remark("changed", code.as_written, f"{text}. Read as {code.canonical}.", code.canonical)
        return
    proposal = code.proposal
    text = f"“{code.as_written}”: {code.problem}."
    number = re.search(r"\d{5,6}(?::\d)?", code.as_written)
    if proposal is None and number:
        shared = codes_by_constitution().get(number.group(), ())
        proposal = shared[0] if len(shared) == 1 else None
        text += f" It belongs to {' or '.join(shared)}." if shared else " This index does not know it."
    yield Remark("asked", code.as_written, text, proposal)


def _existence(code: Code, name: str) -> Iterator[Remark]:
    if code.canonical is None:
        return
    known = pigment(code.canonical)
    if known is None:
        yield _unknown(code.canonical, code.as_written, name)
    elif code.constitution and known.constitution and code.constitution not in known.constitution:
        owners = " or ".join(codes_by_constitution().get(code.constitution, ())) or "no code of this index"
        text = f"{code.constitution} stands beside {known.code}, yet it belongs to {owners}."
        yield Remark("asked", code.as_written, text)


def _unknown(code: str, written: str, name: str) -> Remark:
    number = re.sub(r"^\D+", "", code)
    elsewhere = [
        other for other in pigments() if other[0] == code[0] and re.sub(r"^\D+", "", other) == number
    ]
    words = colour_words(name)
    fitting = [other for other in elsewhere if pigments()[other].group in words]
    if fitting:
        return Remark("asked", written, f"{code} is not in this index; {fitting[0]} is.", fitting[0])
    missed = [check.promise.named for check in check_name(name, [code]) if check.kept is False]
    if missed:
        text = f"{code} is not in this index, and the name speaks of {missed[0].name}"
        return Remark("asked", written, f"{text} ({' or '.join(missed[0].codes[:3])}).", missed[0].codes[0])
    also = f"; {' and '.join(elsewhere[:2])} would be known" if elsewhere else ""
    return Remark("noted", written, f"{code} is not in this index{also}. Nothing is said about it: unknown.")


def _repeats(codes: Sequence[str]) -> Iterator[Remark]:
    for code in dict.fromkeys(codes):
        if codes.count(code) > 1:
            yield Remark("asked", code, f"{code} stands more than once.")


def _name_remarks(check: NameCheck, codes: Sequence[str]) -> Iterator[Remark]:
    named, about = check.promise.named, " + ".join(codes)
    if check.kept and check.promise.hue:
        yield Remark("asked", about, check.sentence)
    elif check.kept is False:
        certain = not (named.traditional or check.promise.hue)
        if len(codes) == 1 and pigment(codes[0]) is None:
            return  # said already: not in the index, and not what the name speaks of
        proposal = named.codes[0] if certain and len(codes) == 1 else None
        yield Remark(
            "asked" if certain or check.promise.genuine else "noted", about, check.sentence, proposal
        )
    elif check.kept is None:
        yield Remark("noted", about, check.sentence)


def _shade(name: str, codes: Sequence[str]) -> Iterator[Remark]:
    for (code, shade), form in _SHADES.items():
        if code in codes and shade in fold_name(name):
            yield Remark("asked", code, f"The name says {shade}; {code} does not say which form.", form)
    if "PB15" in codes and not any(shade in fold_name(name) for _, shade in _SHADES):
        yield Remark("noted", "PB15", "PB15 without a colon number does not say which form.")


def _origin(name: str, codes: Sequence[str]) -> Iterator[Remark]:
    words = set(fold_name(name).split())
    if words & {"sienna", "umber", "ochre"} and not words & _NATURAL_WORDS:
        for code in sorted({"PR101", "PY42", "PBr6"} & set(codes)):
            text = f"{code} is a synthetic oxide; the earth of that name would be PBr7, PY43 or PR102."
            yield Remark("noted", code, text)
    for code in codes:
        known = pigment(code)
        if known is None or known.chemistry not in {"iron oxide", "iron oxide earth"}:
            continue
        other = {"PY42": "PY43", "PY43": "PY42", "PR101": "PR102", "PR102": "PR101"}.get(code)
        if words & _NATURAL_WORDS and known.origin.text == "synthetic":
            yield Remark("asked", code, f"The name says natural; {code} is a synthetic oxide.", other)
        if words & _SYNTHETIC_WORDS and known.origin.text == "natural":
            yield Remark("asked", code, f"The name says a made oxide; {code} is a natural earth.", other)


def _colour(name: str, codes: Sequence[str]) -> Iterator[Remark]:
    """Ask about a single pigment that lies far on the wheel from the name's colour word."""
    words = [word for word in colour_words(name) if word in (*_WHEEL, "white", "black")]
    known = pigment(codes[0]) if len(codes) == 1 else None
    if not words or known is None or any(_fits(word, known.group) for word in words):
        return
    text = f"The name says {words[-1]}; {known.code} is {known.name[0].lower()}{known.name[1:]}."
    if not any(check.kept is False for check in check_name(name, codes)):
        yield Remark("asked", known.code, text)


def _fits(word: str, group: Group) -> bool:
    if word in _WHEEL and group in _WHEEL:
        step = abs(_WHEEL.index(word) - _WHEEL.index(group))
        return min(step, len(_WHEEL) - step) <= 2
    if group == "earth":
        return word in {"yellow", "orange", "red", "violet", "rose", "white", "black"}
    if group in {"black", "neutral"}:
        return word in {"black", "green", "blue", "violet"}
    return group in {word, "metallic"}
