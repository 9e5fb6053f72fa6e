"""The same tables and use cases on PostgreSQL; a server is started for the test where one is installed."""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from halfpan.collection import changes, paints
from halfpan.collection.store import open_store
from halfpan.collection.tables import metadata
from halfpan.core.paint.paint import Paint
from halfpan.studio.studio import Studio, open_studio

NOW = datetime(2026, 3, 1, tzinfo=UTC)
ROSE = Paint(id="", maker="Tidewater", range="Estuary", name="Rosé", codes=("PV19",), tags=("pink",))


def as_server(*command: str) -> None:
    """Run a command as somebody PostgreSQL will serve: it refuses the superuser of the machine."""
    names = {one.pw_name for one in pwd.getpwall()}
    other = ["runuser", "-u", "postgres", "--"] if os.getuid() == 0 and "postgres" in names else []
    subprocess.run([*other, *command], check=True, capture_output=True)


@pytest.fixture(scope="module")
def server() -> Iterator[Path]:
    pytest.importorskip("psycopg", reason="the extra “postgres” is not installed")
    where = shutil.which("initdb") or next(map(str, Path("/usr/lib/postgresql").glob("*/bin/initdb")), None)
    if where is None:
        pytest.skip("no PostgreSQL server is installed here")
    tools = Path(where).parent
    with TemporaryDirectory(prefix="halfpan-server-") as name:
        folder = Path(name)
        folder.chmod(0o777)
        control = [str(tools / "pg_ctl"), "-D", str(folder / "data"), "-w"]
        options = f"-k {folder} -c listen_addresses=''"
        try:
            as_server(str(tools / "initdb"), "-D", str(folder / "data"), "-A", "trust", "-U", "painter")
            as_server(*control, "-o", options, "-l", str(folder / "log"), "start")
        except subprocess.CalledProcessError as trouble:
            pytest.skip(
                f"the PostgreSQL server installed here does not start: {trouble.stderr.decode()[-200:]}"
            )
        yield folder
        as_server(*control, "stop")


@pytest.fixture
def address(server: Path, request: pytest.FixtureRequest) -> str:
    import psycopg

    name = f"studio_{abs(hash(request.node.name))}"
    with psycopg.connect(host=str(server), user="painter", dbname="postgres", autocommit=True) as door:
        door.execute(f"CREATE DATABASE {name}")
    return f"postgresql+psycopg://painter@/{name}?host={server}"


def test_what_is_remembered_of_a_studio_on_a_server_is_what_stands(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HALFPAN_DATABASE", address)
    here, there = open_studio(tmp_path / "here"), open_studio(tmp_path / "there")

    def held(studio: Studio) -> list[str]:
        with studio.look() as db:
            return [one.name for one in paints.listed(db)]

    with here.transaction() as db, changes.noted(db, "added", now=NOW):
        first, _ = paints.add_all(db, [ROSE, ROSE], now=NOW)
    assert held(here) == held(there) == ["Rosé", "Rosé"]
    with there.transaction() as db, changes.noted(db, "corrected", now=NOW):
        paints.edit(db, first, name="Rose")
    assert held(here) == held(there) == ["Rose", "Rosé"]
    with here.transaction() as late, changes.noted(late, "begun first, ended last", now=NOW):
        paints.edit(late, first, name="Rose Lake")
        with there.transaction() as db, changes.noted(db, "added", now=NOW):
            paints.add_all(db, [ROSE], now=NOW)
        assert held(there) == ["Rose", "Rosé", "Rosé"]
    assert held(there) == held(here) == ["Rose Lake", "Rosé", "Rosé"]
    for _ in range(4):
        with there.transaction() as db:
            changes.undo(db, now=NOW)
    assert held(here) == held(there) == []
    here.close()
    there.close()


def test_a_studio_on_a_server_is_the_same_studio(address: str) -> None:
    engine = open_store(address)
    with engine.begin() as db:
        assert compare_metadata(MigrationContext.configure(db), metadata) == []
        with changes.noted(db, "added", now=NOW):
            assert paints.add_all(db, [ROSE], now=NOW) == ["p1"]
    with engine.begin() as db:
        with changes.noted(db, "corrected", now=NOW):
            paints.edit(db, "p1", name="Rose", tags=("pink", "quiet"))
        assert changes.undo(db, now=NOW).what == "corrected"
        assert [(one.name, one.tags) for one in paints.listed(db)] == [("Rosé", ("pink",))]
        changes.undo(db, now=NOW)
        assert paints.listed(db) == []
    engine.dispose()
    again = open_store(address)
    with again.connect() as db:
        assert len(changes.listed(db)) == 4
    again.dispose()
