from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from halfpan.collection import paints
from halfpan.core.paint.paint import Paint
from halfpan.errors import StudioTrouble
from halfpan.studio.studio import Studio, default_folder, open_studio

SIENNA = Paint(id="", maker="Larkspur Mill", range="Fine", name="Burnt Sienna", codes=("PBr7",))


def test_a_transaction_that_fails_keeps_nothing(studio: Studio, now: datetime) -> None:
    def add_and_fail() -> None:
        with studio.transaction() as db:
            paints.add_all(db, [SIENNA], now=now)
            raise RuntimeError("the cat stepped on the keyboard")

    with pytest.raises(RuntimeError):
        add_and_fail()
    with studio.look() as db:
        assert paints.listed(db) == []


def test_what_was_kept_is_there_when_the_studio_is_opened_again(studio: Studio, now: datetime) -> None:
    with studio.transaction() as db:
        paints.add_all(db, [SIENNA], now=now)
    again = open_studio(studio.folder)
    with again.look() as db:
        assert paints.listed(db) == [replace(SIENNA, id="p1")]
    again.close()


def test_the_studio_named_in_the_environment_is_the_default(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HALFPAN_STUDIO", str(tmp_path / "mine"))
    assert default_folder() == tmp_path / "mine"


def test_a_folder_that_cannot_be_made_is_refused_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StudioTrouble, match="--studio"):
        open_studio(tmp_path / "file" / "studio")
