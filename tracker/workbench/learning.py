"""Learning the pace from a log, or taking up the one that was kept with it."""

from __future__ import annotations

import os

from tracker.domain.problems import DataError
from tracker.domain.records import Records
from tracker.pace import learn
from tracker.pace.kept import VERSION, from_bytes, to_bytes
from tracker.pace.pace import Pace
from tracker.store.fits import count_lines, keep_fit, kept_fit
from tracker.workbench.desk import Desk

_NAME = "pace"


def learned(desk: Desk, known: Records) -> Pace:
    """The pace of `known`, from the log's kept fit if it was made of just these records.

    The lines known on a day are the first so many of the log by date, so their number beside the log's
    state tells whether two answers rest on the same records.
    """
    if not known.lines or not os.path.lexists(desk.path):
        return learn(known)
    with desk.open() as store:
        state = store.log_state()
        whole = count_lines(store) == len(known.lines)
        blob = kept_fit(store, _NAME, state, VERSION) if whole else None
    pace = from_bytes(blob) if blob else None
    if pace is not None:
        return pace
    pace = learn(known)
    if whole:
        _keep(desk, state, pace)
    return pace


def _keep(desk: Desk, state: str, pace: Pace) -> None:
    try:
        with desk.open() as store:
            keep_fit(store, _NAME, state, VERSION, to_bytes(pace))
    except DataError:
        # A log that cannot be written can still be answered from; next time it is learned anew.
        return
