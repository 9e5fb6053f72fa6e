"""Every word a page says, by its key: ``languages/en-GB/*.toml``; pages to carry have theirs there too.

A translation is another folder beside ``en-GB``. A sentence whose number matters has two forms, ``.one`` and
``.other``, chosen by ``n``. A key that is missing is a bug, so it raises.
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

LANGUAGE = "en-GB"


@cache
def words(language: str = LANGUAGE) -> dict[str, str]:
    """Return all sentences of a language, keyed ``page.name``."""
    folder = files("halfpan") / "languages" / language
    found: dict[str, str] = {}
    for part in sorted(folder.iterdir(), key=lambda path: path.name):
        if part.name.endswith(".toml"):
            page = part.name.removesuffix(".toml")
            _flatten(tomllib.loads(part.read_text("utf-8")), page, found)
    return found


def say(key: str, n: int | None = None, **values: object) -> str:
    """Return a sentence with its values in place.

    Parameters
    ----------
    key
        ``page.name``, for instance ``paints.title``.
    n
        The number the sentence is about; chooses ``key.one`` or ``key.other`` and fills ``{n}``.
    **values
        What else stands in braces.

    Raises
    ------
    KeyError
        When the language has no such sentence.
    """
    if n is None:
        return words()[key].format(**values)
    form = "one" if n == 1 else "other"
    return words()[f"{key}.{form}"].format(n=f"{n:,}", **values)


def sentences(page: str) -> dict[str, str]:
    """Return the sentences of one page with their braces still open, for a script that fills them."""
    return {key.removeprefix(f"{page}."): text for key, text in words().items() if key.startswith(f"{page}.")}


def _flatten(table: dict[str, object], prefix: str, into: dict[str, str]) -> None:
    for name, value in table.items():
        key = f"{prefix}.{name}"
        if isinstance(value, dict):
            _flatten(value, key, into)
        else:
            into[key] = str(value)
