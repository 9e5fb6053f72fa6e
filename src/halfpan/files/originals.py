"""Original photographs, kept under the SHA-256 of their bytes and never altered."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from halfpan.errors import StudioTrouble
from halfpan.files.whole import write_whole


def sha256_of(content: bytes) -> str:
    """Return the name under which some bytes are kept."""
    return hashlib.sha256(content).hexdigest()


def path_of(folder: Path, sha256: str) -> Path:
    """Return where an original lies, in a folder of its first two letters."""
    return folder / sha256[:2] / sha256


def keep_original(folder: Path, content: bytes) -> str:
    """Keep an original, once, and return its SHA-256."""
    sha256 = sha256_of(content)
    path = path_of(folder, sha256)
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    return sha256


def original(folder: Path, sha256: str) -> bytes:
    """Return the bytes of an original.

    Raises
    ------
    StudioTrouble
        When it is missing, or is no longer what was kept.
    """
    try:
        content = path_of(folder, sha256).read_bytes()
    except OSError as trouble:
        raise StudioTrouble(
            f"The original photo {sha256[:12]}… is missing from {folder}; restore a back-up."
        ) from trouble
    if sha256_of(content) != sha256:
        raise StudioTrouble(f"The original photo {sha256[:12]}… in {folder} was altered; restore a back-up.")
    return content


def altered(folder: Path) -> Iterator[str]:
    """Give the names of originals whose bytes are no longer what was kept."""
    for path in sorted(folder.glob("??/*")):
        if len(path.name) == 64 and sha256_of(path.read_bytes()) != path.name:
            yield path.name
