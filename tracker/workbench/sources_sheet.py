"""Taking in and giving out the sheet of deals.

A deal that is known (the same in every column, about the same models) stays as it is; one about the same
models that says otherwise is changed; any other is new. So the same sheet twice changes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_sources import DealTold
from tracker.domain.problems import DataError, LastcoatError, Problem
from tracker.domain.rows_sources import SourceRow
from tracker.domain.sources import WAYS_IN, Deal
from tracker.store.book import every
from tracker.store.journal import Store
from tracker.workbench.desk import Desk
from tracker.workbench.models import number_ranges
from tracker.workbench.naming import the_unit
from tracker.workbench.results import Imported
from tracker.workbench.sources import bring_deal, put_deal
from tracker.workbench.sources_answers import sources
from tracker.workbench.sources_models import Found, SaidPart, find_models, found_of, taken_models


def import_sources(
    desk: Desk, rows: Sequence[SourceRow], *, dry_run: bool = False, keep_good: bool = False
) -> Imported:
    """Keep the deals that are new and change those that the sheet tells otherwise; all or nothing.

    Models that the sheet says were sold, swapped or given away leave, as with `add_deal`.
    """
    with desk.open(create=True) as store, store.change("import sources") as change:
        intake = _Intake(store)
        for row in rows:
            try:
                intake.take(row)
            except LastcoatError as refusal:
                where = f"row {row.row}"
                intake.problems += [Problem(where, _of(p), p.mend) for p in refusal.problems]
        if intake.problems and not keep_good:
            raise DataError(intake.problems)
        change.kept = not dry_run
        done = intake.result()._replace(dry_run=dry_run)
        change.words = done.words()
    return done


def export_sources(desk: Desk) -> tuple[SourceRow, ...]:
    """Every deal as a row of the sheet, the oldest first."""
    return tuple(_row(told) for told in reversed(sources(desk).deals))


def _row(told: DealTold) -> SourceRow:
    deal = told.deal
    return SourceRow(
        deal.day, deal.how, tuple(part.army for part in told.parts), tuple(part.unit for part in told.parts),
        tuple(_numbers(part.numbers) for part in told.parts), _numbers(told.spares), deal.whom, deal.amount,
        deal.currency, deal.postage, deal.exchange, deal.note,
    )  # fmt: skip


def _numbers(numbers: Sequence[int]) -> str:
    return number_ranges(numbers).replace(" ", "")


def _of(problem: Problem) -> str:
    """What is wrong, with the column in place of the command's option."""
    return f"{problem.where.removeprefix('--')}: {problem.what}"


class _Intake:
    """The rows taken so far."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._known = {deal: found_of(store, deal.id) for deal in every(store, Deal)}
        """Deals that no row spoke of yet."""
        self._added = self._changed = self._unchanged = 0
        self._notes: list[str] = []
        self.problems: list[Problem] = []

    def result(self) -> Imported:
        """What was done so far."""
        return Imported(
            "deal", self._added, self._changed, self._unchanged, tuple(self._notes), tuple(self.problems)
        )

    def take(self, row: SourceRow) -> None:
        """Keep one deal; a `DataError` for what cannot be."""
        deal = Deal(
            0, row.how, row.whom, row.amount, row.currency, row.postage, row.exchange, row.note, row.date
        )
        parts = _parts(row)
        same = next((one for one in self._known if one[1:] == deal[1:] and self._is_about(one, row)), None)
        if same is not None:
            del self._known[same]
            self._unchanged += 1
            return
        other = self._about_the_same(deal, parts, row)
        if other is not None:
            found = self._known.pop(other)
            left = bring_deal(self._store, deal._replace(id=other.id), found)
            self._changed += 1
            self._notes.append(f"deal {other.id} is told otherwise{'; ' + left if left else ''}")
            return
        found = find_models(self._store, deal.how, parts, row.spares, taken_models(self._store, deal.how))
        number, left = put_deal(self._store, deal, found)
        self._added += 1
        if left:
            self._notes.append(f"deal {number}: {left}")

    def _is_about(self, deal: Deal, row: SourceRow) -> bool:
        """Whether a kept deal is about the models of a row; about its units, where it says no numbers."""
        found = self._known[deal]
        if row.units and not all(row.models):
            return {one.unit_id for one in found if one.unit_id} == {
                the_unit(self._store, part.unit, part.army).id for part in _parts(row)
            }
        return _models(found) == _models(find_models(self._store, deal.how, _parts(row), row.spares, {}))

    def _about_the_same(self, deal: Deal, parts: Sequence[SaidPart], row: SourceRow) -> Deal | None:
        """A kept deal of this direction about just these models, which the sheet tells otherwise."""
        if not (parts or row.spares) or (parts and not all(row.models)):
            return None
        models = _models(find_models(self._store, deal.how, parts, row.spares, {}))
        for one, found in self._known.items():
            if (one.how in WAYS_IN) == (deal.how in WAYS_IN) and _models(found) == models:
                return one
        return None


def _parts(row: SourceRow) -> tuple[SaidPart, ...]:
    models = row.models or ("",) * len(row.units)
    armies = row.armies or ("",) * len(row.units)
    return tuple(
        SaidPart(unit, which, army or None)
        for unit, which, army in zip(row.units, models, armies, strict=True)
    )


def _models(found: Sequence[Found]) -> set[int]:
    return {model for one in found for model, _ in one.models}
