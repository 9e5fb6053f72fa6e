"""The wall as it was last seen and drawn: after a change only what it touched is told and drawn again."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence

from markupsafe import Markup

from halfpan.studio.see_wall import WallPaint, see_wall
from halfpan.studio.studio import Studio
from halfpan.studio.undo import as_of

MOST_DRAWN = 8


class Walls:
    """The last wall that was seen, the change after which it was seen, and its boxes as they were drawn."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._seen_at: Hashable = None
        self._wall: tuple[WallPaint, ...] = ()
        self._whole: OrderedDict[Hashable, Markup] = OrderedDict()
        self._boxes: dict[str, dict[str, tuple[WallPaint, Markup]]] = {}

    def see(self, studio: Studio) -> tuple[WallPaint, ...]:
        """Return the wall as it is now."""
        now = (studio.folder, as_of(studio))
        with self._lock:
            if now != self._seen_at:
                self._wall = see_wall(studio, self._wall)
                self._seen_at = now
                self._whole.clear()
            return self._wall

    def drawn(self, wall: Sequence[WallPaint], asked: Hashable, draw: Callable[[], str]) -> Markup:
        """Return the boxes as they were drawn for the same question, if it is still the same wall."""
        with self._lock:
            held = self._whole.get(asked) if wall is self._wall else None
        if held is None:
            held = Markup(draw())  # noqa: S704 (a template of ours has escaped it)
            with self._lock:
                if wall is self._wall:
                    self._whole[asked] = held
                while len(self._whole) > MOST_DRAWN:
                    self._whole.popitem(last=False)
        return held

    def each(
        self, view: str, shown: Sequence[WallPaint], draw: Callable[[WallPaint], str]
    ) -> dict[str, Markup]:
        """Return the box of each paint by its id, drawn anew where something about the paint changed."""
        with self._lock:
            on_wall = {one.paint.id for one in self._wall}
            held = self._boxes.get(view, {})
        drawn = {key: value for key, value in held.items() if key in on_wall}
        for one in shown:
            before = drawn.get(one.paint.id)
            if before is None or before[0] is not one:
                drawn[one.paint.id] = (one, Markup(draw(one)))  # noqa: S704 (as above)
        with self._lock:
            self._boxes[view] = drawn
        return {one.paint.id: drawn[one.paint.id][1] for one in shown}
