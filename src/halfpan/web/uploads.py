"""Photos that were handed in, kept in a folder of their own until they are read."""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Sequence
from pathlib import Path

from fastapi import UploadFile

from halfpan.errors import UnreadablePhoto
from halfpan.files.words import say

MOST_PHOTOS = 24


def keep_uploads(files: Sequence[UploadFile]) -> list[Path]:
    """Write uploads into a new folder under plain names, and return their paths.

    Raises
    ------
    UnreadablePhoto
        When there is none, or more than can be read in one go.
    """
    given = [file for file in files if file.filename]
    if not given:
        raise UnreadablePhoto(say("charts.no_photo"))
    if len(given) > MOST_PHOTOS:
        raise UnreadablePhoto(say("charts.too_many", most=MOST_PHOTOS))
    folder = Path(tempfile.mkdtemp(prefix="halfpan-"))
    return [_kept(file, folder, number) for number, file in enumerate(given)]


def forget_uploads(paths: Sequence[Path]) -> None:
    """Remove the folder of some uploads."""
    if paths:
        shutil.rmtree(paths[0].parent.parent, ignore_errors=True)


def _kept(file: UploadFile, folder: Path, number: int) -> Path:
    """Keep one upload under the name it came with, made harmless, in a folder of its own."""
    plain = re.sub(r"[^\w.\- ]", "_", Path(file.filename or "").name).strip(". ") or "photo"
    own = folder / str(number)
    own.mkdir()
    path = own / plain[-120:]
    with path.open("wb") as out:
        shutil.copyfileobj(file.file, out)
    return path
