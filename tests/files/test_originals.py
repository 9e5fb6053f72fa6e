from __future__ import annotations

from pathlib import Path

import pytest

from halfpan.errors import StudioTrouble
from halfpan.files.originals import altered, keep_original, original, path_of, sha256_of
from halfpan.files.whole import write_whole


def test_an_original_is_kept_once_under_the_name_of_its_bytes(tmp_path: Path) -> None:
    # SHA-256 of "abc": FIPS 180-2, appendix B.1.
    assert (
        keep_original(tmp_path, b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )
    assert keep_original(tmp_path, b"abc") == sha256_of(b"abc")
    assert original(tmp_path, sha256_of(b"abc")) == b"abc"
    assert len([path for path in tmp_path.rglob("*") if path.is_file()]) == 1


def test_an_altered_or_missing_original_is_noticed(tmp_path: Path) -> None:
    name = keep_original(tmp_path, b"abc")
    assert list(altered(tmp_path)) == []
    path_of(tmp_path, name).write_bytes(b"abd")
    assert list(altered(tmp_path)) == [name]
    with pytest.raises(StudioTrouble, match="altered"):
        original(tmp_path, name)
    path_of(tmp_path, name).unlink()
    with pytest.raises(StudioTrouble, match="missing"):
        original(tmp_path, name)


def test_a_write_that_fails_leaves_the_old_file_and_no_scraps(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.txt", b"old")
    with pytest.raises(TypeError):
        write_whole(tmp_path / "a.txt", "not bytes")  # type: ignore[arg-type]
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.txt", b"old")]
