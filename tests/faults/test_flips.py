"""Bytes flipped in a log are told or do no harm; no traceback, no number that is silently another."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent


def test_flipped_bytes_are_told_or_harmless() -> None:
    # In a process of its own: only one with a single thread may split in two safely.
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "tests.faults.flips"],
        capture_output=True, text=True, cwd=ROOT, check=False,
    )  # fmt: skip
    print(done.stdout)  # noqa: T201 - the figures
    assert done.returncode == 0, done.stdout + done.stderr
    assert "silently wrong: 0;" in done.stdout
    assert "told wrongly: 0)" in done.stdout
    assert "detected 0," not in done.stdout
