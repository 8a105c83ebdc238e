"""Evenings that say nothing of the rhythm, and evenings on which one can spray.

Idle because everything dries is no dry spell. How many evenings are fit for spraying (dry, mild,
light) is learned from those on which it was done and those that were noted as spoilt.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.progress import Progress
from tracker.domain.ready import ready_lines
from tracker.domain.records import Records
from tracker.domain.steps import find_step
from tracker.domain.work import UnitWork
from tracker.forecast.evenings import EVENING_STARTS, EveningMinutes, minutes_by_day

WEATHER = "dry weather"
_LONGEST_WAIT_DAYS = 7
_FIT = 4.0
_SPOILT = 1.0
"""Before anything is known four evenings in five are fit for spraying, worth five evenings of evidence;
common practice, no source (people carry the models out between showers, and carry them back)."""
_SPOILT_WORDS = re.compile(
    r"\b(?:blocked\s+by\s+(?:the\s+)?weather|rain(?:ed|ing|y)?|too\s+(?:damp|humid|wet|cold|windy|hot|dark)"
    r"|bad\s+weather|no\s+spraying)\b",
    re.IGNORECASE,
)


def days_of_waiting(
    known: Records,
    progress: Progress,
    work: tuple[UnitWork, ...],
    evenings: Sequence[EveningMinutes],
    as_of: date,
) -> frozenset[date]:
    """Days since the last evening on which all that is left was drying; `as_of` among them.

    Only the wait that goes on is looked at: of an earlier one the log no longer tells what was dry.
    """
    held = [day for day in minutes_by_day(evenings) if day <= as_of]
    if not held or not any(unit.lines for unit in work):
        return frozenset()
    out = []
    for n in range(1, min((as_of - held[-1]).days, _LONGEST_WAIT_DAYS) + 1):
        day = held[-1] + timedelta(days=n)
        answer = ready_lines(known, datetime.combine(day, EVENING_STARTS), (progress, work))
        if answer.ready or not answer.drying:
            break
        out.append(day)
    return frozenset(out)


class SprayableShare(NamedTuple):
    """Share of evenings that are fit for spraying ~ Beta(fit, spoilt)."""

    fit: float
    spoilt: float


def sprayable_share(known: Records) -> SprayableShare:
    """Beta posterior: evenings on which something was sprayed against those noted as spoilt.

    A note counts as that when it says so ("rain", "too cold", "blocked by weather") on a step that
    needs dry weather or on a line that moved no model on.
    """
    days = {session.id: session.date for session in known.sessions}
    fit, spoilt = set(), set()
    for line in known.lines:
        step = find_step(line.step)
        gated = step is not None and step.gate == WEATHER
        if (gated or not line.models) and _SPOILT_WORDS.search(line.note):
            spoilt.add(days[line.session_id])
        elif gated and line.finished and line.models:
            fit.add(days[line.session_id])
    return SprayableShare(_FIT + len(fit), _SPOILT + len(spoilt - fit))


def sprayable_days(
    share: SprayableShare, rng: np.random.Generator, paths: int, days: int
) -> NDArray[np.bool_]:
    """Whether each coming day is fit for spraying, shape (paths, days); one share per path."""
    shares = rng.beta(share.fit, share.spoilt, paths).astype(np.float32)
    return np.asarray(rng.random((paths, days), dtype=np.float32) < shares[:, None])
