"""The wall, worked out once for each state of the studio: 5,000 paints are read again only after a change."""

from __future__ import annotations

import threading

from halfpan.studio.see_wall import WallPaint, see_wall
from halfpan.studio.studio import Studio
from halfpan.studio.undo import latest_changes


class Walls:
    """The last wall that was seen, and the change after which it was seen."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._stamp: int | None = None
        self._wall: tuple[WallPaint, ...] = ()

    def see(self, studio: Studio) -> tuple[WallPaint, ...]:
        """Return the wall as it is now."""
        latest = latest_changes(studio, limit=1)
        stamp = latest[0].id if latest else 0
        with self._lock:
            if stamp != self._stamp:
                self._wall = see_wall(studio)
                self._stamp = stamp
            return self._wall
