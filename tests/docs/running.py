"""Runs the program as a person would: a process of its own, in a folder of its own, 80 columns wide."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from pathlib import Path

_START = "from tracker.cli.main import main; main(prog_name='lastcoat')"
_KEPT = ("PATH", "HOME", "SYSTEMROOT", "TMPDIR", "COVERAGE_PROCESS_START")


def environment(folder: Path) -> dict[str, str]:
    """A plain terminal of 80 columns whose log lies in the folder."""
    kept = {name: os.environ[name] for name in _KEPT if name in os.environ}
    return kept | {
        "COLUMNS": "80",
        "LC_ALL": "C.UTF-8",
        "LASTCOAT_DB": str(folder / "log.db"),
        "PYTHONDONTWRITEBYTECODE": "1",
    }


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a line that begins with `lastcoat`, as a shell would split it."""
    program, *words = shlex.split(command, comments=True)
    if program != "lastcoat":
        raise ValueError(f"not ours to run: {command}")
    return subprocess.run(
        [sys.executable, "-c", _START, *words],
        cwd=folder,
        env=environment(folder),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def printed(command: str, folder: Path) -> str:
    """What a line prints; that it fails is an error."""
    done = run(command, folder)
    if done.returncode or done.stderr:
        raise RuntimeError(f"{command}: status {done.returncode}, {done.stderr}")
    return done.stdout
