"""Back up a studio into one verified file, and restore it from there."""

from __future__ import annotations

import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path

from halfpan import __version__
from halfpan.collection.store import open_store
from halfpan.errors import BadRequest, StudioTrouble
from halfpan.files.bundle import unpack_bundle, write_bundle
from halfpan.files.whole import why
from halfpan.studio.studio import DATABASE, Studio


def back_up(studio: Studio, path: Path, *, now: datetime) -> int:
    """Write the whole studio into one zip, read it back, and return how many files it holds.

    The tables are those of one moment, even while somebody works in the studio.

    Raises
    ------
    BadRequest
        When the tables are kept on a server, which has back-ups of its own.
    StudioTrouble
        When the zip cannot be written or does not read back whole.
    """
    if studio.engine.dialect.name != "sqlite":
        raise BadRequest(
            "The tables of this studio are kept on a server; back them up there, and the photos folder."
        )
    with tempfile.TemporaryDirectory() as aside:
        copy = Path(aside) / DATABASE
        with (
            closing(sqlite3.connect(studio.folder / DATABASE)) as source,
            closing(sqlite3.connect(copy)) as kept,
        ):
            source.backup(kept)
            kept.execute("PRAGMA journal_mode = DELETE")
        facts = {"halfpan": __version__, "made": now.isoformat(timespec="seconds")}
        try:
            return write_bundle(path, [(DATABASE, copy), *_originals(studio)], facts)
        except OSError as trouble:
            raise StudioTrouble(f"{path} cannot be written: {why(trouble)}.") from trouble


def _originals(studio: Studio) -> Iterator[tuple[str, Path]]:
    for path in sorted(studio.photos.glob("??/*")):
        if not path.name.startswith("."):
            yield f"photos/{path.parent.name}/{path.name}", path


def restore(path: Path, folder: Path) -> int:
    """Restore a back-up into a folder that holds no studio yet, and return how many files came back.

    Raises
    ------
    StudioTrouble
        When the back-up is damaged, or the folder holds a studio already; nothing is changed then.
    """
    if (folder / DATABASE).exists():
        raise StudioTrouble(
            f"{folder} holds a studio already. Restore into another folder with --studio, "
            "or move this one away."
        )
    folder.parent.mkdir(parents=True, exist_ok=True)
    aside = Path(tempfile.mkdtemp(dir=folder.parent, prefix=".halfpan-restore-"))
    try:
        count = unpack_bundle(path, aside)
        open_store(f"sqlite:///{aside / DATABASE}").dispose()
        folder.mkdir(exist_ok=True)
        if any(folder.iterdir()):
            _move_in(aside, folder)
        else:
            aside.replace(folder)
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    return count


def _move_in(aside: Path, folder: Path) -> None:
    """Move photographs first and the tables last, so that a half-moved studio is seen to be none."""
    for source in sorted((aside / "photos").glob("??/*")):
        place = folder / "photos" / source.parent.name / source.name
        place.parent.mkdir(parents=True, exist_ok=True)
        source.replace(place)
    (aside / DATABASE).replace(folder / DATABASE)
