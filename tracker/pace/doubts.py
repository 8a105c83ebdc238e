"""Reasons not to lean on the learned minutes: codes for scripts, sentences for people."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import exp

import numpy as np

from tracker.domain.answers import Doubt, PlannedLine
from tracker.domain.records import Records
from tracker.domain.work import minute_shares
from tracker.pace.effects import unit_key
from tracker.pace.pace import Pace

OWN_PACE_LINES = 30
"""From about here on the ranges rest on the person's own log; measured on public task logs."""
ROUNDED_MINUTES = 30.0
DRIFT_SPREADS = 1.64
DRIFT_SHARE = 0.15

MOVES_DATES = ("little-history", "drift")
"""Codes of the doubts that a date inherits from its minutes."""


def pace_doubts(records: Records, pace: Pace) -> tuple[Doubt, ...]:
    """What to doubt about the pace as a whole."""
    found = [_little_history(records), _rounded(pace), _drifted(pace), *_odd_evenings(records, pace)]
    return tuple(doubt for doubt in found if doubt)


def line_doubts(lines: Sequence[PlannedLine], pace: Pace) -> tuple[Doubt, ...]:
    """What to doubt about these lines: steps never done, units unlike any before."""
    steps = sorted({x.step for x in lines if x.step.casefold() not in pace.lines_of_step})
    kinds = sorted({x.kind for x in lines if _is_unlike(x, pace)})
    out = []
    if steps:
        out.append(Doubt("new-step", f"Never logged yet, so the trade's minutes stand in: {_some(steps)}."))
    if kinds:
        out.append(Doubt("new-kind", f"No unit of this kind is in the log yet: {_some(kinds)}."))
    return tuple(out)


def _is_unlike(line: PlannedLine, pace: Pace) -> bool:
    if pace.columns is None:
        return True
    places = pace.columns.places
    return line.kind not in places["kind"] and unit_key(line) not in places["unit"]


def _some(names: Sequence[str], most: int = 4) -> str:
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most} more"


def _little_history(records: Records) -> Doubt | None:
    shares = minute_shares(records.lines, records.sessions)
    timed = sum(minutes is not None for minutes in shares.values())
    if timed >= OWN_PACE_LINES:
        return None
    said = "No minutes are" if not timed else "Only one line with minutes is" if timed == 1 else ""
    return Doubt(
        "little-history",
        f"{said or f'Only {timed} lines with minutes are'} logged yet: the ranges lean on the trade's "
        f"usual minutes until about {OWN_PACE_LINES}.",
    )


def _rounded(pace: Pace) -> Doubt | None:
    if pace.grain_minutes < ROUNDED_MINUTES:
        return None
    return Doubt(
        "rounded",
        f"Nearly all minutes are multiples of {pace.grain_minutes:.0f}: they look guessed afterwards, "
        "so short steps are known less well.",
    )


def _drifted(pace: Pace) -> Doubt | None:
    """Whether the last period is clearly off the person's pace over the whole log."""
    if pace.columns is None or pace.columns.periods < 2:
        return None
    drift = pace.effects[:, -pace.columns.periods :].astype(float)
    # The level of all periods together is the person's pace; only the difference from it is drift.
    now = drift[:, -1] - drift.mean(axis=1)
    middle, spread = float(np.mean(now)), float(np.std(now))
    if abs(middle) < DRIFT_SPREADS * spread or abs(middle) < DRIFT_SHARE:
        return None
    share = abs(exp(middle) - 1)
    word = "longer" if middle > 0 else "less time"
    return Doubt("drift", f"Lately the same work takes about {share:.0%} {word} than over the whole log.")


def _odd_evenings(records: Records, pace: Pace) -> list[Doubt]:
    days: list[date] = [s.date for s in sorted(records.sessions, key=lambda s: (s.date, s.id))]
    out = []
    for evening, times in pace.odd_evenings:
        if evening < len(days):
            how = f"{times:.0f} times as long as" if times >= 2 else "far less time than"
            out.append(
                Doubt(
                    "odd-evening",
                    f"The evening of {days[evening].isoformat()} took {how} expected; "
                    "it counts for little. Is it logged right?",
                )
            )
    return out
