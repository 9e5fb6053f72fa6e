"""A studio: the folder in which a painter's collection, charts and photographs are kept."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Connection, Engine

from halfpan.collection.memory import MEMORY, Memory
from halfpan.collection.rows import UNNOTED
from halfpan.collection.store import open_store
from halfpan.errors import StudioTrouble
from halfpan.files.whole import why

DATABASE = "halfpan.db"


@dataclass(frozen=True, slots=True, eq=False)
class Studio:
    """An open studio. ``look`` reads, ``transaction`` keeps; both hand out a connection for a while.

    What is only worked out (pictures of boxes, what was learnt) is kept in ``workings``: the studio's folder,
    or another one while the studio is only to be looked at.
    """

    folder: Path
    engine: Engine
    workings: Path
    memory: Memory = field(default_factory=Memory)

    @property
    def photos(self) -> Path:
        """The folder of original photographs, named by their SHA-256."""
        return self.folder / "photos"

    def worked_out(self, name: str) -> Path:
        """Return where something worked out lies: in ``workings``, else in the studio's own folder."""
        path = self.workings / name
        return path if path.exists() else self.folder / name

    @contextmanager
    def look(self) -> Iterator[Connection]:
        """Read from the studio; all that is read inside belongs to one moment."""
        with self.engine.connect().execution_options(**{MEMORY: self.memory}) as db, db.begin():
            yield db

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """Keep something: all of what happens inside is kept, or nothing is."""
        with self.engine.connect().execution_options(keeps=True) as db:
            with db.begin():
                yield db
            if db.info.pop(UNNOTED, False):
                self.memory.forget()

    def close(self) -> None:
        """Let go of the store."""
        self.engine.dispose()


def default_folder() -> Path:
    """Return the studio that is meant when none is named: ``$HALFPAN_STUDIO``, or the user's own."""
    named = os.environ.get("HALFPAN_STUDIO")
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("halfpan", appauthor=False) / "studio"


def open_studio(folder: Path | None = None, *, workings: Path | None = None) -> Studio:
    """Open the studio in a folder, making it when it is new.

    ``workings`` is where to keep what is only worked out, when nothing may be written into the studio.

    ``HALFPAN_DATABASE`` may name another place for the tables, as a SQLAlchemy address (for instance a
    PostgreSQL server shared by a workshop); photographs stay in the folder.

    Raises
    ------
    StudioTrouble
        When the folder cannot be made or used, or was kept by a newer Halfpan.
    """
    folder = folder or default_folder()
    try:
        (folder / "photos").mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise StudioTrouble(
            f"The studio folder {folder} cannot be made: {why(trouble)}. Name another with --studio."
        ) from trouble
    address = os.environ.get("HALFPAN_DATABASE") or f"sqlite:///{folder / DATABASE}"
    return Studio(folder, open_store(address), workings or folder)
