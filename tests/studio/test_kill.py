"""A kill at any moment leaves the studio whole: a program is killed at random moments and looked at after."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from sqlalchemy import text

from halfpan.collection import changes, paints, photos
from halfpan.files.originals import altered, original
from halfpan.studio.studio import open_studio

BATCH = 40
BUSY = f"""
import sys
from datetime import UTC, datetime
from pathlib import Path
from halfpan.collection import changes, photos
from halfpan.collection.photos import KeptPhoto
from halfpan.files.originals import keep_original
from halfpan.files.tables import parse_table
from halfpan.studio.add_paints import add_paints
from halfpan.studio.studio import open_studio

now = datetime.now(UTC)
studio = open_studio(Path(sys.argv[1]))
print("ready", flush=True)
for batch in range(10_000):
    name = f"Tidewater,Batch {{batch}} from {{sys.argv[2]}}"
    lines = "".join(f"{{name}} no {{i}},PB29 PBk9\\n" for i in range({BATCH}))
    add_paints(studio, parse_table("maker,name,codes\\n" + lines), now=now)
    content = f"{{sys.argv[2]}} {{batch}}".encode() * 50_000
    sha256 = keep_original(studio.photos, content)
    with studio.transaction() as db, changes.noted(db, "kept a photo", now=now):
        photos.keep(db, KeptPhoto(sha256, "photo", len(content), now))
"""


def kill_while_busy(folder: Path, name: str, after_s: float) -> None:
    command = [sys.executable, "-c", BUSY, str(folder), name]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as busy:
        assert busy.stdout is not None
        assert busy.stdout.readline() == b"ready\n"
        time.sleep(after_s)
        busy.send_signal(signal.SIGKILL)
        assert busy.wait() == -signal.SIGKILL


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill that cannot be caught")
def test_a_kill_at_any_moment_leaves_the_studio_whole(tmp_path: Path) -> None:
    chance = random.Random(20)
    done = 0
    for turn in range(8):
        kill_while_busy(tmp_path / "studio", f"turn {turn}", chance.uniform(0.0, 0.5))
        studio = open_studio(tmp_path / "studio")
        with studio.look() as db:
            assert db.execute(text("PRAGMA integrity_check")).scalar_one() == "ok"
            assert db.execute(text("PRAGMA foreign_key_check")).all() == []
            kept, noted = paints.listed(db), changes.listed(db, limit=10_000)
            assert len(kept) % BATCH == 0
            assert all(one.codes == ("PB29", "PBk9") for one in kept)
            assert sum(one.what.startswith("added") for one in noted) == len(kept) // BATCH
            for photo in photos.listed(db):
                assert len(original(studio.photos, photo.sha256)) == photo.bytes
        assert list(altered(studio.photos)) == []
        done = max(done, len(kept))
        studio.close()
    assert done > 0
