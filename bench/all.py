"""Run every bench, one after the other, each in its own process."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main():
    failed = []
    for path in sorted(HERE.glob("*.py")):
        if path.stem == "all":
            continue
        print(f"\n## {path.stem}\n", flush=True)
        if subprocess.run([sys.executable, str(path), *sys.argv[1:]], check=False).returncode:
            failed.append(path.stem)
    if failed:
        sys.exit(f"These benches did not finish: {', '.join(failed)}")


if __name__ == "__main__":
    main()
