"""`lastcoat export`."""

from __future__ import annotations

import os
import sys

import click

from tracker.cli.acts import BOOK_SHEETS
from tracker.cli.common import complain, db_option, help_text, run_verb
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Write the evenings or the roster as a sheet (CSV), or everything as one document (JSON). The file"
        ' "-" is standard output.',
        "lastcoat export evenings evenings.csv",
        "lastcoat export all everything.json",
    )
)
@click.argument("what", type=click.Choice(["evenings", "roster", *BOOK_SHEETS, "all"]))
@click.argument("file", type=str)
@db_option
@run_verb
def command(desk: Desk, what: str, file: str) -> None:
    """Write the file whole or not at all."""
    if "\0" in file:
        raise UsageError(Problem("the file", "no file can have this name", "Give another name"))
    data = _text(desk, what).encode()
    if file == "-":
        sys.stdout.flush()
        sys.stdout.buffer.write(data)
        return
    _write_whole(file, data)
    complain(f"Written: {file}")


def _write_whole(file: str, data: bytes) -> None:
    """The file appears whole or stays as it was; what is no ordinary file is written to directly."""
    target = os.path.realpath(file)
    special = os.path.exists(target) and not os.path.isfile(target)  # noqa: PTH110, PTH113 - a text path
    unready = target if special else f"{target}.unready"
    try:
        with open(unready, "wb") as out:  # noqa: PTH123
            out.write(data)
            if not special:
                out.flush()
                os.fsync(out.fileno())  # else a loss of power could leave the name with nothing in it
        if not special:
            os.replace(unready, target)  # noqa: PTH105
    except OSError:
        if not special and os.path.exists(unready):  # noqa: PTH110
            os.remove(unready)  # noqa: PTH107
        raise


def _text(desk: Desk, what: str) -> str:
    from tracker.workbench import whole

    if what == "evenings":
        from tracker.sheets.evenings import write_evenings

        return write_evenings(whole.export_evenings(desk))
    if what == "roster":
        from tracker.sheets.roster import write_roster

        return write_roster(whole.export_roster(desk))
    if what in BOOK_SHEETS:
        from tracker.workbench.book_sheets import export_book_sheet

        return export_book_sheet(desk, what)
    from tracker.sheets.document import write_document

    return write_document(whole.export_document(desk))
