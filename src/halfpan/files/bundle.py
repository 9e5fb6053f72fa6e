"""A back-up: one zip with everything in it and a list of checksums, verified before it counts."""

from __future__ import annotations

import hashlib
import json
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

from halfpan.errors import StudioTrouble
from halfpan.files.whole import why

LIST = "checksums.json"
FORM = 1
MOST_UNPACKED = 200_000_000_000
_CHUNK = 1 << 20


def write_bundle(path: Path, members: Iterable[tuple[str, Path]], facts: Mapping[str, str]) -> int:
    """Write files into a new zip under their names, with their SHA-256, and return how many.

    The zip is written beside its place and put there once it has been read back whole.
    """
    part = path.with_name(f".{path.name}.part")
    sums: dict[str, str] = {}
    try:
        with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED, allowZip64=True) as packed:
            for name, source in members:
                sums[name] = _pack(packed, name, source)
            document = {"form": FORM, **facts, "sha256": sums}
            packed.writestr(LIST, json.dumps(document, indent=1))
        verify_bundle(part)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return len(sums)


def _pack(packed: zipfile.ZipFile, name: str, source: Path) -> str:
    digest = hashlib.sha256()
    with source.open("rb") as content, packed.open(name, "w", force_zip64=True) as member:
        while chunk := content.read(_CHUNK):
            digest.update(chunk)
            member.write(chunk)
    return digest.hexdigest()


def verify_bundle(path: Path) -> dict[str, str]:
    """Read a back-up through and return the SHA-256 of each of its files.

    Raises
    ------
    StudioTrouble
        When it is no back-up, is damaged, or holds anything that is not on its list.
    """
    try:
        with zipfile.ZipFile(path) as packed:
            listed = json.loads(packed.read(LIST))
            sums: dict[str, str] = dict(listed["sha256"])
            names = set(packed.namelist()) - {LIST}
            if listed["form"] != FORM or names != set(sums) or any(map(_outside, names)):
                raise StudioTrouble(f"{path.name} is not a back-up that this Halfpan can restore.")
            if sum(packed.getinfo(name).file_size for name in names) > MOST_UNPACKED:
                raise StudioTrouble(f"{path.name} unpacks to more than a studio can hold.")
            for name, expected in sums.items():
                if _sum_of(packed, name) != expected:
                    raise StudioTrouble(f"{path.name} is damaged: {name} is not what was backed up.")
    except OSError as trouble:
        raise StudioTrouble(f"{path} cannot be opened: {why(trouble)}.") from trouble
    except (
        zipfile.BadZipFile,
        KeyError,
        ValueError,
        TypeError,
        EOFError,
        zipfile.LargeZipFile,
    ) as trouble:
        raise StudioTrouble(f"{path.name} is not a whole back-up ({trouble}).") from trouble
    except zipfile.zlib.error as trouble:  # type: ignore[attr-defined]
        raise StudioTrouble(f"{path.name} is damaged ({trouble}).") from trouble
    return sums


def _outside(name: str) -> bool:
    path = PurePosixPath(name)
    return path.is_absolute() or ".." in path.parts or "\\" in name or ":" in name


def _sum_of(packed: zipfile.ZipFile, name: str) -> str:
    digest = hashlib.sha256()
    with packed.open(name) as member:
        while chunk := member.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()


def unpack_bundle(path: Path, folder: Path) -> int:
    """Verify a back-up, unpack it into a folder, and return how many files it held."""
    sums = verify_bundle(path)
    with zipfile.ZipFile(path) as packed:
        for name in sums:
            place = folder / PurePosixPath(name)
            place.parent.mkdir(parents=True, exist_ok=True)
            with packed.open(name) as member, place.open("wb") as out:
                while chunk := member.read(_CHUNK):
                    out.write(chunk)
    return len(sums)
