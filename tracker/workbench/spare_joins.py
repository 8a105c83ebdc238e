"""A spare joins a unit with its history; what was said of its state counts on the unit's route."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.spares import steps_of_state
from tracker.store.journal import Store
from tracker.store.models import insert_mark, move_models
from tracker.store.spares import state_of, steps_spoken_of
from tracker.store.units import route_of
from tracker.workbench.words import count_words


def join_unit(store: Store, models: Sequence[int], unit_id: int, day: date) -> str:
    """Move spares into a unit, and mark done what their state says is behind them; a sentence, or nothing.

    A step that a mark or a line speaks of stays as it is.
    """
    move_models(store, models, unit_id)
    route, marked = route_of(store, unit_id), dict[str, int]()
    for model in models:
        spoken_of = steps_spoken_of(store, model)
        for step in steps_of_state(route, state_of(store, model)):
            if step.casefold() not in spoken_of:
                insert_mark(store, model, step, "done", day)
                marked[step] = marked.get(step, 0) + 1
    return _sentence([(step, marked[step]) for step in route if step in marked], len(models))


def _sentence(marked: Sequence[tuple[str, int]], models: int) -> str:
    """As in "By its state, cleaning and assembly are done."; where it is not all models, on how many."""
    if not marked:
        return ""
    steps = [step if count == models else f"{step} ({count_words(count, 'model')})" for step, count in marked]
    whose = "its state" if models == 1 else "their state"
    return f"Done already by {whose}: {', '.join(steps)}."
