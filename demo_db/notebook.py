"""How the invented person writes an evening down: rounded, often only the total, now and then a guess."""

from __future__ import annotations

from math import exp

from numpy.random import Generator

from demo_db.desk import Stint
from demo_db.people import Person
from tracker.domain.rows import EveningRow

_SHARE_UNTIMED = 0.03
"""Evenings of which nobody looked at the clock at all."""
_SHARE_MIXED = 0.10
"""Evenings with a total where the first line was timed as well."""


def write_down(stints: list[Stint], person: Person, rng: Generator) -> list[EveningRow]:
    """The rows of one evening; minutes heap on 5 as people's do."""
    if not stints:
        return []
    how = rng.random()
    lines = [_row(stint, person, rng) for stint in stints]
    total = sum(heaped(stint.minutes) for stint in stints)
    if how < _SHARE_UNTIMED:
        return [line._replace(minutes=None) for line in lines]
    if how < _SHARE_UNTIMED + person.spreads.share_total_only:
        return [line._replace(minutes=None, evening_minutes=total) for line in lines]
    if how < _SHARE_UNTIMED + person.spreads.share_total_only + _SHARE_MIXED:
        kept = [line._replace(evening_minutes=total) for line in lines]
        return kept[:1] + [line._replace(minutes=None) for line in kept[1:]]
    return lines


def heaped(minutes: float) -> float:
    """Minutes as written down: whole below 12, else to the nearest 5."""
    return float(max(round(minutes), 1) if minutes < 12 else 5 * round(minutes / 5))


def _row(stint: Stint, person: Person, rng: Generator) -> EveningRow:
    guess = None
    if stint.begun_now and rng.random() < person.spreads.share_guessed:
        said = person.guess_bias + person.spreads.guess_noise * rng.standard_normal()
        guess = heaped(stint.whole_minutes * exp(said))
    return EveningRow(
        date=stint.day,
        unit=stint.row.unit,
        step=stint.step,
        army=stint.row.army,
        models=stint.models,
        minutes=heaped(stint.minutes),
        finished=stint.finished,
        guess_minutes=guess,
    )
