"""Opening the place where a studio is kept, and bringing an older one up to date.

SQLite beside the photographs by default; the same tables on PostgreSQL when an address is given. A studio
made by a newer Halfpan is refused; an older one is copied first and then brought up in one transaction.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.exc import DatabaseError

from halfpan.errors import StudioTrouble

NEWEST = "0002"
STEPS_FOLDER = Path(__file__).parent / "schema"
VERSION_TABLE = "alembic_version"
WAIT_S = 30
_EMPTY: dict[str | bytes, Callable[[], Any]] = {"[]": list, "{}": dict, "null": lambda: None}


def open_store(address: str) -> Engine:
    """Return an engine for a SQLAlchemy address, with tables as this version of Halfpan knows them.

    Raises
    ------
    StudioTrouble
        When the file is no studio, is newer than this program, or cannot be written.
    """
    engine = create_engine(address, json_deserializer=_read_json)
    if engine.dialect.name == "sqlite":
        _teach_sqlite(engine)
    try:
        _bring_up_to_date(engine)
    except DatabaseError as trouble:
        engine.dispose()
        raise StudioTrouble(
            f"{engine.url.database} cannot be used as a studio ({trouble.orig}). "
            "Check the folder, or restore a back-up with `halfpan restore`."
        ) from trouble
    except BaseException:
        engine.dispose()
        raise
    return engine


def _read_json(text: str | bytes) -> Any:
    """Return what a column of JSON holds; most are empty, told apart before anything is parsed."""
    made = _EMPTY.get(text)
    return json.loads(text) if made is None else made()


def _teach_sqlite(engine: Engine) -> None:
    """Let SQLAlchemy, not the driver, begin transactions, so that a writer takes its lock at once."""

    @event.listens_for(engine, "connect")
    def _(connection: Any, _record: Any) -> None:
        connection.isolation_level = None
        connection.execute(f"PRAGMA busy_timeout = {WAIT_S * 1000}")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")

    @event.listens_for(engine, "begin")
    def _(connection: Connection) -> None:
        keeps = connection.get_execution_options().get("keeps", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if keeps else "BEGIN")


def version_of(db: Connection) -> str | None:
    """Return the number of the last step these tables went through, or none for an empty place."""
    if not inspect(db).has_table(VERSION_TABLE):
        return None
    version: str | None = db.execute(text(f"SELECT version_num FROM {VERSION_TABLE}")).scalar()  # noqa: S608
    return version


def _bring_up_to_date(engine: Engine) -> None:
    with engine.connect() as db:
        version = version_of(db)
    if version == NEWEST:
        return
    if version is not None and version > NEWEST:
        raise StudioTrouble(
            f"This studio was kept by a newer Halfpan (its tables are at step {version}, this program "
            f"knows {NEWEST}). Install the newer version; nothing was changed."
        )
    if version is not None:
        _copy_first(engine, version)
    _walk_steps(engine)


def _copy_first(engine: Engine, version: str) -> None:
    """Keep the studio as it was, beside the new one."""
    if engine.dialect.name != "sqlite" or not engine.url.database:
        return
    kept = Path(engine.url.database)
    beside = kept.with_name(f"{kept.stem}-before-{NEWEST}-was-{version}.db")
    with closing(sqlite3.connect(kept)) as source, closing(sqlite3.connect(beside)) as copy:
        source.backup(copy)


def _walk_steps(engine: Engine) -> None:
    """Walk all missing steps in one transaction; of two programs at once the second finds it done."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(STEPS_FOLDER))
    with engine.connect().execution_options(keeps=True) as db, db.begin():
        if version_of(db) != NEWEST:
            config.attributes["connection"] = db
            command.upgrade(config, NEWEST)
