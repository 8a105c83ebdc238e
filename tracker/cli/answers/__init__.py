"""Commands that answer. What they have in common: one thread for small sums, plain signs where needed."""

from __future__ import annotations

import os
import sys

import click

from tracker.cli.common import Decorator

# Before numpy is first imported: these problems are tiny, and starting threads for them costs more.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

seed_option: Decorator = click.option(
    "--seed",
    type=click.IntRange(0, 2**32 - 1),
    default=1,
    show_default=True,
    help="The same seed, the same answer.",
)
draws_option: Decorator = click.option(
    "--draws",
    type=click.IntRange(100, 100_000),
    default=2000,
    show_default=True,
    help="How many futures to play through.",
)


def plain_signs() -> bool:
    """Whether the output can only bear ASCII: an encoding without blocks, or a bare console."""
    try:
        "━●█◇…".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return True
    return sys.stdout.isatty() and os.environ.get("TERM", "") in ("dumb", "linux")


def width() -> int:
    """Columns to fill: 80, or what a narrower terminal has."""
    if not sys.stdout.isatty():
        return 80
    return max(min(os.get_terminal_size(sys.stdout.fileno()).columns, 80), 50)
