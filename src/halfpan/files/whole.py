"""Files taken whole: read at once, or written beside their place, made sure of, then put in it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from halfpan.errors import HalfpanError, Unwritable


def read_whole(path: Path, most_bytes: int, refusal: type[HalfpanError], *, smaller: str) -> bytes:
    """Return the bytes of a file that the painter named.

    Parameters
    ----------
    most_bytes : a larger file is refused
    refusal : what is raised when the file cannot be opened or is too large
    smaller : what to do with one that is too large
    """
    try:
        if path.stat().st_size > most_bytes:
            raise refusal(f"{path.name} is larger than {most_bytes // 1_000_000} MB; {smaller}.")
        return path.read_bytes()
    except OSError as trouble:
        raise refusal(f"{path} cannot be opened: {why(trouble)}.") from trouble


def write_whole(path: Path, content: bytes) -> None:
    """Write a file; a power cut or a kill leaves the old one or the new one, never half of it.

    Raises
    ------
    Unwritable
    """
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    except OSError as trouble:
        raise Unwritable(f"{path} cannot be written: {why(trouble)}.") from trouble
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as open_part:
            open_part.write(content)
            open_part.flush()
            os.fsync(open_part.fileno())
        part.chmod(0o644)
        part.replace(path)
    except OSError as trouble:
        part.unlink(missing_ok=True)
        raise Unwritable(f"{path} cannot be written: {why(trouble)}.") from trouble
    except BaseException:
        part.unlink(missing_ok=True)
        raise
    _settle(path.parent)


def why(trouble: OSError) -> str:
    """Say in a painter's words why a file cannot be opened or written, and what to look at."""
    if isinstance(trouble, FileNotFoundError):
        return "there is no such file or folder; look at how it is spelt"
    if isinstance(trouble, IsADirectoryError):
        return "it is a folder; name a file"
    if isinstance(trouble, NotADirectoryError):
        return "what stands before its name is no folder"
    if isinstance(trouble, PermissionError):
        return "this computer does not allow it there"
    return trouble.strerror or str(trouble)


def _settle(folder: Path) -> None:
    """Make sure of the folder's own entry too, where the system allows it."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
