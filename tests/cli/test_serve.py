"""``halfpan serve`` really serves, and only to this computer."""

from __future__ import annotations

import re
import subprocess
import sys
from urllib.request import urlopen

import pytest


@pytest.fixture
def serving(tmp_path):
    command = [sys.executable, "-c", "from halfpan.cli.app import main; main()"]
    command += ["--studio", str(tmp_path / "studio"), "serve", "--port", "0", "--no-browser"]
    process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
    said = process.stderr.readline()
    yield process, said
    process.terminate()
    process.wait(timeout=20)
    process.stderr.close()


def test_it_says_where_it_is_and_answers_there(serving):
    _, said = serving
    address = re.search(r"http://127\.0\.0\.1:\d+", said)[0]
    with urlopen(address, timeout=30) as answer:
        assert b"An empty wall" in answer.read()


def test_it_is_bound_to_this_computer_alone(serving):
    process, said = serving
    port = int(re.search(r":(\d+)", said[said.index("127") :])[1])
    with open(f"/proc/{process.pid}/net/tcp") as table:  # noqa: PTH123
        listening = [line.split()[1] for line in table if line.split()[3] == "0A"]
    assert f"0100007F:{port:04X}" in listening
    assert f"00000000:{port:04X}" not in listening


def test_a_taken_port_is_a_sentence(serving, tmp_path):
    _, said = serving
    port = re.search(r":(\d+)", said[said.index("127") :])[1]
    command = [sys.executable, "-c", "from halfpan.cli.app import main; main()", "serve", "--port", port]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 1
    assert (
        done.stderr.strip()
        == f"halfpan: Port {port} is taken; name another with --port, or --port 0 for any."
    )
