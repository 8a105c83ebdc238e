"""What became of units, by hand."""

from __future__ import annotations

from datetime import date

from tests.forecast.people import ROUTE, regular_weeks, small_army, worked
from tracker.domain.records import Mark, Model, Records
from tracker.forecast.dates_outcomes import Closing, closed_after, closings_of

# Evenings of `regular_weeks`: 2, 4, 9, 11, 16, 18 January …
SECOND, THIRD, FOURTH, FIFTH = date(2024, 1, 4), date(2024, 1, 9), date(2024, 1, 11), date(2024, 1, 16)


def finished(records: Records, unit: int, models: list[int], evening: int) -> Records:
    for step in ROUTE:
        records = worked(records, unit, step, models, evening)
    return records


def gone(records: Records, model_id: int, day: date, how: str = "sold") -> Records:
    models = tuple(m._replace(left_on=day, left_how=how) if m.id == model_id else m for m in records.models)
    return records._replace(models=models)


def test_a_unit_is_ready_when_its_last_model_is() -> None:
    records = finished(finished(small_army([2], regular_weeks(3)), 1, [1], 2), 1, [2], 4)
    closings = closings_of(records)
    assert closings == {1: (Closing(SECOND, True),), 2: (Closing(FOURTH, True),)}
    assert closed_after(closings, (1, 2), date(2024, 1, 3)) == Closing(FOURTH, True)
    # On the evening of the 5th only the second model was still open.
    assert closed_after(closings, (2,), date(2024, 1, 5)) == Closing(FOURTH, True)


def test_a_model_that_never_closes_keeps_the_unit_open() -> None:
    records = finished(small_army([2], regular_weeks(3)), 1, [1], 2)
    assert closed_after(closings_of(records), (1, 2), date(2024, 1, 3)) is None


def test_a_model_that_left_is_waited_for_no_longer() -> None:
    records = gone(finished(small_army([2], regular_weeks(3)), 1, [1], 2), 2, FIFTH)
    assert closed_after(closings_of(records), (1, 2), date(2024, 1, 3)) == Closing(FIFTH, True)


def test_a_unit_of_which_all_left_was_never_finished() -> None:
    records = gone(gone(small_army([2], regular_weeks(3)), 1, THIRD), 2, FIFTH, "broken")
    assert closed_after(closings_of(records), (1, 2), date(2024, 1, 3)) == Closing(FIFTH, False)


def test_a_model_sold_after_it_was_finished_closed_once() -> None:
    records = gone(finished(small_army([1], regular_weeks(3)), 1, [1], 2), 1, FIFTH)
    assert closings_of(records) == {1: (Closing(SECOND, True),)}


def test_a_step_taken_back_lets_a_model_close_twice() -> None:
    records = finished(small_army([1], regular_weeks(3)), 1, [1], 2)
    last = len(records.lines)
    back = Mark(1, 1, "varnish", "not yet", THIRD, after_line=last)
    records = worked(records._replace(marks=(back,)), 1, "varnish", [1], 5)
    closings = closings_of(records)
    assert closings == {1: (Closing(SECOND, True), Closing(FIFTH, True))}
    # A forecast made while it was open again is held against the second time.
    assert closed_after(closings, (1,), date(2024, 1, 10)) == Closing(FIFTH, True)
    assert closed_after(closings, (1,), date(2024, 1, 3)) == Closing(SECOND, True)


def test_spares_have_no_closing() -> None:
    records = small_army([1], regular_weeks(1))
    assert closings_of(records._replace(models=(Model(9, None, 1, left_on=FIFTH),))) == {}
