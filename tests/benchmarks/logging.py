"""What logging one line costs: python -m tests.benchmarks.logging.

The floor is click and one durable insert (write-ahead log, synchronous FULL) in a process of its own.
The unit has 100 models; a larger one takes longer to read. Median processor time of interleaved runs;
it prints figures and never passes or fails.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measuring import interleaved, tell
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk

FLOOR = """
import click
@click.command()
@click.argument("words")
@click.option("--db")
def main(words, db):
    import sqlite3
    log = sqlite3.connect(db, isolation_level=None)
    log.execute("PRAGMA journal_mode = WAL")
    log.execute("PRAGMA synchronous = FULL")
    log.execute("BEGIN IMMEDIATE")
    log.execute("CREATE TABLE IF NOT EXISTS line (id INTEGER PRIMARY KEY, words TEXT)")
    log.execute("INSERT INTO line (words) VALUES (?)", (words,))
    log.execute("COMMIT")
    click.echo(words)
main()
"""
_START = "from tracker.cli.main import main; main(prog_name='lastcoat')"


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as place:
        floor, ours = str(Path(place) / "floor.db"), str(Path(place) / "log.db")
        least = [sys.executable, "-c", FLOOR, "line", "--db", floor]
        add_unit(Desk(ours), RosterRow("Spears", 100))
        program = [sys.executable, "-c", _START]
        options = ["log", "--unit", "Spears", "--step", "cleaning", "--models", "2", "--minutes", "9"]
        seconds = interleaved(
            {
                "python -c pass": lambda _: [sys.executable, "-c", "pass"],
                "click and one durable insert": lambda _: least,
                "lastcoat --help": lambda _: [*program, "--help"],
                "lastcoat log with options": lambda _: [*program, *options, "--db", ours],
                "lastcoat log, its path said first": lambda _: [*program, "--db", ours, *options],
                "lastcoat log with a sentence": lambda _: [
                    *program, "log", "cleaned 2 spears, 9 min", "--db", ours,
                ],
                "lastcoat undo": lambda _: [*program, "undo", "--db", ours],
            }
        )  # fmt: skip
        tell(seconds, "click and one durable insert")


if __name__ == "__main__":
    main()
