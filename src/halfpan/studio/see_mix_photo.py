"""The picture that was kept with a mix of the log, small enough to look at."""

from __future__ import annotations

from pathlib import Path

from halfpan.collection import mixes
from halfpan.errors import UnreadablePhoto
from halfpan.files.originals import original
from halfpan.files.photo import open_pictures
from halfpan.studio.cut_crops import keep_view
from halfpan.studio.studio import Studio


def mix_photo(studio: Studio, number: int) -> Path:
    """Return the picture of a mix of the log, made small the first time it is asked for.

    Raises
    ------
    UnreadablePhoto
        When no picture was kept with that mix.
    """
    with studio.look() as db:
        sha256 = next((one.photo for one in mixes.listed(db) if one.id == number), None)
    if sha256 is None:
        raise UnreadablePhoto(f"No picture was kept with mix {number}.")
    name = f"crops/mix-{sha256[:16]}"
    folder = studio.worked_out(name)
    if not (folder / "photo.webp").exists():
        folder = studio.workings / name
        folder.mkdir(parents=True, exist_ok=True)
        keep_view(open_pictures(original(studio.photos, sha256), "the kept picture")[0].photo, folder)
    return folder / "photo.webp"
