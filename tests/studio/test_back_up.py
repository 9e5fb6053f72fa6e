from __future__ import annotations

import zipfile
from datetime import datetime
from pathlib import Path

import pytest

from halfpan.errors import StudioTrouble
from halfpan.files.bundle import verify_bundle
from halfpan.studio.back_up import back_up, restore
from halfpan.studio.list_paints import list_paints
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, list_readings
from halfpan.studio.studio import open_studio

from .conftest import PaintedChart


@pytest.fixture
def bundle(painted: PaintedChart, now: datetime, tmp_path: Path) -> Path:
    read_chart(painted.studio, [painted.scan], now=now)
    assert back_up(painted.studio, tmp_path / "b.zip", now=now) == 2
    return tmp_path / "b.zip"


def test_a_restored_studio_is_the_one_that_was_backed_up(
    painted: PaintedChart, bundle: Path, tmp_path: Path, now: datetime
) -> None:
    restore(bundle, tmp_path / "again")
    again = open_studio(tmp_path / "again")
    assert list_paints(again) == list_paints(painted.studio)
    assert list_readings(again, Which()) == list_readings(painted.studio, Which())
    assert read_chart(again, [painted.scan], now=now).again
    again.close()


def test_a_studio_that_is_there_is_never_written_over(painted: PaintedChart, bundle: Path) -> None:
    before = list_paints(painted.studio)
    with pytest.raises(StudioTrouble, match="holds a studio already"):
        restore(bundle, painted.studio.folder)
    assert list_paints(painted.studio) == before


@pytest.mark.parametrize("at", [0.1, 0.4, 0.7, 0.95])
def test_a_damaged_back_up_is_noticed_and_nothing_is_restored(
    bundle: Path, tmp_path: Path, at: float
) -> None:
    content = bytearray(bundle.read_bytes())
    middle = int(len(content) * at)
    content[middle : middle + 64] = bytes(64)
    bundle.write_bytes(bytes(content))
    with pytest.raises(StudioTrouble):
        restore(bundle, tmp_path / "again")
    assert not (tmp_path / "again").exists()
    assert list(tmp_path.glob(".halfpan-restore-*")) == []


def test_a_zip_that_would_write_elsewhere_is_no_back_up(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "evil.zip", "w") as packed:
        packed.writestr("../outside.txt", "x")
        packed.writestr("checksums.json", '{"form": 1, "sha256": {"../outside.txt": "x"}}')
    with pytest.raises(StudioTrouble, match="not a back-up"):
        verify_bundle(tmp_path / "evil.zip")


def test_any_other_file_is_no_back_up(tmp_path: Path) -> None:
    (tmp_path / "notes.zip").write_bytes(b"not a zip")
    with pytest.raises(StudioTrouble, match=r"notes\.zip is not a whole back-up"):
        restore(tmp_path / "notes.zip", tmp_path / "again")
