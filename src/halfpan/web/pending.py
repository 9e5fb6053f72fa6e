"""Lists that were handed in and not yet added: looked at first, kept only when the painter says so."""

from __future__ import annotations

from collections import OrderedDict
from hashlib import sha256

from halfpan.errors import BadRequest
from halfpan.files.tables import Table
from halfpan.files.words import say

MOST = 20


class Pending:
    """The last few lists, by the hash of what is in them; in memory only."""

    def __init__(self) -> None:
        self._lists: OrderedDict[str, Table] = OrderedDict()

    def keep(self, table: Table) -> str:
        """Keep a list for a while and return its number."""
        number = sha256(repr(table.rows).encode()).hexdigest()[:16]
        self._lists[number] = table
        self._lists.move_to_end(number)
        while len(self._lists) > MOST:
            self._lists.popitem(last=False)
        return number

    def find(self, number: str) -> Table:
        """Return a list by its number."""
        if number not in self._lists:
            raise BadRequest(say("list.gone"))
        return self._lists[number]
