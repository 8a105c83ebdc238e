"""The desk a person works at: where the log lies, what time it is, how new things get their names."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
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


class Desk(NamedTuple):
    """Where the log lies, the clock, and the source of new names."""

    path: str
    now: Callable[[], datetime] = datetime.now
    new_uid: Callable[[], str] = random_uid

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
            store = open_store(self.path, now=self.now, new_uid=self.new_uid, create=create)
            try:
                yield store
            finally:
                store.close()

    def records(self) -> Records:
        """Everything that is known; a log that is not there yet knows nothing."""
        from tracker.domain.records import Records
        from tracker.store.read import records

        if not os.path.lexists(self.path):
            return Records()
        with self.open() as store:
            return records(store)
