"""How many models a month come in, are finished, are sold, given away or broken: counted, with ranges."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from tracker.domain.answers_backlog import FLOWS, Flow, FlowName
from tracker.domain.progress import finish_steps
from tracker.domain.records import DEPARTURES, Records
from tracker.forecast.dates_outcomes import closings_of

SPAN_DAYS = (91, 364)
"""A quarter and a year."""
DAYS_A_MONTH = 365.25 / 12
_LITTLE_KNOWN = 0.5
_TAILS = (0.1, 0.5, 0.9)


class _Moved(NamedTuple):
    """Models of one unit that one thing moved on one day: a box, a batch, a sale."""

    what: FlowName
    date: date
    unit_id: int
    models: int


def flows_of(known: Records, as_of: date) -> tuple[Flow, ...]:
    """Rates of the last quarter and year, or of what there is of them; in the order of `FLOWS`.

    Only backlog counts: spares do not, and a finished model that is sold was none any more. What was there on
    the first day of the log is stock and did not come in. What never happened in the year is left out.
    """
    first = min([m.added_on for m in known.models] + [s.date for s in known.sessions], default=as_of)
    spans = dict.fromkeys(min(days, (as_of - first).days) for days in SPAN_DAYS)
    moved = [one for one in _moved(known) if one.what != "came in" or one.date > first]
    out = []
    for what in FLOWS:
        mine = [one for one in moved if one.what == what]
        lot_models = _lot_models(one for one in mine if (as_of - one.date).days < max(spans))
        for days in spans:
            since = as_of - timedelta(days=days)
            lots = [one for one in mine if one.date > since]
            if lot_models and days:
                out.append(_flow(what, days, lots, lot_models))
    return tuple(out)


def _flow(what: FlowName, days: int, lots: Sequence[_Moved], lot_models: float) -> Flow:
    """Models come in lots, so lots are counted: the rate is that of lots, times the models of a lot."""
    models = sum(lot.models for lot in lots)
    months = days / DAYS_A_MONTH
    low, middle, high = gamma_quantiles(_LITTLE_KNOWN + models / lot_models, months / lot_models, _TAILS)
    return Flow(what, days, models, len({lot.date for lot in lots}), (low, middle, high))


def gamma_quantiles(shape: float, time: float, levels: Sequence[float]) -> tuple[float, ...]:
    """Quantiles of a rate that is Gamma(shape, time): after n events in time t, shape = prior + n.

    Conjugate update: Hoff, A First Course in Bayesian Statistical Methods, 2009, ch. 3. The weak prior
    Gamma(1/2, 0) is that of Jeffreys for a Poisson rate.
    """
    # late: only the backlog's answer needs it
    from scipy.special import gammaincinv

    return tuple(float(x) for x in gammaincinv(shape, np.asarray(levels)) / time)


def _lot_models(lots: Iterable[_Moved]) -> float:
    """Models of a lot as they weigh in a rate's spread: sum of squares over sum; 0 without any.

    If lots are Poisson, models in a time have variance / mean = E[m^2] / E[m], which is this; all lots alike
    make it the size of a lot. A count divided by it is then nearly Poisson (quasi-likelihood: McCullagh
    and Nelder, Generalized Linear Models, 1989, ch. 6; from memory).
    """
    models = [lot.models for lot in lots]
    return sum(m * m for m in models) / sum(models) if models else 0.0


def _moved(known: Records) -> Iterator[_Moved]:
    count: Counter[tuple[FlowName, date, int]] = Counter()
    how = {model.id: model.left_how for model in known.models}
    to_do = {unit.id for unit in known.units if finish_steps(unit)}
    unit_of = {model.id: model.unit_id for model in known.models if model.unit_id in to_do}
    for model in known.models:
        if model.id in unit_of:
            count["came in", model.added_on, model.unit_id or 0] += 1
    for model_id, closings in closings_of(known).items():
        for closing in closings if model_id in unit_of else ():
            what: FlowName = "finished" if closing.finished else _departure(how[model_id])
            count[what, closing.date, unit_of[model_id] or 0] += 1
    for (name, day, unit), models in sorted(count.items()):
        yield _Moved(name, day, unit, models)


def _departure(how: str) -> FlowName:
    named: dict[str, FlowName] = {"sold": "sold", "given away": "given away", "broken": "broken"}
    return named[how] if how in DEPARTURES else "went elsewhere"
