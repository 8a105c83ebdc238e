"""The demo's builder: repeatable, believable, and its truth is the truth of what it writes down."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from datetime import date, timedelta
from itertools import pairwise
from math import log
from pathlib import Path

import numpy as np
import pytest

from demo_db.__main__ import main
from demo_db.army import DEPARTURES, GAME_DAYS, LAST_DAY, ROSTER, steps_of
from demo_db.builder import SHIPPED_SEED, Demo, build, truth_totals
from demo_db.notebook import heaped
from demo_db.people import TYPICAL_MINUTES, Spreads, draw_person, log_minutes
from demo_db.ranks import measures
from demo_db.records import to_records
from demo_db.sheets import HERE, book_sheets, evening_sheet, extra_json, read_extra, roster_sheet
from tracker.domain.ranks import Reach
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.work import work_left
from tracker.ranking.reach import read_reach

SEEDS = range(1, 41)


@pytest.fixture(scope="module")
def demos() -> list[Demo]:
    return [build(seed) for seed in SEEDS]


def test_the_same_seed_builds_the_same_demo() -> None:
    one, other, third = build(3), build(3), build(4)
    assert (one.evenings, one.roster, one.truth) == (other.evenings, other.roster, other.truth)
    assert one.evenings != third.evenings


def test_the_shipped_sheets_are_what_the_builder_makes() -> None:
    demo = build(SHIPPED_SEED)
    for name, text in (
        ("evenings.csv", evening_sheet(demo.evenings)),
        ("roster.csv", roster_sheet(demo.roster)),
        ("extra.json", extra_json(demo)),
        *book_sheets(demo.seed).items(),
    ):
        assert (HERE / name).read_bytes() == text.encode(), f"build {name} anew"


def test_the_extra_file_is_read_back() -> None:
    demo = build(SHIPPED_SEED)
    extra = read_extra(extra_json(demo))
    assert (extra.already, extra.departures) == (demo.already, demo.departures)
    assert extra.measured == measures(SHIPPED_SEED)
    assert all(isinstance(read_reach(one.reach), Reach) for one in extra.measured)


def test_the_program_writes_its_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.argv", ["demo_db", "--seed", "5", "--out", str(tmp_path / "out")])
    main()
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "evenings.csv", "extra.json", "recipes.csv", "roles.csv", "roster.csv", "sources.csv", "spares.csv",
    ]  # fmt: skip
    assert "Beekeepers" in capsys.readouterr().out
    assert json.loads((tmp_path / "out" / "extra.json").read_text())["departures"]


def test_work_left_of_the_records_is_what_the_desk_says(demos: list[Demo]) -> None:
    for demo in demos:
        for unit in work_left(to_records(demo)):
            name = unit.unit.name
            left = {line.step: line.models for line in unit.lines}
            desk = {
                step: demo.desk.alive[name] - demo.desk.done.get((name, step), 0)
                for step in steps_of(_row(name))
            }
            assert left == {step: models for step, models in desk.items() if models}
            assert bool(left) == (demo.truth[name].realised_minutes > 0)


def _row(unit: str) -> RosterRow:
    return next(row for row in ROSTER if row.unit == unit)


def test_nobody_works_on_more_models_than_there_are_or_before_they_came(demos: list[Demo]) -> None:
    gone = {departure.unit: departure.last - departure.first + 1 for departure in DEPARTURES}
    for demo in demos:
        finished: Counter[tuple[str, str]] = Counter()
        for row in demo.evenings:
            added = _row(row.unit).added
            assert added is not None
            assert added <= row.date <= LAST_DAY
            finished[row.unit, row.step] += row.models if row.finished else 0
        for (unit, _), models in finished.items():
            assert models <= _row(unit).models - gone.get(unit, 0)


def test_evenings_hold_their_lines(demos: list[Demo]) -> None:
    for demo in demos:
        by_day = defaultdict(list)
        for row in demo.evenings:
            by_day[row.date].append(row)
        for rows in by_day.values():
            totals = {row.evening_minutes for row in rows}
            assert len(totals) == 1
            (total,) = totals
            if total is not None:
                assert sum(row.minutes or 0 for row in rows) <= total <= 24 * 60


def test_expected_minutes_are_about_the_mean_of_futures(demos: list[Demo]) -> None:
    # The log of realised over expected is about normal with sd 0.15 to 0.3, below zero by half its
    # variance; 40 people with about 4 units each pin its mean to within 0.05.
    ratios = [
        log(truth.realised_minutes / truth.expected_minutes)
        for demo in demos
        for truth in demo.truth.values()
        if truth.realised_minutes
    ]
    assert len(ratios) > 80
    assert abs(float(np.mean(ratios))) < 0.08
    assert 0.08 < float(np.std(ratios)) < 0.35


def test_another_generator_is_another_future_and_the_same_one_the_same() -> None:
    demo = build(2)
    one, again, other = (truth_totals(demo, np.random.default_rng(seed)) for seed in (5, 5, 6))
    assert one == again
    assert one != other
    assert one.keys() == demo.truth.keys()


def test_most_people_have_both_finished_and_unfinished_units(demos: list[Demo]) -> None:
    mixed = [demo for demo in demos if 0 < sum(t.realised_minutes > 0 for t in demo.truth.values()) < 10]
    assert len(mixed) >= 0.85 * len(demos)


def test_life_is_in_it() -> None:
    demo = build(SHIPPED_SEED)
    days = sorted({row.date for row in demo.evenings})
    gaps = [(b - a).days for a, b in pairwise(days)]
    assert max(gaps) >= 14, "a dry spell"
    assert any(row.minutes is None and row.evening_minutes for row in demo.evenings), "only a total"
    assert any(not row.finished for row in demo.evenings), "steps over several evenings"
    assert any(row.guess_minutes for row in demo.evenings), "guesses"
    assert len({row.added for row in demo.roster}) >= 6, "purchases"
    assert demo.already, "second-hand"
    assert demo.departures, "a sold lot"


def test_a_game_draws_people_to_the_desk(demos: list[Demo]) -> None:
    def share(first: int, last: int) -> float:
        """Evenings per day between two offsets from a game."""
        days = {(i, row.date) for i, demo in enumerate(demos) for row in demo.evenings}
        hit = sum(first <= (day - game).days <= last for _, day in days for game in GAME_DAYS)
        return hit / (last - first + 1)

    assert share(-21, -1) > 2 * share(0, 14)


def test_minutes_heap_on_fives() -> None:
    assert [heaped(m) for m in (0.2, 7.4, 11.6, 13, 58, 62.6)] == [1, 7, 12, 15, 60, 65]


def test_the_medians_add_up_to_a_plain_foot_figure() -> None:
    # Rule of thumb: a plain ranked foot figure of plastic takes about 70 minutes hands-on. Common
    # practice, no source.
    route = usual_route("infantry", "table-top", "plastic", ranked=True)
    assert sum(TYPICAL_MINUTES[step] for step in route) == pytest.approx(71, abs=4)


def test_a_line_follows_the_formula() -> None:
    still = Spreads(person=0, step=0, kind=0, unit=0, exponent=0)
    person = draw_person(np.random.default_rng(0), ROSTER, still)
    spears, riders = ROSTER[0], ROSTER[2]
    # (18 min * 10 + 3 min of setting up), worked by hand.
    assert log_minutes(person, spears, "base colours", 10, 0) == pytest.approx(log(183))
    assert log_minutes(person, riders, "base colours", 10, 0) == pytest.approx(log(2 * 183))
    doubled = log_minutes(person, spears, "priming", 20, 0) - log_minutes(person, spears, "priming", 10, 0)
    assert doubled == pytest.approx(0.4 * log(2))
    practised = log_minutes(person, spears, "shade", 10, 5) - log_minutes(person, spears, "shade", 10, 0)
    assert practised == pytest.approx(-0.1)


def test_guesses_are_low_but_related() -> None:
    demo = build(SHIPPED_SEED)
    assert all(row.guess_minutes is None or row.guess_minutes >= 60 for row in demo.roster)
    assert sum(row.guess_minutes is not None for row in demo.roster) >= 5


def test_the_history_spans_two_years() -> None:
    days = [row.date for row in build(SHIPPED_SEED).evenings]
    assert date(2024, 11, 4) <= min(days) < date(2024, 11, 20)
    assert max(days) - min(days) > timedelta(days=690)
