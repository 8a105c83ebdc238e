"""The verbs that look ahead: what if, and the order with its taking."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.workbench.answering import small_desk
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.domain.wishes import First, MoreEvenings, Without
from tracker.domain.work import work_left
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import forecast
from tracker.workbench.desk import Desk
from tracker.workbench.ordering import suggest_order, take_order
from tracker.workbench.past import redo, undo
from tracker.workbench.units_plan import set_orders
from tracker.workbench.whatif import understood, whatif, whatif_said

DRAWS = 200


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears in work, riders not begun, and a captain that is quick and worth much."""
    desk = small_desk(tmp_path)
    add_unit(
        desk, RosterRow("Captain", 1, "Host", kind="character", points=90.0, added=date(2026, 10, 9))
    )  # fmt: skip
    return desk


def names(desk: Desk) -> list[str]:
    return [unit.unit.name for unit in work_left(desk.records())]


def test_as_it_is_is_the_forecast_and_nothing_is_stored(desk: Desk) -> None:
    before = desk.records()
    answer = whatif(desk, [MoreEvenings(1), First("riders")], draws=DRAWS)
    plain = forecast(desk, draws=DRAWS)
    assert tuple(one.before for one in answer.units) == plain.units
    assert answer.doubts == plain.doubts
    assert (answer.units[1].shift_days or 0) < 0
    assert answer.evenings_a_week[0] < answer.evenings_a_week[1]
    assert desk.records() == before


def test_the_same_seed_the_same_answer(desk: Desk) -> None:
    ask = [whatif(desk, [Without("Riders")], seed=seed, draws=DRAWS) for seed in (3, 3, 4)]
    assert ask[0] == ask[1]
    assert ask[0].units != ask[2].units


def test_a_sentence_is_the_same_as_its_wishes(desk: Desk) -> None:
    said = "one more evening a week; without riders"
    assert understood(desk, said) == (MoreEvenings(1), Without("Riders", "Host"))
    assert whatif_said(desk, said).units == whatif(desk, understood(desk, said)).units
    with pytest.raises(DataError, match="is not understood"):
        whatif_said(desk, "more of everything")


def test_an_empty_log_has_no_unit_to_wish_for(tmp_path: Path) -> None:
    desk = Desk(str(tmp_path / "none.db"))
    assert whatif(desk, [MoreEvenings(1)], draws=DRAWS).units == ()
    with pytest.raises(DataError, match="there is no unit"):
        whatif(desk, [First("Spears")], draws=DRAWS)
    assert suggest_order(desk, draws=DRAWS).places == ()
    assert not Path(desk.path).exists()


def test_the_own_order_stays_until_the_suggestion_is_taken(desk: Desk) -> None:
    own = names(desk)
    answer = suggest_order(desk, draws=DRAWS)
    assert not answer.is_own
    assert answer.beside is not None
    assert names(desk) == own
    done = take_order(desk, answer)
    assert done is not None
    assert done.sentence().startswith("Stored: the order is now ")
    assert names(desk) == [placed.unit for placed in answer.places]
    again = suggest_order(desk, draws=DRAWS)
    assert (again.is_own, again.beside, take_order(desk, again)) == (True, None, None)
    undo(desk)
    assert names(desk) == own
    redo(desk)
    assert names(desk) == [placed.unit for placed in answer.places]


def test_an_order_of_some_leaves_the_others_behind(desk: Desk) -> None:
    set_orders(desk, [("captain", ""), ("Riders", "Host")])
    assert names(desk) == ["Captain", "Riders", "Spears"]
    assert [unit.order for unit in desk.records().units] == [None, 2, 1]
    set_orders(desk, [("Spears", "")])
    assert names(desk) == ["Spears", "Captain", "Riders"]
    with pytest.raises(DataError, match="there is no unit"):
        set_orders(desk, [("Riders", ""), ("nobody", "")])
    assert names(desk) == ["Spears", "Captain", "Riders"]
