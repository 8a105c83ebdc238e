"""The pace as answers: steps in order, whose minutes they are, joint totals, how guesses run.

Forms and rules are the product's own, no outside source, unless a source stands beside them.
"""

from __future__ import annotations

import math
from datetime import date

import numpy as np
import pytest

from tests.builders import STEPS, Did, did, evening, log_of, planned
from tracker.domain.answers import LEVELS, StepPace
from tracker.domain.records import Records
from tracker.domain.steps import CATALOGUE
from tracker.pace import learn
from tracker.pace.answer import (
    USUAL_BATCH,
    estimate_answer,
    guesses_answer,
    how_learned,
    pace_answer,
    usual_models,
)
from tracker.pace.priors import Priors, expected_log_minutes

DAY = date(2026, 10, 31)
MIDDLE = LEVELS.index(50)


def steady_log(evenings: int, guess: float | None = None, seed: int = 1) -> Records:
    """Every evening all of STEPS on four models, at the trade's minutes give or take a quarter.

    Practice is in them: each of the three units is met at every third evening.
    """
    rng = np.random.default_rng(seed)

    def line(number: int, step: str) -> Did:
        unit = ("spears", "riders", "bows")[number % 3]
        middle = math.exp(expected_log_minutes(planned(unit, step, 4, 4 * (number // 3)), Priors()))
        spent = round(middle * float(np.exp(0.25 * rng.standard_normal())), 1)
        return did(unit, step, 4, spent, guess_minutes=guess and round(spent * guess, 1))

    return log_of(*(evening(*(line(i, step) for step in STEPS)) for i in range(evenings)))


@pytest.fixture(scope="module")
def log() -> Records:
    return steady_log(16)


def steps_of(records: Records, seed: int = 1) -> dict[str, StepPace]:
    return {step.step: step for step in pace_answer(records, learn(records), DAY, seed).steps}


def test_an_empty_log_has_no_steps_and_says_why() -> None:
    answer = pace_answer(Records(), learn(Records()), DAY, 1)
    assert (answer.as_of, answer.steps, answer.guesses) == (DAY, (), None)
    assert [doubt.code for doubt in answer.doubts] == ["little-history"]


def test_steps_come_in_the_catalogues_order_and_own_ones_last() -> None:
    records = log_of(
        evening(did("spears", "gilding", 2, 40), did("spears", "varnish", 2, 20)),
        evening(did("spears", "cleaning", 2, 20), did("spears", "base colours", 2, 40)),
    )
    found = list(steps_of(records))
    assert found == ["cleaning", "base colours", "varnish", "gilding"]
    place = {name: i for i, name in enumerate(CATALOGUE)}
    assert found[:3] == sorted(found[:3], key=place.__getitem__)


def test_a_step_on_a_route_is_answered_before_it_was_ever_done(log: Records) -> None:
    spears = log.units[0]._replace(route=("cleaning", "varnish"))
    found = steps_of(log._replace(units=(spears, *log.units[1:])))
    assert (found["varnish"].lines, found["varnish"].source) == (0, "trade")
    assert found["varnish"].minutes_per_model[MIDDLE] > 0


def test_quantiles_rise_and_are_per_model(log: Records) -> None:
    pace = learn(log)
    assert usual_models(pace, "shade") == 4
    for step, found in steps_of(log).items():
        assert len(found.minutes_per_model) == len(LEVELS)
        assert list(found.minutes_per_model) == sorted(found.minutes_per_model)
        # The truth of this log: the trade's minutes for four models, a quarter of them each.
        truth = math.exp(expected_log_minutes(planned("new", step, 4), Priors())) / 4
        assert found.minutes_per_model[MIDDLE] == pytest.approx(truth, rel=0.2)


def test_lines_are_counted_whether_timed_or_told_together() -> None:
    records = log_of(
        evening(did("spears", "shade", 4, 20), did("spears", "cleaning", 4, 30)),
        evening(did("riders", "shade"), did("riders", "assembly"), minutes=90),
        evening(did("bows", "shade")),
    )
    found = steps_of(records)
    # The third evening has no minutes at all and teaches nothing.
    assert {step: pace.lines for step, pace in found.items()} == {"cleaning": 1, "assembly": 1, "shade": 2}


def test_whose_minutes_they_are_goes_from_the_trades_to_the_persons() -> None:
    order = ["trade", "mostly you", "you"]
    found = [steps_of(steady_log(n))["shade"].source for n in (1, 5, 20, 60)]
    assert found[0] == "trade"
    assert found[-1] == "you"
    assert [order.index(source) for source in found] == sorted(order.index(source) for source in found)


def test_a_step_nobody_did_is_the_trades_however_long_the_log(log: Records) -> None:
    assert how_learned(learn(log), planned("spears", "decals")) == ("trade", 0)
    assert how_learned(learn(log), planned("spears", "SHADE"))[1] == 16


def test_the_usual_number_of_models() -> None:
    records = log_of(evening(did("spears", "shade", 12, 30), did("riders", "assembly", 1, 20)))
    pace = learn(records)
    assert (usual_models(pace, "Shade"), usual_models(pace, "assembly")) == (12, 1)
    assert usual_models(pace, "varnish") == USUAL_BATCH
    assert usual_models(learn(Records()), "shade") == USUAL_BATCH


def test_the_answer_is_for_the_commonest_kind_of_the_step() -> None:
    evenings = [evening(did("horses", "assembly", 4, 60)) for _ in range(6)]
    evenings.append(evening(did("spears", "assembly", 4, 30)))
    records = log_of(*evenings, kinds={"horses": "cavalry"})
    mostly_foot = log_of(
        *evenings, *[evening(did("spears", "assembly", 4, 30))] * 9, kinds={"horses": "cavalry"}
    )
    riders, foot = steps_of(records)["assembly"], steps_of(mostly_foot)["assembly"]
    assert riders.minutes_per_model[MIDDLE] > 1.3 * foot.minutes_per_model[MIDDLE]


def test_the_same_seed_is_the_same_answer_and_another_is_near_it(log: Records) -> None:
    pace = learn(log)
    answer = pace_answer(log, pace, DAY, 7)
    assert pace_answer(log, pace, DAY, 7) == answer
    other = pace_answer(log, pace, DAY, 8)
    assert other != answer
    for one, two in zip(answer.steps, other.steps, strict=True):
        assert two.minutes_per_model[MIDDLE] == pytest.approx(one.minutes_per_model[MIDDLE], rel=0.05)


def test_an_estimate_of_nothing_takes_no_time(log: Records) -> None:
    answer = estimate_answer(log, [], learn(log), DAY, 3)
    assert (answer.lines, answer.total, answer.seed) == ((), (0.0,) * len(LEVELS), 3)


def test_an_estimate_keeps_its_lines_and_their_order(log: Records) -> None:
    asked = [planned("riders", "shade", 3)._replace(guess_minutes=25.0), planned("new", "assembly", 6)]
    answer = estimate_answer(log, asked, learn(log), DAY, 3)
    assert [(x.unit, x.step, x.models, x.guess_minutes) for x in answer.lines] == [
        ("riders", "shade", 3, 25.0),
        ("new", "assembly", 6, None),
    ]
    assert (answer.as_of, answer.seed) == (DAY, 3)
    for minutes in (*(line.minutes for line in answer.lines), answer.total):
        assert len(minutes) == len(LEVELS)
        assert list(minutes) == sorted(minutes)


def test_one_lines_total_is_the_line(log: Records) -> None:
    answer = estimate_answer(log, [planned()], learn(log), DAY, 3)
    assert answer.total == answer.lines[0].minutes


def test_a_total_is_joint_and_no_sum_of_quantiles(log: Records) -> None:
    # Widths of sums: independent lines add in squares, wholly dependent ones add up; ours lie between.
    answer = estimate_answer(log, [planned("new", step) for step in STEPS], learn(log), DAY, 3)
    low, high = LEVELS.index(10), LEVELS.index(90)
    widths = np.array([line.minutes[high] - line.minutes[low] for line in answer.lines])
    total = answer.total[high] - answer.total[low]
    assert math.sqrt(np.sum(widths**2)) < total < widths.sum()
    assert answer.total[low] > sum(line.minutes[low] for line in answer.lines)
    assert answer.total[high] < sum(line.minutes[high] for line in answer.lines)


def test_an_estimate_doubts_what_was_never_met(log: Records) -> None:
    asked = [planned("spears", "shade"), planned("spears", "decals")]
    asked.append(planned("hut", "shade")._replace(kind="scenery"))
    answer = estimate_answer(log, asked, learn(log), DAY, 3)
    assert [doubt.code for doubt in answer.doubts] == ["new-step", "new-kind"]
    known = estimate_answer(log, asked[:1], learn(log), DAY, 3)
    assert known.doubts == ()


def test_no_guesses_no_answer_about_them(log: Records) -> None:
    assert guesses_answer(log, learn(log)) is None


def test_how_guesses_run() -> None:
    # By hand: every guess is half of what it took, so it took twice as long, and none was kept.
    records = steady_log(6, guess=0.5)
    answer = pace_answer(records, learn(records), DAY, 1).guesses
    assert answer is not None
    assert (answer.guesses, answer.kept_share) == (30, 0)
    assert answer.times_if_missed == pytest.approx(2, rel=0.02)
    assert [step.guesses for step in answer.steps] == [6] * 5
    for step in answer.steps:
        assert step.times == pytest.approx(2, rel=0.02)


def test_guesses_that_were_kept_are_told_apart() -> None:
    # By hand: 4 of 6 took just what was guessed, the other two three times as long.
    lines = [did("spears", "shade", 4, m, guess_minutes=30) for m in (30, 30, 30, 30, 90, 90)]
    records = log_of(*(evening(line) for line in lines))
    answer = guesses_answer(records, learn(records))
    assert answer is not None
    assert answer.kept_share == pytest.approx(4 / 6)
    assert answer.times_if_missed == pytest.approx(3)
    assert [(step.step, step.guesses, step.times) for step in answer.steps] == [("shade", 6, 1.0)]


def test_steps_guessed_shortest_come_first_and_few_guesses_are_left_out() -> None:
    # By hand: minutes over guess are 1.5, 3 and (too few to tell) 9.
    plan = [("shade", 30, 5), ("assembly", 60, 5), ("cleaning", 180, 4)]
    lines = [did("spears", step, 4, m, guess_minutes=20) for step, m, count in plan for _ in range(count)]
    records = log_of(*(evening(line) for line in lines))
    answer = guesses_answer(records, learn(records))
    assert answer is not None
    assert [(step.step, step.times) for step in answer.steps] == [("assembly", 3.0), ("shade", 1.5)]
