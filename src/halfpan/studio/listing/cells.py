"""What a cell says: sizes, prices, dates and steps as people write them, or a problem in words.

A value that cannot be read is unknown and is asked about; it is never guessed in silence.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

ML_PER_FL_OZ = 29.5735  # US fluid ounce, NIST Handbook 44, appendix C
FORMS = {
    "tube": "tube", "t": "tube", "pan": "pan", "full pan": "pan", "whole pan": "pan", "half pan": "half pan",
    "halfpan": "half pan", "hp": "half pan", "1 2 pan": "half pan", "½ pan": "half pan", "stick": "stick",
    "dot": "sample dot", "dot card": "sample dot", "sample": "sample dot", "sample dot": "sample dot",
    "own": "own-made", "own made": "own-made", "home made": "own-made", "handmade": "own-made",
    "quarter pan": "quarter pan", "bottle": "bottle", "liquid": "bottle",
}  # fmt: skip
STEPS = {"full": 1.0, "new": 1.0, "half": 0.5, "low": 0.2, "nearly empty": 0.1, "empty": 0.0, "none": 0.0}
YES = {"yes", "y", "x", "1", "true", "own", "owned", "have", "got", "✓", "✔", "*", "ja", "oui"}
NO = {"no", "n", "0", "false", "wish", "wished", "want", "wanted", "wish list", "wishlist", "nein", "non"}
CURRENCIES = {"£": "GBP", "€": "EUR", "$": "USD", "¥": "JPY"}
_NUMBER = r"(\d{1,3}(?:[ ,.']\d{3})+(?:[.,]\d{1,2})?|\d+(?:[.,]\d+)?)"


@dataclass(frozen=True, slots=True)
class Problem:
    """Something about one cell that a person should look at; ``proposal`` is what may have been meant."""

    field: str
    text: str
    proposal: str | None = None


def number_of(text: str) -> float:
    """Return a number written with a point or a comma, thousands set apart or not."""
    plain = text.replace(" ", "").replace("'", "")
    if "," in plain and "." in plain:
        thousands = "," if plain.rfind(".") > plain.rfind(",") else "."
        plain = plain.replace(thousands, "")
    return float(plain.replace(",", "."))


def size_ml(text: str) -> tuple[float | None, Problem | None]:
    """Return a size in millilitres."""
    found = re.fullmatch(_NUMBER + r"\s*(ml|cc|cl|fl\.?\s*oz\.?|g)?\.?", text.strip(), re.IGNORECASE)
    if found is None:
        return None, Problem("size", f"“{text}” is not a size in ml")
    unit = (found[2] or "ml").lower()
    if unit == "g":
        return None, Problem("size", f"“{text}” is a weight; its volume is unknown")
    factor = 10.0 if unit == "cl" else ML_PER_FL_OZ if unit.startswith("fl") else 1.0
    return round(number_of(found[1]) * factor, 2), None


def price(text: str) -> tuple[float | None, str, Problem | None]:
    """Return a price and its currency, empty where none is named."""
    found = re.fullmatch(
        r"([£€$¥]|[A-Za-z]{3})?\s*" + _NUMBER + r"(?:,-)?\s*([£€$¥]|[A-Za-z]{3})?", text.strip()
    )
    if found is None:
        return None, "", Problem("price", f"“{text}” is not a price")
    mark = found[1] or found[3] or ""
    return number_of(found[2]), CURRENCIES.get(mark, mark.upper()), None


def day(text: str) -> tuple[date | None, Problem | None]:
    """Return a date; one that can be read two ways is asked about."""
    plain = text.strip()
    if found := re.fullmatch(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?", plain):
        return _day(text, int(found[1]), int(found[2]), int(found[3]))
    if found := re.fullmatch(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})", plain):
        first, second, year = int(found[1]), int(found[2]), int(found[3])
        if first <= 12 and second <= 12 and first != second:
            iso = f"{year}-{second:02}-{first:02}"
            return None, Problem("bought", f"“{text}” can be read two ways; write year-month-day", iso)
        return _day(text, year, min(first, second) if first > 12 else first, max(first, second))
    return None, Problem("bought", f"“{text}” is not a date; write year-month-day")


def _day(text: str, year: int, month: int, day_of_month: int) -> tuple[date | None, Problem | None]:
    try:
        return date(year, month, day_of_month), None
    except ValueError:
        return None, Problem("bought", f"“{text}” is not a day of the calendar")


def amount_left(text: str) -> tuple[float | None, Problem | None]:
    """Return what is left, 0 to 1: a step in words or a percentage."""
    plain = text.strip().casefold()
    if plain in STEPS:
        return STEPS[plain], None
    found = re.fullmatch(_NUMBER + r"\s*(%)?", plain)
    if found and number_of(found[1]) <= (100 if found[2] else 1):
        return number_of(found[1]) / (100 if found[2] else 1), None
    return None, Problem("amount_left", f"“{text}” is neither full, half, low, empty nor a percentage")


def yes_or_no(field: str, text: str) -> tuple[bool | None, Problem | None]:
    """Return whether a cell says yes."""
    plain = text.strip().casefold()
    if plain in YES or plain in NO:
        return plain in YES, None
    return None, Problem(field, f"“{text}” is neither yes nor no")


def form(text: str) -> tuple[str, Problem | None]:
    """Return the form of a paint in Halfpan's words, or as written where it is another."""
    plain = re.sub(r"[^\w½]+", " ", text.casefold()).strip()
    if plain in FORMS:
        return FORMS[plain], None
    plain = re.sub(r"^\d+(?: \d+)? ?ml ", "", plain)
    return (
        (FORMS[plain], None)
        if plain in FORMS
        else (text, Problem("form", f"“{text}” is a form not known here"))
    )
