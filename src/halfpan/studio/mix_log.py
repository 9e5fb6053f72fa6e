"""The log of mixes: note what was painted, and find again what was used for a colour."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np
from sqlalchemy import Connection

from halfpan import __version__
from halfpan.collection import changes, mixes, paints, papers, photos, readings
from halfpan.collection.mixes import KeptMix
from halfpan.collection.papers import Paper
from halfpan.collection.photos import KeptPhoto
from halfpan.collection.readings import KeptReading
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.reading import Lab, Reading
from halfpan.files.originals import keep_original, sha256_of
from halfpan.files.photo.picture import open_pictures, read_bytes
from halfpan.studio.find_paint import find_paint
from halfpan.studio.mix_words import parts_in_words
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_films import MIX_LOG
from halfpan.studio.studio import Studio

BY_HAND_WITHIN = 5.0  # dE00 of a colour that was typed in, common practice: nobody knows how it was taken


@dataclass(frozen=True, slots=True)
class Logged:
    """A mix of the log with its colour, where one was noted, and how far that lies from the one asked for."""

    mix: KeptMix
    lab: Lab | None
    apart: float | None = None


def log_mix(
    studio: Studio,
    text: str,
    *,
    now: datetime,
    lab: Lab | None = None,
    within: float = BY_HAND_WITHIN,
    paper: str = "",
    photo: Path | None = None,
    name: str = "",
    notes: str = "",
) -> KeptMix:
    """Note a mix that was painted, written as ``3 PAINT + 1 PAINT``.

    Its colour, where given, is a reading of unknown light that other answers learn from with its doubt.

    Raises
    ------
    BadRequest, UnknownPaint, UnreadablePhoto
    """
    content = None if photo is None else _picture_bytes(photo)
    sha256 = None if content is None else keep_original(studio.photos, content)
    with studio.transaction() as db:
        parts = parts_in_words(text, lambda named: find_paint(db, named))
        on = papers.find(db, paper) if paper else None
        with changes.noted(db, f"logged a mix: {text}", now=now):
            if content is not None and photo is not None:
                photos.keep(db, KeptPhoto(sha256_of(content), photo.name, len(content), now))
            reading = None if lab is None else _reading(db, parts, (lab, within), on, now)
            mix = KeptMix(parts, now, 0, name, on.id if on else None, sha256, reading, notes)
            number = mixes.add(db, mix)
        return next(one for one in mixes.listed(db) if one.id == number)


def _picture_bytes(photo: Path) -> bytes:
    """Return the bytes of a picture; a file that can never be looked at again is refused."""
    content = read_bytes(photo)
    open_pictures(content, photo.name)
    return content


def _reading(
    db: Connection,
    parts: tuple[tuple[str, float], ...],
    colour: tuple[Lab, float],
    paper: Paper | None,
    now: datetime,
) -> int:
    reading = Reading("", None, "masstone", *colour, "none", state="accepted")
    on = paper.id if paper else None
    kept = KeptReading(reading, now, amounts=parts, paper=on, source=MIX_LOG, version=__version__)
    return readings.add_all(db, [kept])[0]


def logged_mixes(
    studio: Studio, *, near: Lab | None = None, paint: str = ""
) -> tuple[tuple[Logged, ...], dict[str, str]]:
    """Return the log, newest first, or nearest to a colour first; and what the paints of a log are called.

    With a colour, mixes whose colour was never noted are left out.
    """
    with studio.look() as db:
        found = mixes.listed(db)
        if paint:
            found = mixes.with_paint(found, find_paint(db, paint).id)
        read = readings.of_ids(db, [mix.reading for mix in found if mix.reading is not None])
        colours = {one.id: one.reading.lab for one in read}
        names = names_of(paints.listed(db)) if found else {}
    logged = [Logged(mix, colours.get(mix.reading or 0)) for mix in found]
    if near is None:
        return tuple(logged), names
    seen = [one for one in logged if one.lab is not None]
    apart = delta_e_2000(np.array([one.lab for one in seen]).reshape(-1, 3), np.array(near))
    ranked = sorted(zip(apart.tolist(), range(len(seen)), strict=True))
    return tuple(Logged(seen[i].mix, seen[i].lab, far) for far, i in ranked), names
