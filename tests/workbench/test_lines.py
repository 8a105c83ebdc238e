"""Logging lines and evenings: what they buy, and what cannot be."""

from __future__ import annotations

import subprocess
import sys
from datetime import date, datetime
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.cautions import CAUTIONS
from tracker.domain.problems import DataError
from tracker.domain.progress import progress_of
from tracker.domain.rows import EveningRow, RosterRow
from tracker.workbench.adding import Figure, add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.evening import set_evening_minutes
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.lines import Entry, log_line, log_lines
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo
from tracker.workbench.saying import entry_from_sentence

MARCH_3 = date(2026, 3, 3)


def refused(desk: Desk, entry: Entry) -> str:
    before = desk.records()
    with pytest.raises(DataError) as refusal:
        log_line(desk, entry)
    assert desk.records() == before
    (problem,) = refusal.value.problems
    return str(problem)


def test_a_line_says_what_it_bought(tmp_path: Path) -> None:
    logged = log_line(
        with_spears(tmp_path), Entry("spears", "Cleaning", models=10, minutes=50.0, day=MARCH_3)
    )
    said = "Logged: cleaning, 10 of 20 Spears, 50 min (Tue 3 Mar). 10 left for this step."
    assert logged.sentence() == f"{said}\nCare: {CAUTIONS['blades'].line}"  # nobody cut anything before


def test_the_lowest_numbers_go_first_and_ones_in_hand_before_them(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 6)
    mark(desk, "Spears", "4-5", "cleaning", "in hand")
    log_line(desk, Entry("Spears", "cleaning", models=3))
    assert desk.records().lines[0].model_ids == (1, 4, 5)


def test_named_models_go_first(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Guard", 3))
    add_unit(desk, RosterRow("Guard", 1), figures=[Figure("Standard", "character")], more=True)
    log_line(desk, Entry("Guard", "cleaning", models=2, named=("standard",)))
    assert desk.records().lines[0].model_ids == (1, 4)
    assert desk.records().models[3].kind == "character"


def test_a_line_in_hand_is_gone_on_with(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    log_line(desk, Entry("Spears", "cleaning", models=2, finished=False))
    progress = progress_of(desk.records())
    assert [progress.in_hand(model, "cleaning") for model in (1, 2, 3)] == [True, True, False]
    assert log_line(desk, Entry("Spears", "cleaning", models=2)).models_left == 1


def test_no_models_with_minutes_is_worked_on_and_not_finished(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    logged = log_line(desk, Entry("Spears", "cleaning", models=0, minutes=15.0))
    assert not logged.finished
    assert logged.models_left == 20
    assert desk.records().lines[0].model_ids == ()


def test_all_that_are_left(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", models=7))
    logged = log_line(desk, Entry("Spears", "cleaning", models="all"))
    assert (logged.models, logged.models_left) == (13, 0)
    assert "left" in refused(desk, Entry("Spears", "cleaning", models="all"))
    assert "how many is not said" in refused(desk, Entry("Spears", "assembly", models=None))


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        (Entry("Spers", "cleaning"), '--unit: there is no unit "Spers". Did you mean "Spears"?'),
        (Entry("Zzz", "cleaning"), 'Add it: lastcoat add --unit "Zzz"'),
        (Entry("Spears", "prining"), 'Did you mean "priming"'),
        (Entry("Spears", "glued up"), "with --add-step"),
        (Entry("Spears", "cleaning", army="Other"), 'no unit "Spears" in the army "Other"'),
        (Entry("Spears", "cleaning", models=21), '"Spears" has 20 left for this step. Say 20 or fewer'),
        (Entry("Spears", "cleaning", models=0), "--models: 0 models and no minutes"),
        (Entry("Spears", "cleaning", models=-1, minutes=5.0), "--models: -1 models"),
        (Entry("Spears", "cleaning", minutes=-5.0), "--minutes: -5 minutes cannot be"),
        (Entry("Spears", "cleaning", minutes=0.0), "--minutes: 0 minutes cannot be"),
        (Entry("Spears", "cleaning", minutes=1441.0), "at most 1440"),
        (Entry("Spears", "cleaning", minutes=float("nan")), "--minutes: nan"),
        (Entry("Spears", "cleaning", guess_minutes=float("inf")), "--guess: inf"),
        (Entry("Spears", "cleaning", day=date(2026, 3, 11)), "--date: 2026-03-11 lies in the future"),
        (Entry("", "cleaning"), "--unit: the name is empty"),
        (Entry("Spears", " "), "--step: the name is empty"),
        (Entry("S" * 1001, "cleaning"), "has 1001 letters"),
        (Entry("Spears", "cleaning", note="\udcff"), "--note: the text is not UTF-8"),
    ],
)
def test_what_cannot_be_is_one_line_and_nothing_is_stored(tmp_path: Path, entry: Entry, said: str) -> None:
    assert said in refused(with_spears(tmp_path), entry)


def test_a_unit_of_two_armies_wants_the_army(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("spears", 5, army="Other"))
    assert 'Say --army "My army" or "Other"' in refused(desk, Entry("Spears", "cleaning"))
    assert log_line(desk, Entry("Spears", "cleaning", army="OTHER")).models_of_unit == 5


@pytest.mark.parametrize(("said", "stored"), [("undercoated", "priming"), ("glue up", "glue up")])
def test_a_step_can_be_added_on_the_way(tmp_path: Path, said: str, stored: str) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 5, steps=("cleaning", "varnish")))
    assert log_line(desk, Entry("Spears", said, add_step=True)).step == stored
    assert stored in desk.records().units[0].route
    assert [step.name for step in desk.records().steps] == ([] if stored == "priming" else ["glue up"])


