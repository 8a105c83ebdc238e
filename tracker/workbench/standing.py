"""Which models of a unit still need a step, kept up to date while lines are put in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice

from tracker.domain.problems import Problem
from tracker.domain.progress import Candidate, choose_models, fold
from tracker.domain.records import Session
from tracker.store.evenings import lines_of_step, marks_of_step
from tracker.store.journal import Store
from tracker.store.models import models_of


class Standing:
    """The open models of one unit and step: by number, and which of them are in hand."""

    def __init__(self, store: Store, unit_id: int, step: str, today: Session) -> None:
        """Read it from the log. Which day a line was does not matter here, so `today` stands for all."""
        lines = lines_of_step(store, unit_id, step)
        sessions = (today._replace(id=line.session_id) for line in lines)
        progress = fold(lines, marks_of_step(store, unit_id, step), sessions)
        models = models_of(store, unit_id)
        self.total = len(models)
        self._open = {m: (number, name) for m, number, name in models if not progress.is_done(m, step)}
        self._in_hand = {m for m in self._open if progress.in_hand(m, step)}

    @property
    def left(self) -> int:
        """How many models still need the step."""
        return len(self._open)

    def choose(self, count: int, unit: str, named: Sequence[str] = ()) -> tuple[int, ...] | Problem:
        """The models a line moves on, by the domain's rule.

        The rule takes named ones, ones in hand and then the lowest numbers, so only those and the
        first `count` others are shown to it.
        """
        wanted = {name.casefold() for name in named}
        first = set(self._in_hand)
        if wanted:
            first |= {m for m, (_, name) in self._open.items() if name.casefold() in wanted}
        others = islice((m for m in self._open if m not in first), count)
        candidates = [
            Candidate(m, *self._open[m], done=False, in_hand=m in self._in_hand) for m in (*first, *others)
        ]
        return choose_models(candidates, count, unit, named)

    @property
    def begun(self) -> int:
        """How many models have the step in hand."""
        return len(self._in_hand)

    def who(self, models: Iterable[int]) -> tuple[tuple[int, str], ...]:
        """(number, name) of open models, by number."""
        return tuple(sorted(self._open[model] for model in models))

    def numbered(self, numbers: Sequence[int], unit: str) -> tuple[int, ...] | Problem:
        """Just the models of these numbers; a problem if one of them has the step behind it."""
        by_number = {number: model for model, (number, _) in self._open.items()}
        missing = sorted({number for number in numbers if number not in by_number})
        if missing:
            said = ", ".join(map(str, missing[:10]))
            return Problem(
                "models", f'"{unit}" has no number {said} left for this step', "Say others, or how many"
            )
        return tuple(sorted({by_number[number] for number in numbers}))

    def take(self, models: Iterable[int], *, finished: bool) -> None:
        """These models were moved on, or are now in hand."""
        for model in models:
            if finished:
                self._open.pop(model, None)
                self._in_hand.discard(model)
            else:
                self._in_hand.add(model)

    def join(self, models: Iterable[tuple[int, int]]) -> None:
        """New models (id, number) came into the unit."""
        for model, number in models:
            self._open[model] = (number, "")
            self.total += 1
