"""A list of paints that answers as one types: the pocket list, and what is shared of paints or a chart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal

from halfpan.files.carried.frame import carried_html
from halfpan.files.report.html import image
from halfpan.files.words import say


@dataclass(frozen=True, slots=True)
class Entry:
    """One paint of the list.

    Attributes
    ----------
    name, codes, maker, range : as they stand below its box
    picture : its painted box (none: not painted)
    found_by : further words it answers to: other names, names of its pigments
    said : lines under it
    state : ``owned``, or ``wished`` for one that is not
    """

    name: str
    codes: Sequence[str]
    maker: str
    range: str = ""
    picture: bytes | None = None
    found_by: Sequence[str] = ()
    said: Sequence[str] = ()
    state: Literal["owned", "wished"] = "owned"


@dataclass(frozen=True, slots=True)
class Group:
    """Entries under a heading."""

    heading: str
    entries: Sequence[Entry]


@dataclass(frozen=True, slots=True)
class ListedPage:
    """A whole page. ``style``: ``pocket`` in lines for the hand, ``wall`` in boxes for a screen or paper."""

    title: str
    lead: str
    groups: Sequence[Group]
    made: str
    style: Literal["pocket", "wall"]


def listed_html(page: ListedPage) -> str:
    """Return the page as one HTML document. Without its script the whole list is there to scroll."""
    groups = "".join(_group(group) for group in page.groups if group.entries)
    finder = (
        f'<form class="find" role="search"><label for="find">{escape(say("carried.find"))}</label>'
        '<input id="find" type="search" autocomplete="off" autocapitalize="none" spellcheck="false">'
        f'<button type="reset">{escape(say("carried.clear"))}</button></form>'
        '<p class="answer" role="status" id="answer"></p>'
    )
    body = (
        f'<div class="head"><h1>{escape(page.title)}</h1><p class="lead">{escape(page.lead)}</p></div>'
        f'{finder}<div class="{page.style}" id="list">{groups}</div>'
    )
    return carried_html(page.title, body, script="find.js", words="carried.found", made=page.made)


def _group(group: Group) -> str:
    entries = "".join(map(_entry, group.entries))
    return f'<section class="group"><h2>{escape(group.heading)}</h2><ul>{entries}</ul></section>'


def _entry(entry: Entry) -> str:
    shown = (
        image(entry.picture, "") if entry.picture else '<span class="unpainted" aria-hidden="true"></span>'
    )
    codes = " ".join(entry.codes) or say("carried.codes_unknown")
    said = "".join(f"<span>{escape(line)}</span>" for line in entry.said)
    wished = f"<em>{escape(say('carried.not_owned'))}</em>" if entry.state == "wished" else ""
    words = " ".join([entry.name, entry.maker, entry.range, *entry.found_by])
    found = f'data-words="{escape(words)}" data-codes="{escape(" ".join(entry.codes))}"'
    who = ", ".join(part for part in (entry.maker, entry.range) if part)
    by = f" · {escape(who)}" if who else ""
    return (
        f'<li data-state="{entry.state}" {found}>{shown}<div><b>{escape(entry.name)}</b>'
        f"<span>{escape(codes)}{by}</span>{said}{wished}</div></li>"
    )