def test_words_for_a_step_will_do(tmp_path: Path) -> None:
    assert log_line(with_spears(tmp_path), Entry("Spears", "undercoated")).step == "priming"


@pytest.mark.parametrize(("hour", "day"), [(0, 9), (3, 9), (4, 10), (23, 10)])
def test_an_evening_past_midnight_belongs_to_the_day_it_began(tmp_path: Path, hour: int, day: int) -> None:
    desk = with_spears(tmp_path)._replace(now=lambda: datetime(2026, 3, 10, hour, 59))
    assert log_line(desk, Entry("Spears", "cleaning")).day == date(2026, 3, day)


def test_an_earlier_evening_takes_the_unit_back_in_time(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    log_line(desk, Entry("Spears", "cleaning", day=date(2026, 2, 1)))
    then = desk.records().as_of(date(2026, 2, 1))
    assert (len(then.units), len(then.models), len(then.lines)) == (1, 3, 1)


def test_an_evenings_total_is_shared_and_bounds_its_lines(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_lines(desk, (Entry("Spears", "cleaning", minutes=40.0), Entry("Spears", "assembly")))
    done = set_evening_minutes(desk, 90.0)
    said = "Set: the evening of Tue 10 Mar, 90 min. Lines without minutes (1) share 50 min."
    assert done.sentence() == said
    assert "lastcoat evening --date" in refused(desk, Entry("Spears", "cleaning", minutes=51.0))
    with pytest.raises(DataError, match="already take 40 minutes"):
        set_evening_minutes(desk, 39.0)
    with pytest.raises(DataError, match="cannot be"):
        set_evening_minutes(desk, 1500.0)


def test_an_evening_before_its_lines_and_one_of_several(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    set_evening_minutes(desk, 60.0, MARCH_3)
    assert desk.records().sessions[0].minutes == 60.0
    rows = [EveningRow(date(2026, 3, 4), "Spears", "cleaning", evening=name) for name in ("noon", "night")]
    import_evenings(desk, rows)
    with pytest.raises(DataError, match='Say --evening: "noon", "night"'):
        set_evening_minutes(desk, 60.0, date(2026, 3, 4))
    set_evening_minutes(desk, 60.0, date(2026, 3, 4), "night")
    assert [session.minutes for session in desk.records().sessions] == [60.0, None, 60.0]


def test_undo_takes_back_the_last_line_and_redo_brings_it_back(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    log_line(desk, Entry("Spears", "cleaning", models=5))
    one = desk.records()
    log_line(desk, Entry("Spears", "cleaning", models=6))
    two = desk.records()
    assert undo(desk).sentence("Taken back") == "Taken back: log: cleaning, 6 of 20 Spears (Tue 10 Mar)."
    assert desk.records() == one
    redo(desk)
    assert desk.records() == two
    later = desk._replace(now=lambda: datetime(2026, 3, 12, 20))
    assert undo(later).sentence("Taken back").endswith("(stored Tue 10 Mar).")
    undo(desk)
    undo(desk)
    with pytest.raises(DataError, match="nothing to take back"):
        undo(desk)
    for _ in range(3):
        redo(desk)
    with pytest.raises(DataError, match="nothing to bring back"):
        redo(desk)
    assert desk.records() == two


def test_a_sentence_becomes_an_entry(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert entry_from_sentence(desk, "cleaned 10 spears yesterday, 50 min") == Entry(
        "Spears", "cleaning", "My army", 10, 50.0, date(2026, 3, 9)
    )
    assert entry_from_sentence(desk, "cleaned all spears").models == "all"
    with pytest.raises(DataError, match="no unit"):
        entry_from_sentence(desk, "cleaned 10 elephants")


LOG = """
import sys
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
for _ in range(15):
    log_line(Desk(sys.argv[1]), Entry("Spears", "cleaning", minutes=1.0))
"""


def test_two_processes_that_log_at_once_lose_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 40)
    both = [subprocess.Popen([sys.executable, "-c", LOG, desk.path]) for _ in range(2)]
    assert [process.wait() for process in both] == [0, 0]
    known = desk.records()
    assert len(known.lines) == 30
    assert len({line.model_ids for line in known.lines}) == 30


def test_washed_is_soap_until_there_is_colour_to_shade(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert entry_from_sentence(desk, "washed 2 spears, 50 min").step == "washing"
    log_line(desk, Entry("Spears", "base colours", models=2, minutes=40, day=MARCH_3))
    assert entry_from_sentence(desk, "washed 2 spears, 50 min").step == "shade"
    assert entry_from_sentence(desk, "shade 2 spears, 50 min").step == "shade"
