"""Processor time of whole processes, and figures as multiples of a floor from the same run."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from statistics import median

ROUNDS = 11


def plain_environment() -> dict[str, str]:
    """The environment, with compiled modules kept as on any person's machine."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def cpu_seconds(command: Sequence[str]) -> float:
    """User and system time of one process and what it waited for; a failing one is an error."""
    process = subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, env=plain_environment()
    )
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, command)
    return used.ru_utime + used.ru_stime


def interleaved(
    commands: Mapping[str, Callable[[int], Sequence[str]]], rounds: int = ROUNDS
) -> dict[str, float]:
    """Median processor seconds of each command; round by round, so that a busy machine slows all alike.

    A command is made from the number of its round. One round before the first is thrown away.
    """
    seconds: dict[str, list[float]] = {name: [] for name in commands}
    for number in range(rounds + 1):
        for name, make in commands.items():
            taken = cpu_seconds(make(number))
            if number:
                seconds[name].append(taken)
    return {name: median(taken) for name, taken in seconds.items()}


def tell(seconds: Mapping[str, float], floor: str) -> None:
    """Print milliseconds and multiples of the floor."""
    for name, taken in seconds.items():
        sys.stdout.write(f"{name:<42}{1000 * taken:9.1f} ms{taken / seconds[floor]:8.2f} x\n")
