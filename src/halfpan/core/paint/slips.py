"""The slips of hand and label that turn one pigment code into another, and what was likely meant.

Nothing here decides: each slip gives a sentence and the codes it may stand for, for a person to answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

_USAGE = {
    "pigment": "P", "pig": "P", "pigm": "P", "natural": "N", "basic": "B", "acid": "A",
    "solvent": "S", "vat": "V", "direct": "D", "mordant": "M",
}  # fmt: skip
_HUE_WORDS = {
    "yellow": "Y", "orange": "O", "red": "R", "violet": "V", "blue": "B",
    "green": "G", "brown": "Br", "black": "Bk", "white": "W", "metal": "M",
}  # fmt: skip
_HUE_SLIPS = {
    "blk": ("Bk",), "black": ("Bk",), "bla": ("Bk",), "k": ("Bk",), "bl": ("Bk", "B"), "bi": ("Bk",),
    "blu": ("B",), "blue": ("B",), "brn": ("Br",), "bn": ("Br",), "bro": ("Br",),
    "brown": ("Br",), "bw": ("Br", "W"), "gr": ("G",), "gn": ("G",), "grn": ("G",), "green": ("G",),
    "ye": ("Y",), "yel": ("Y",), "yw": ("Y",), "yellow": ("Y",), "rd": ("R",), "re": ("R",),
    "red": ("R",), "or": ("O",), "og": ("O",), "orange": ("O",), "vi": ("V",), "vt": ("V",), "vio": ("V",),
    "violet": ("V",), "wh": ("W",), "wt": ("W",), "white": ("W",), "bb": ("B",), "rr": ("R",), "yy": ("Y",),
    "oo": ("O",), "vv": ("V",), "gg": ("G",), "0": ("O",), "8": ("B",),
}  # fmt: skip
_ALPHABETS = str.maketrans(
    "АВСЕКМНОРТУХасеоркврухΑΒΕΖΗΙΚΜΝΟΡΤΥΧοΠПГ",
    "ABCEKMHOPTYXaceopkbpyxABEZHIKMNOPTYXoPPG",
)
_DIGIT_SLIPS = str.maketrans("OoQIil|!SsZzBgqЗз", "00011111552289933")
_NUMBER = r"([1-9]\d{0,2})(?::([1-9]))?"
_USAGE_LETTERS = "PNBASVDM"


def spelt_out(text: str) -> str:
    """Return ``PB 29`` for ``Pigment Blue 29``; other texts come back as they are."""
    words = re.match(r"([A-Za-z]+)\.?\s+([A-Za-z]+)\s*(?:no\.?\s*)?(?=\d)", text, re.IGNORECASE)
    if words and words[1].lower() in _USAGE and words[2].lower() in _HUE_WORDS:
        return _USAGE[words[1].lower()] + _HUE_WORDS[words[2].lower()] + " " + text[words.end() :]
    return text


def likely_codes(text: str) -> tuple[str, list[str]]:
    """Return what seems wrong with a text that is no code, and what may have been meant, likeliest first."""
    for slip in _SLIPS:
        answer = slip(text)
        if answer:
            problem, candidates = answer
            return problem, list(dict.fromkeys(candidates))
    return "not a code as the Colour Index writes them", []


Answer = tuple[str, list[str]] | None


def _other_alphabet(text: str) -> Answer:
    latin = text.translate(_ALPHABETS)
    if latin == text:
        return None
    compact = re.sub(r"[\s-]", "", latin)
    found = re.fullmatch(rf"([A-Za-z]+){_NUMBER}", compact)
    return "letters of another alphabet that look the same", _spelled(compact) if found else []


def _constitution_behind_letters(text: str) -> Answer:
    found = re.fullmatch(r"[A-Za-z]{2,3}\s*-?\s*(\d{5,6})(:\d)?", text)
    return (
        (f"{found[1]} has the length of a constitution number, not of a code's number", []) if found else None
    )


def _colon_by_another_mark(text: str) -> Answer:
    found = re.fullmatch(r"([A-Za-z]{2,3}[\s-]?[1-9]\d{0,2})\s*[-–./_'’*;,]?\s*([1-9])", text)
    split = re.fullmatch(r"([A-Za-z]{2,3}[\s-]?[1-9]\d{0,2})(\s*[-–./_'’*;,]\s*|\s+)(\d{1,3})", text)
    if not split:
        return None
    base = _spelled(re.sub(r"[\s-]", "", split[1]))
    if not base:
        return None
    letters = re.match(r"[A-Za-z]+", base[0])
    second = [f"{base[0]} + {letters[0]}{split[3]}"] if letters else []
    colon = [f"{base[0]}:{split[3]}"] if found else []
    return "two numbers without a colon between them", colon + second


def _run_together(text: str) -> Answer:
    compact = re.sub(r"[\s._-]", "", text)
    parts = re.findall(r"[PNBASVDM](?:Br|Bk|[YORVBGWM])[1-9]\d{0,2}(?::[1-9])?", compact, re.IGNORECASE)
    if len(parts) < 2 or "".join(parts) != compact:
        return None
    read = [_spelled(part) for part in parts]
    return "two codes run together", [" + ".join(r[0] for r in read)] if all(read) else []


def _no_usage_letter(text: str) -> Answer:
    found = re.fullmatch(rf"(Br|Bk|[YORVBGWM])\s?-?{_NUMBER}", text, re.IGNORECASE)
    if not found:
        return None
    return "the first letter (P for pigment) is missing", [_joined("P", _cased(found[1]), found[2], found[3])]


def _leading_nought(text: str) -> Answer:
    found = re.fullmatch(r"([A-Za-z]{2,3})[\s-]?0+([1-9]\d{0,2})(?::0*([1-9]))?", text)
    if found is None:
        found = re.fullmatch(r"([A-Za-z]{2,3})[\s-]?([1-9]\d{0,2}):0+([1-9])", text)
    if not found:
        return None
    codes = [_joined(usage, hue, found[2], found[3]) for usage, hue in _letters(found[1])]
    return ("a nought in front of the number", codes) if codes else None


def _letters_misread(text: str) -> Answer:
    compact = re.sub(r"[\s.#_-]", "", text)
    candidates = list(_spelled(compact))
    return ("letters or digits that are easily mistaken for one another", candidates) if candidates else None


def _mark_out_of_place(text: str) -> Answer:
    compact = re.sub(r"[^A-Za-z0-9:]", "", text)
    compact = re.sub(r"^([A-Za-z]+):+", r"\1", compact).rstrip(":")
    compact = re.sub(r"::+", ":", compact)
    if compact == text or not compact:
        return None
    candidates = _spelled(compact)
    return ("a mark that does not belong into a code", candidates) if candidates else None


_SLIPS: tuple[Callable[[str], Answer], ...] = (
    _other_alphabet,
    _constitution_behind_letters,
    _colon_by_another_mark,
    _run_together,
    _no_usage_letter,
    _leading_nought,
    _letters_misread,
    _mark_out_of_place,
)


def _cased(hue: str) -> str:
    return hue.capitalize() if len(hue) == 2 else hue.upper()


def _joined(usage: str, hue: str, number: str, colon: str | None) -> str:
    return f"{usage}{hue}{number}" + (f":{colon}" if colon else "")


def _letters(text: str) -> Iterator[tuple[str, str]]:
    """Yield usage and hue that a run of letters (and look-alike digits) may stand for."""
    if not text or text[0].upper() not in _USAGE_LETTERS:
        return
    usage, rest = text[0].upper(), text[1:].lower()
    if rest in {"br", "bk", "y", "o", "r", "v", "b", "g", "w", "m"}:
        yield usage, _cased(rest)
    for hue in _HUE_SLIPS.get(rest, ()):
        yield usage, hue
    if rest[:1] == "p":  # the P typed twice
        yield from _letters(usage + rest[1:])


def _spelled(compact: str) -> list[str]:
    """Return the codes a compact text may stand for, letting look-alike letters and digits change sides."""
    answers = []
    for cut in range(min(len(compact) - 1, 8), 1, -1):
        head, tail = compact[:cut], compact[cut:]
        number, _, colon = tail.partition(":")
        number, colon = number.translate(_DIGIT_SLIPS), colon.translate(_DIGIT_SLIPS)
        if not re.fullmatch(r"[1-9]\d{0,2}", number) or (colon and not re.fullmatch(r"[1-9]", colon)):
            continue
        answers += [_joined(usage, hue, number, colon) for usage, hue in _letters(head)]
    return answers
