"""The desk a person works at: where the log lies, what time it is, how new things get their names."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tracker.domain.problems import Problem
    from tracker.domain.records import Records
    from tracker.store.opening import Store

NIGHT_ENDS_HOUR = 4
"""An evening that runs past midnight belongs to the day it began, up to this hour."""


def random_uid() -> str:
    """A name for a new row that no other log will ever give: 128 random bits in hex."""
    return os.urandom(16).hex()


def evening_of(moment: datetime) -> date:
    """The day whose evening a local moment belongs to."""
    return moment.date() - timedelta(days=1) if moment.hour < NIGHT_ENDS_HOUR else moment.date()


def tell_on_stderr(problem: Problem) -> None:
    """One line on standard error, harmless to a terminal."""
    from tracker.domain.text import printable

    if sys.stderr is not None:
        with suppress(OSError, ValueError):  # nobody listens: what was stored is stored all the same
            print(printable(str(problem)), file=sys.stderr)  # noqa: T201


class Desk(NamedTuple):
    """Where the log lies, the clock, the source of new names, and whom to tell what went wrong beside."""

    path: str
    now: Callable[[], datetime] = datetime.now
    new_uid: Callable[[], str] = random_uid
    tell: Callable[[Problem], None] = tell_on_stderr
    """Told what went wrong beside a change that was stored all the same: a daily backup that failed."""
    backs_up: bool = True
    """False only while a log is built that can be built again at any time: the demo's."""

    def today(self) -> date:
        """The calendar day."""
        return self.now().date()

    def evening_day(self) -> date:
        """The day this evening belongs to: before 4 in the morning it is still yesterday's."""
        return evening_of(self.now())

    @contextmanager
    def open(self, *, create: bool = False) -> Iterator[Store]:
        """The store for as long as the block runs; what SQLite refuses becomes a `DataError`.

        A log that is not there yet is made when `create` is set, else it is a `DataError`.
        """
        from tracker.store.opening import open_store, refusals

        with refusals(self.path):
            store = open_store(
                self.path, now=self.now, new_uid=self.new_uid, create=create, keep=self._before_schema
            )
            store.before_stored = self._before_stored if self.backs_up else None
            try:
                yield store
            finally:
                store.close()

    def _before_schema(self, version: int) -> None:
        """The backup before a migration; what it raises stops the migration."""
        from tracker.workbench.backups import keep

        keep(self, f"schema-{version}")

    def _before_stored(self, verb: str, last: datetime | None) -> None:
        """Back up before an import, and before the first change of an evening that is not the very first.

        Other changes cost a comparison of two days. An import whose backup cannot be made is not stored.
        """
        bulk = verb.startswith("import")
        if bulk or (last is not None and evening_of(last) != self.evening_day()):
            from tracker.workbench import backups

            backups.before(self, "import") if bulk else backups.daily(self)

    def records(self) -> Records:
        """Everything that is known; a log that is not there yet knows nothing."""
        from tracker.domain.records import Records
        from tracker.store.read import records

        if not os.path.lexists(self.path):
            return Records()
        with self.open() as store:
            return records(store)
