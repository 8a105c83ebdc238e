"""The sheets of the bench book by name: each is read and written by its own modules, loaded when needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from importlib import import_module
from typing import Any

from tracker.sheets.table import Read
from tracker.workbench.desk import Desk
from tracker.workbench.results import Imported


def read_book_sheet(what: str, text: str, *, today: date) -> Read[Any]:
    """The rows of a sheet with every problem by its row."""
    read: Callable[..., Read[Any]] = getattr(import_module(f"tracker.sheets.{what}"), f"read_{what}")
    return read(text, today=today)


def import_book_sheet(
    desk: Desk, what: str, rows: Sequence[Any], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Store what is new in the rows, all of it or nothing."""
    take: Callable[..., Imported] = getattr(_verbs(what), f"import_{what}")
    return take(desk, rows, dry_run=dry_run, keep_good=keep_good)


def export_book_sheet(desk: Desk, what: str) -> str:
    """The sheet's text."""
    write: Callable[[Sequence[Any]], str] = getattr(import_module(f"tracker.sheets.{what}"), f"write_{what}")
    rows: Callable[[Desk], Sequence[Any]] = getattr(_verbs(what), f"export_{what}")
    return write(rows(desk))


def _verbs(what: str) -> Any:
    return import_module(f"tracker.workbench.{what}_sheet")
