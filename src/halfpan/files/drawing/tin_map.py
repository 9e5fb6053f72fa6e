"""A tin as it lies open: every pan at its place and size, the painter's own box in it where there is one."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.paint.reading import Lab
from halfpan.core.paint.tin import Seat, Tin
from halfpan.files.drawing.svg import HAIR, INK, RULE, SECOND, WELL, picture, tag, words

SCALE = 6.0  # drawn units for one mm
EDGE, HEAD, BELOW = 24.0, 40.0, 34.0
_KINDS = {b"\x89PNG": "png", b"\xff\xd8\xff": "jpeg", b"RIFF": "webp"}


@dataclass(frozen=True, slots=True)
class Pan:
    """What lies in a seat: name, codes, lock, and its look: a picture, a reading, or neither."""

    name: str
    codes: str = ""
    locked: bool = False
    crop: bytes | None = None
    lab: Lab | None = None


def tin_map(tin: Tin, pans: Mapping[str, Pan]) -> str:
    """Return the map of a tin as SVG; ``pans`` by the name of their seat.

    A pan shows a true crop of its painted box; the flat colour of its reading, marked so, where there is no
    picture; an empty dashed well where nothing was painted. A lock is a square in the corner.
    """
    rows = 1 + max(seat.row for seat in tin.seats)
    width = tin.width_mm * SCALE + 2 * EDGE
    height = HEAD + tin.height_mm * SCALE + rows * BELOW + EDGE + 8
    parts = [words(tin.name, EDGE, 26.0, size=18.0, serif=True)]
    for seat in tin.seats:
        parts += _seat(seat, pans.get(seat.name))
    foot = "Dotted edge: the flat colour of its reading. Dashed: not painted, or empty. Square: locked."
    parts.append(words(foot, EDGE, height - 10, size=9.0, fill=SECOND))
    return picture(width, height, tin.name, _told(tin.seats, pans), parts)


def _seat(seat: Seat, pan: Pan | None) -> list[str]:
    x, y = EDGE + seat.x * SCALE, HEAD + seat.y * SCALE + seat.row * BELOW
    wide, high = seat.width * SCALE, seat.height * SCALE
    if seat.size is None:
        return [tag("rect", {"x": x, "y": y, "width": wide, "height": high, "fill": HAIR})]
    room = {"x": x, "y": y, "width": wide, "height": high, "rx": 5}
    parts = [*_look(room, pan, seat.name)]
    parts.append(words(seat.name, x, y + high + 9, size=8.0, fill=SECOND))
    if pan is not None:
        fits = max(4, int(wide / 4.6))
        parts.append(words(_short(pan.name, fits), x, y + high + 19, size=9.5, serif=True))
        parts.append(words(_short(pan.codes, fits), x, y + high + 28, size=8.0, fill=SECOND))
        if pan.locked:
            parts.append(tag("rect", {"x": x + 4, "y": y + 4, "width": 7, "height": 7, "fill": INK,
                                      "stroke": WELL}))  # fmt: skip
    return parts


def _look(room: Mapping[str, object], pan: Pan | None, name: str) -> list[str]:
    edge = {"fill": "none", "stroke": RULE, "stroke_width": 1}
    dashed = {"fill": WELL, "stroke": RULE, "stroke_dasharray": "4 3"}
    if pan is None or (pan.crop is None and pan.lab is None):
        return [tag("rect", {**room, **dashed})]
    if pan.crop is None and pan.lab is not None:
        flat = tag(
            "rect", {**room, "fill": str(lab_to_hex(pan.lab)), "stroke": RULE, "stroke_dasharray": "1 2"}
        )
        return [flat]
    clip = tag("clipPath", {"id": f"pan-{name}"}, tag("rect", room))
    data = f"data:image/{_kind(pan.crop or b'')};base64,{b64encode(pan.crop or b'').decode()}"
    shape = {"x": room["x"], "y": room["y"], "width": room["width"], "height": room["height"]}
    image = tag(
        "image",
        {**shape, "href": data, "preserveAspectRatio": "xMidYMid slice", "clip_path": f"url(#pan-{name})"},
    )
    return [clip, image, tag("rect", {**room, **edge})]


def _kind(data: bytes) -> str:
    return next((kind for start, kind in _KINDS.items() if data.startswith(start)), "png")


def _short(text: str, fits: int) -> str:
    return text if len(text) <= fits else text[: fits - 1].rstrip() + "…"


def _told(seats: Sequence[Seat], pans: Mapping[str, Pan]) -> str:
    said = []
    for seat in seats:
        if seat.size is not None:
            pan = pans.get(seat.name)
            how = (
                ""
                if pan is None or pan.crop
                else " (flat colour of its reading)"
                if pan.lab
                else " (not painted)"
            )
            said.append(f"{seat.name} {pan.name + how if pan else 'empty'}")
    return "; ".join(said)
