"""The wall, worked out once for each state of the studio: 5,000 paints are read again only after a change."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from pathlib import Path

from markupsafe import Markup

from halfpan.studio.see_wall import WallPaint, see_wall
from halfpan.studio.studio import Studio
from halfpan.studio.undo import latest_changes

MOST_DRAWN = 8


class Walls:
    """The last wall that was seen, and the change after which it was seen."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._stamp: tuple[Path, int] | None = None
        self._wall: tuple[WallPaint, ...] = ()
        self._drawn: OrderedDict[Hashable, Markup] = OrderedDict()

    def see(self, studio: Studio) -> tuple[WallPaint, ...]:
        """Return the wall as it is now."""
        latest = latest_changes(studio, limit=1)
        stamp = (studio.folder, latest[0].id if latest else 0)
        with self._lock:
            if stamp != self._stamp:
                self._wall = see_wall(studio)
                self._stamp = stamp
                self._drawn.clear()
            return self._wall

    def drawn(self, asked: Hashable, draw: Callable[[], str]) -> Markup:
        """Return the boxes as they were drawn for the same question, if nothing has changed since."""
        with self._lock:
            held = self._drawn.get(asked)
        if held is None:
            held = Markup(draw())  # noqa: S704 (a template of ours has escaped it)
            with self._lock:
                self._drawn[asked] = held
                while len(self._drawn) > MOST_DRAWN:
                    self._drawn.popitem(last=False)
        return held
