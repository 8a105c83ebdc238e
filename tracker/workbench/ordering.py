"""The verbs of the order: the one that would put most on the table soonest, and taking it."""

from __future__ import annotations

from datetime import date

from tracker.domain.answers_whatif import OrderAnswer
from tracker.workbench.answers import DRAWS, SEED, learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.units_plan import Changed, set_orders
from tracker.workbench.whatif import whatif


def suggest_order(
    desk: Desk, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> OrderAnswer:
    """The suggested order beside the person's own, and what it would change; nothing is stored."""
    from tracker.forecast.ordering import order_answer

    day = as_of or desk.evening_day()
    known = desk.records().as_of(day)
    answer, wish = order_answer(known, learn_pace(desk, known), day, seed=seed, draws=draws)
    if wish is None:
        return answer
    beside = whatif(desk, [wish], day, seed=seed, draws=draws)
    return answer._replace(beside=beside, doubts=beside.doubts)


def take_order(desk: Desk, answer: OrderAnswer) -> Changed | None:
    """Store a suggested order, as one change; None where it is the person's own already."""
    if answer.is_own:
        return None
    return set_orders(desk, [(placed.unit, placed.army) for placed in answer.places])
