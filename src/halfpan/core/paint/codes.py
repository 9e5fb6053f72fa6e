"""Colour Index generic names as people really write them: ``PB 29``, ``pbk-7``, ``C.I. Pigment Blue 15:3``.

A code is read or it is asked about; it is never changed in silence. What was written stays beside what was
understood, and every difference between the two has its sentence. Whether a code that can be read also
exists, and whether it fits the paint's name, is asked in `halfpan.core.paint.checking`.

The grammar is the Colour Index's own (usage class, hue, serial number, colon number); the slips are those
that hand-typed lists and labels show.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from halfpan.core.paint.slips import likely_codes, spelt_out

_CANONICAL = re.compile(r"[PNBASVDM](?:Br|Bk|[YORVBGWM])[1-9]\d{0,2}(?::[1-9])?")
_CONSTITUTION = re.compile(r"(?:C\.?\s*I\.?\s*)?(?:no\.?\s*)?(\d{5,6}(?::\d)?)", re.IGNORECASE)
_SEPARATOR = re.compile(
    r"[,;+&|\n\r\t•·()\[\]{}、\uff0c\uff1b\uff0b\uff06\uff0f]"
    r"|\s(?:and|with|plus|und|et)\s|/(?!\s*\d{1,2}(?!\d))|(?<=\d)\s*[-–—](?=\s*[^\W\d])",
    re.IGNORECASE,
)
_NEXT_CODE = re.compile(
    r"(?:(?<=\d)|(?<=\d[A-Za-z]))\s+(?=(?:C\.?\s*I\.?\s*)?"
    r"(?:[PNBASVDM]\.?(?:Br|Bk|[YORVBGWM])\.?[\s-]?\d|(?:Pigment|Natural|Basic)\s))",
    re.IGNORECASE,
)
_SILENCE = {
    "",
    "-",
    "–",
    "—",
    "?",
    "n/a",
    "na",
    "none",
    "unknown",
    "not stated",
    "undisclosed",
    "not disclosed",
}
_LETTERS_AND_NUMBER = re.compile(
    r"([PNBASVDM])(Br|Bk|[YORVBGWM])(?:no\.?|#|№|_)?([1-9]\d{0,2})(?::([0-9]))?", re.IGNORECASE
)
_HUES = {hue.lower(): hue for hue in ("Br", "Bk", "Y", "O", "R", "V", "B", "G", "W", "M")}


@dataclass(frozen=True, slots=True)
class Code:
    """One code of a label.

    Attributes
    ----------
    canonical : str or None
        The code in the Colour Index's own form, or none while it is in doubt.
    as_written : str
        The piece of the label it was read from, untouched.
    problem : str or None
        What is wrong or was changed, as a sentence's end; none if it was written canonically.
    proposal : str or None
        What it may have been meant for, to be confirmed by a person. Only given while in doubt.
    constitution : str or None
        A constitution number that stood beside the code and can be held against it.
    """

    canonical: str | None
    as_written: str
    problem: str | None = None
    proposal: str | None = None
    constitution: str | None = None

    @property
    def doubtful(self) -> bool:
        """Whether a person has to answer before the code counts."""
        return self.canonical is None


def is_canonical(text: str) -> bool:
    """Say whether a text is one code in canonical form."""
    return _CANONICAL.fullmatch(text) is not None


def parse_codes(text: str, known: Collection[str] = ()) -> tuple[Code, ...]:
    """Read all the codes of a label or a cell, in their order.

    Parameters
    ----------
    text : str
        As printed or typed, with any separators. An empty cell or "n/a" gives no codes: unknown.
    known : collection of str
        Codes that exist; they decide between two readings of the same slip.

    Returns
    -------
    tuple of Code
        Nothing that was written is left out: each piece is a code, a doubt, or stands beside a code.
    """
    codes: list[Code] = []
    starts: list[int] = []
    for start, end in _pieces(text):
        piece = text[start:end]
        number = _CONSTITUTION.fullmatch(_plain(piece)[0])
        last = codes[-1] if codes else None
        if number and last and last.canonical and last.constitution is None:
            codes[-1] = replace(last, constitution=number[1])
        elif last and last.canonical and _only_words(piece):
            closed = end + (text[end : end + 1] in {")", "]", "}"})
            written, beside = text[starts[-1] : closed], f"“{piece}” stands beside the code"
            codes[-1] = replace(
                last, as_written=written, problem="; ".join(filter(None, [last.problem, beside]))
            )
        else:
            lonely = last and re.fullmatch(r"\d{1,4}", piece)
            codes.append(_lonely_number(piece, last) if last and lonely else parse_code(piece, known))
            starts.append(start)
    return tuple(codes)


def parse_code(text: str, known: Collection[str] = ()) -> Code:
    """Read one code; see `parse_codes`."""
    written = text.strip()
    if is_canonical(written):
        return Code(written, written)
    plain, changes = _plain(written)
    number = _CONSTITUTION.fullmatch(plain)
    if number:
        return Code(None, written, f"{number[1]} is a constitution number (it names a structure), not a code")
    tidy, more = _tidied(plain)
    found = _LETTERS_AND_NUMBER.fullmatch(tidy)
    if found and not _brown_without_p(plain):
        canonical, colon = _assembled(found)
        reasons = [*changes, *more, *colon] or [_case_or_space(written, canonical)]
        return Code(canonical, written, f"written “{written}”: " + "; ".join(reasons))
    return _with_words(written, plain) or _doubt(written, plain, changes, known)


def _pieces(text: str) -> Iterator[tuple[int, int]]:
    """Yield where each piece of a label starts and ends, silence left out."""
    if text.strip().lower() in _SILENCE:
        return
    cuts = sorted(
        [m.span() for m in _SEPARATOR.finditer(text)] + [m.span() for m in _NEXT_CODE.finditer(text)]
    )
    for (_, start), (end, _) in pairwise([(0, 0), *cuts, (len(text), len(text))]):
        piece = text[start:end]
        if end > start and piece.strip().lower() not in _SILENCE:
            yield start + len(piece) - len(piece.lstrip()), end - (len(piece) - len(piece.rstrip()))


def _only_words(piece: str) -> bool:
    """Whether a piece is a remark: no digits, and not the letters of a code that lost its number."""
    letters = re.sub(r"[^A-Za-z]", "", piece)
    return not re.search(r"\d", piece) and not re.fullmatch(
        r"[PN](?:Br|Bk|[YORVBGW])", letters, re.IGNORECASE
    )


def _plain(text: str) -> tuple[str, list[str]]:
    """Take out what the eye cannot see; full-width forms become ordinary ones."""
    changes = []
    seen = "".join(c for c in text if unicodedata.category(c) != "Cf")
    if seen != text:
        changes.append("an invisible character stands in it")
    folded = unicodedata.normalize("NFKC", seen)
    if folded != seen and folded.replace(" ", "") != seen.replace("\xa0", ""):
        changes.append("full-width or special characters")
    return re.sub(r"\s+", " ", folded).strip(), changes


def _tidied(plain: str) -> tuple[str, list[str]]:
    """Take off what labels add around a code and cannot change its meaning."""
    changes = []
    text = re.sub(r"^(?:C\.?\s*I\.?|colou?r index)\s*:?\s*(?=[A-Za-z])", "", plain, flags=re.IGNORECASE)
    if text != plain:
        changes.append("“C.I.” is not part of the code")
    words = spelt_out(text)
    if words != text:
        changes.append("spelt out in words")
        text = words
    colon = re.sub(r"\s*\bcolon\s*", ":", text, flags=re.IGNORECASE)
    if colon != text:
        changes.append("“colon” in words")
        text = colon
    text = re.sub(r"^([A-Z])\.\s*([A-Z]{1,2})\.?\s*(?=\d)", r"\1\2", text, flags=re.IGNORECASE)
    text = re.sub(r"(?<=[A-Za-z])\s*\bno\.?\s*(?=\d)", "", text, flags=re.IGNORECASE)
    joined = re.sub(r"(?<=[A-Za-z])[\s.-]+(?=\d)|\s*(:)\s*", r"\1", text)
    return re.sub(r"^([A-Z])[ -]([A-Z]{1,2}\d)", r"\1\2", joined, flags=re.IGNORECASE), changes


def _brown_without_p(plain: str) -> bool:
    """``Br7`` is more likely a brown that lost its P than the dye Basic Red 7, which is written BR7."""
    return re.match(r"Br\s?-?\d", plain) is not None


def _assembled(found: re.Match[str]) -> tuple[str, list[str]]:
    code = found[1].upper() + _HUES[found[2].lower()] + found[3]
    if found[4] == "0":
        return code, [f"“:0” is how some tables write the plain {code}"]
    return (f"{code}:{found[4]}" if found[4] else code), []


def _case_or_space(written: str, canonical: str) -> str:
    if written.lower() == canonical.lower():
        return "capital and small letters"
    return "spaces or marks inside the code"


def _with_words(written: str, plain: str) -> Code | None:
    """Read a code that has other words beside it, if there is exactly one."""
    found = list(
        re.finditer(
            r"(?<![^\W_])[PNBASVDM](?:Br|Bk|[YORVBGWM])[\s-]?[1-9]\d{0,2}(?::[1-9])?(?![\d:.'/-])",
            plain,
            re.IGNORECASE,
        )
    )
    if len(found) != 1:
        return None
    rest = (plain[: found[0].start()] + " " + plain[found[0].end() :]).strip()
    if not rest or re.search(r"\d", rest):
        return None
    if re.match(r"(?:[OoQIil|!SsZzBgq]|[^\W\d_a-zA-Z])+(?!\w)", plain[found[0].end() :]):
        return None  # rather a digit that was misread
    code = None if _brown_without_p(found[0].group()) else parse_code(found[0].group()).canonical
    return Code(code, written, f"“{rest}” stands beside the code and is not part of it") if code else None


def _lonely_number(piece: str, before: Code) -> Code:
    problem = "a number without its letters"
    if not re.search(r"\d", before.as_written):
        return Code(None, piece, problem, parse_code(f"{before.as_written}{piece}").canonical)
    base = before.canonical or before.proposal or ""
    letters = re.match(r"[A-Za-z]*", base)
    colon = len(piece) == 1 and ":" not in base
    meant = f"{base}:{piece}" if colon else f"{letters[0] if letters else ''}{piece}"
    choice = ": a colon number, or a second code" if colon else ""
    after = f" after {base}{choice}" if base else ""
    return Code(None, piece, problem + after, meant if is_canonical(meant) else None)


def _no_number(plain: str) -> str:
    return "no code in it" if _only_words(plain) else "the letters of a code without its number"


def _doubt(written: str, plain: str, changes: list[str], known: Collection[str]) -> Code:
    problem, candidates = likely_codes(plain)
    candidates = [c for c in candidates if all(is_canonical(part) for part in c.split(" + "))]
    candidates.sort(key=lambda c: not all(part in known for part in c.split(" + ")))
    if not candidates:
        why = problem if re.search(r"\d", plain) else _no_number(plain)
        return Code(None, written, "; ".join([*changes, why]))
    others = f" (or {', '.join(candidates[1:3])})" if len(candidates) > 1 else ""
    return Code(None, written, "; ".join([*changes, problem]) + f": {candidates[0]}?{others}", candidates[0])
