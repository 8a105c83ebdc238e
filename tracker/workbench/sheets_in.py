"""A file of whichever kind, brought in: a roster sheet, an evening sheet or a whole log."""

from __future__ import annotations

import re

from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk
from tracker.workbench.results import Imported

_BETWEEN = re.compile(r"""[,;\t"|]""")


def import_file(desk: Desk, path: str) -> Imported:
    """Bring in a file, all of it or nothing; what kind it is shows in its first line."""
    from tracker.sheets.files import read_text

    text = read_text(path)
    if isinstance(text, Problem):
        raise DataError(text)
    if text.lstrip("\ufeff \r\n").startswith("{"):
        return _whole_log(desk, text)
    columns = {name.strip().casefold() for name in _BETWEEN.split(text.lstrip("\ufeff").partition("\n")[0])}
    return _evenings(desk, text) if {"date", "step"} & columns else _roster(desk, text)


def _whole_log(desk: Desk, text: str) -> Imported:
    from tracker.sheets.document import read_document
    from tracker.workbench.whole import import_document

    document = read_document(text)
    if isinstance(document, Problem):
        raise DataError(document)
    return import_document(desk, document)


def _evenings(desk: Desk, text: str) -> Imported:
    from tracker.sheets.evenings import read_evenings
    from tracker.workbench.evenings_in import import_evenings

    read = read_evenings(text, today=desk.today())
    if read.problems:
        raise DataError(read.problems)
    return import_evenings(desk, read.rows)


def _roster(desk: Desk, text: str) -> Imported:
    from tracker.sheets.roster import read_roster
    from tracker.workbench.roster_in import import_roster

    read = read_roster(text, today=desk.today())
    if read.problems:
        raise DataError(read.problems)
    return import_roster(desk, read.rows, columns=read.columns)
