"""`lastcoat import`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import click

from tracker.cli.acts import BOOK_SHEETS
from tracker.cli.common import complain, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.workbench.desk import Desk

if TYPE_CHECKING:
    from tracker.workbench.results import Imported

NOTES_SHOWN = 20


@click.command(
    help=help_text(
        "Read an evening sheet, a roster sheet (CSV, UTF-8) or a whole log (JSON). One problem and nothing is"
        " stored. The same file twice changes nothing.",
        "lastcoat import evenings evenings.csv --dry-run",
        "lastcoat import roster roster.csv",
        "lastcoat import all everything.json --db new.db",
    )
)
@click.argument("what", type=click.Choice(["evenings", "roster", *BOOK_SHEETS, "all"]))
@click.argument("file", type=str)
@click.option("--dry-run", is_flag=True, help="Say what would be stored, and store nothing.")
@click.option("--keep-good", is_flag=True, help="Store the rows without problems even if others have some.")
@json_option
@db_option
@run_verb
def command(desk: Desk, *, what: str, file: str, dry_run: bool, keep_good: bool, as_json: bool) -> None:
    """Read the file, store what is new, and say what that was."""
    from tracker.sheets.files import read_text

    text = read_text(file)
    if isinstance(text, Problem):
        raise DataError(text)
    take: dict[str, Callable[[], Imported]] = {
        "evenings": lambda: _evenings(desk, text, dry_run, keep_good),
        "roster": lambda: _roster(desk, text, dry_run, keep_good),
        "all": lambda: _all(desk, text, file, dry_run, keep_good),
        **{name: lambda: _book(desk, what, text, dry_run, keep_good) for name in BOOK_SHEETS},
    }
    done = take[what]()
    for problem in done.problems:
        complain(" ".join(str(problem).split("\n")))
    if as_json:
        say_json(
            {
                "added": done.added,
                "changed": done.changed,
                "unchanged": done.unchanged,
                "dry_run": done.dry_run,
                "notes": list(done.notes),
                "problems": [problem._asdict() for problem in done.problems],
            }
        )
        return
    say(done.sentence())
    for note in done.notes[:NOTES_SHOWN]:
        say(f"  {note}")
    if len(done.notes) > NOTES_SHOWN:
        say(f"  and {len(done.notes) - NOTES_SHOWN} more notes")


def _good(problems: Sequence[Problem], keep_good: bool) -> None:
    if problems and not keep_good:
        raise DataError(problems)


def _evenings(desk: Desk, text: str, dry_run: bool, keep_good: bool) -> Imported:
    from tracker.sheets.evenings import read_evenings
    from tracker.workbench.evenings_in import import_evenings

    read = read_evenings(text, today=desk.today())
    _good(read.problems, keep_good)
    done = import_evenings(desk, read.rows, dry_run=dry_run, keep_good=keep_good)
    return done._replace(notes=read.notes + done.notes, problems=read.problems + done.problems)


def _roster(desk: Desk, text: str, dry_run: bool, keep_good: bool) -> Imported:
    from tracker.sheets.roster import read_roster
    from tracker.workbench.roster_in import import_roster

    read = read_roster(text, today=desk.today())
    _good(read.problems, keep_good)
    done = import_roster(desk, read.rows, columns=read.columns, dry_run=dry_run, keep_good=keep_good)
    return done._replace(notes=read.notes + done.notes, problems=read.problems + done.problems)


def _book(desk: Desk, what: str, text: str, dry_run: bool, keep_good: bool) -> Imported:
    from tracker.workbench.book_sheets import import_book_sheet, read_book_sheet

    read = read_book_sheet(what, text, today=desk.today())
    _good(read.problems, keep_good)
    done = import_book_sheet(desk, what, read.rows, dry_run=dry_run, keep_good=keep_good)
    return done._replace(notes=read.notes + done.notes, problems=read.problems + done.problems)


def _all(desk: Desk, text: str, file: str, dry_run: bool, keep_good: bool) -> Imported:
    from tracker.sheets.document import read_document
    from tracker.workbench.whole import import_document

    if keep_good:
        raise UsageError(Problem("--keep-good", "a whole log is taken whole", "Leave it out"))
    document = read_document(text)
    if isinstance(document, Problem):
        raise DataError(document._replace(where=f"{file}: {document.where}"))
    return import_document(desk, document, dry_run=dry_run)
