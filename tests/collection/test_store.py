from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Engine, text

from halfpan.collection import page_reads
from halfpan.collection.store import NEWEST, open_store
from halfpan.collection.tables import metadata
from halfpan.errors import StudioTrouble


def test_the_numbered_steps_build_exactly_the_tables_the_program_knows(store: Engine) -> None:
    with store.connect() as db:
        assert compare_metadata(MigrationContext.configure(db), metadata) == []


def test_a_studio_kept_by_a_newer_program_is_refused_and_left_alone(tmp_path: Path) -> None:
    address = f"sqlite:///{tmp_path / 'halfpan.db'}"
    engine = open_store(address)
    with engine.begin() as db:
        db.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    with pytest.raises(StudioTrouble, match="newer Halfpan"):
        open_store(address)
    held = sqlite3.connect(tmp_path / "halfpan.db")
    assert held.execute("SELECT version_num FROM alembic_version").fetchone() == ("9999",)
    held.close()


def test_a_file_that_is_no_studio_is_refused_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "halfpan.db").write_bytes(b"a shopping list, not a database at all" * 200)
    with pytest.raises(StudioTrouble, match="cannot be used as a studio"):
        open_store(f"sqlite:///{tmp_path / 'halfpan.db'}")


def test_opening_twice_changes_nothing(tmp_path: Path) -> None:
    address = f"sqlite:///{tmp_path / 'halfpan.db'}"
    for _ in range(2):
        engine = open_store(address)
        with engine.connect() as db:
            version = db.execute(text("SELECT version_num FROM alembic_version")).scalar_one()
        engine.dispose()
        assert version == NEWEST
    assert [one.name for one in tmp_path.glob("*before*")] == []


def test_foreign_keys_are_held(store: Engine) -> None:
    with store.connect() as db:
        assert db.execute(text("PRAGMA foreign_keys")).scalar_one() == 1
        assert db.execute(text("PRAGMA journal_mode")).scalar_one() == "wal"


def test_corners_set_by_hand_in_an_older_studio_are_still_known_as_such(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    address = f"sqlite:///{tmp_path / 'halfpan.db'}"
    with monkeypatch.context() as older:
        older.setattr("halfpan.collection.store.NEWEST", "0001")
        engine = open_store(address)
    with engine.begin() as db:
        db.execute(text("INSERT INTO charts (id, kind, geometry, made) VALUES ('C', 'swatch', '{}', '2026')"))
        for version in ("0.1", "0.1 corners by hand"):
            added = (
                "INSERT INTO page_reads (chart, page, tier, version, read) VALUES ('C', 1, 'none', :v, :t)"
            )
            db.execute(text(added), {"v": version, "t": "2026-03-01T10:00:00+00:00"})
    engine.dispose()
    engine = open_store(address)
    with engine.connect() as db:
        plain, by_hand = page_reads.of_chart(db, "C")
    engine.dispose()
    assert (plain.version, plain.by_hand.corners) == ("0.1", False)
    assert (by_hand.version, by_hand.by_hand.corners) == ("0.1", True)
    assert (tmp_path / "halfpan-before-0002-was-0001.db").exists()
