"""``halfpan serve`` really serves, and only to this computer."""

from __future__ import annotations

import re
import subprocess
import sys
from contextlib import contextmanager
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest


@contextmanager
def served(folder, *more):
    """Serve an empty studio; give the process and the first line it says."""
    command = [sys.executable, "-c", "from halfpan.cli.app import main; main()"]
    command += ["--studio", str(folder / "studio"), "serve", "--port", "0", "--no-browser", *more]
    process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
    try:
        yield process, process.stderr.readline()
    finally:
        process.terminate()
        process.wait(timeout=20)
        process.stderr.close()


@pytest.fixture
def serving(tmp_path):
    with served(tmp_path) as found:
        yield found


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


def test_on_the_network_it_asks_for_the_code_it_has_said(tmp_path):
    with served(tmp_path, "--on-network", "--read-only") as (process, _):
        said = process.stderr.readline()
        assert re.search(r"can see the studio: \d{4} \d{4}\.", said)
        port = re.search(r":(\d+)", said)
        outer = re.search(r"http://\d+\.\d+\.\d+\.\d+:\d+", said)
        if port is None or outer is None:
            pytest.skip("This computer has no address in a network")
        with urlopen(f"{outer[0]}/paints", timeout=30) as answer:
            assert answer.url == f"{outer[0]}/pair"
        foreign = Request(f"http://127.0.0.1:{port[1]}/paints", headers={"Host": "evil.example"})
        with pytest.raises(HTTPError, match="400"):
            urlopen(foreign, timeout=30)


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
