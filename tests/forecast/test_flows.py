"""Models a month, counted and as a rate; what would let the backlog end."""

from __future__ import annotations

from datetime import timedelta

import pytest
from scipy.stats import gamma

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tests.forecast.test_backlog import bought
from tracker.domain.answers import LEVELS
from tracker.domain.records import Model
from tracker.forecast.backlog import backlog
from tracker.forecast.flows import DAYS_A_MONTH, flows_of, gamma_quantiles

YEAR = TUESDAY + timedelta(weeks=52)


def test_the_rate_s_posterior_is_the_textbook_s() -> None:
    # Hoff, A First Course in Bayesian Statistical Methods, 2009, ch. 3.2.2: prior Gamma(2, 1), 217 events in
    # 111 units: Gamma(219, 112), mean 1.955357, 95 % interval 1.704943 to 2.222679.
    shape, time = 2 + 217, 1 + 111
    assert shape / time == pytest.approx(1.955357, abs=1e-6)
    low, high = gamma_quantiles(shape, time, (0.025, 0.975))
    assert (low, high) == pytest.approx((1.704943, 2.222679), abs=1e-6)


def test_lots_are_counted_not_their_models() -> None:
    records = bought(small_army([5], regular_weeks(52)), [4, 10, 44, 50], 10)
    quarter, year = flows_of(records, YEAR)
    assert (quarter.what, quarter.days, quarter.models, quarter.times) == ("came in", 91, 20, 2)
    assert (year.what, year.days, year.models, year.times) == ("came in", 364, 40, 4)
    # Ten models at a time: ten times the rate of the lots (quantiles from scipy.stats.gamma).
    months = 364 / DAYS_A_MONTH
    expected = tuple(10 * gamma.ppf(p, 0.5 + 4, scale=1 / months) for p in (0.1, 0.5, 0.9))
    assert year.a_month == pytest.approx(expected)
    singles = bought(small_army([5], regular_weeks(52)), list(range(10, 50)), 1)
    narrow = flows_of(singles, YEAR)[1]
    assert narrow.models == 40
    assert narrow.a_month[2] - narrow.a_month[0] < year.a_month[2] - year.a_month[0]


def test_only_backlog_that_moves_counts() -> None:
    records = small_army([4], regular_weeks(52))
    for step in ROUTE:
        records = worked(records, 1, step, [1, 2], 100)
    gone = TUESDAY + timedelta(weeks=51)
    one, two, three, four = records.models
    records = records._replace(
        models=(
            one._replace(left_on=gone, left_how="sold"),
            two,
            three._replace(left_on=gone, left_how="sold"),
            four._replace(left_on=gone, left_how="broken"),
            Model(9, None, 1, added_on=gone),
        )
    )
    found = {(flow.what, flow.days): flow.models for flow in flows_of(records, YEAR)}
    # The first day's models are stock, the spare is none, nor is the model that was ready when it was sold.
    assert found == {
        ("finished", 91): 2, ("finished", 364): 2, ("sold", 91): 1, ("sold", 364): 1,
        ("broken", 91): 1, ("broken", 364): 1,
    }  # fmt: skip


def test_a_short_log_has_one_span() -> None:
    records = bought(small_army([5], regular_weeks(6)), [3], 2)
    (flow,) = flows_of(records, TUESDAY + timedelta(weeks=6))
    assert (flow.days, flow.models) == (42, 2)
    assert flows_of(small_army([5]), TUESDAY) == ()


def test_the_least_that_lets_it_end() -> None:
    records = bought(small_army([10], regular_weeks(52)), list(range(2, 50, 4)), 12)
    answer = backlog(records, FixedPace(10.0), YEAR, draws=200)
    assert answer.end is None or answer.end[LEVELS.index(50)] is None
    by_what = {change.what: change for change in answer.change}
    assert set(by_what) == {"fewer models", "more evenings"}
    for change in answer.change:
        assert change.amount >= 1
        assert change.end[LEVELS.index(50)] is not None
    assert by_what["more evenings"].amount <= 3
    # Someone who has an evening a week more than that, or buys so much less, needs no change.
    fewer = bought(small_army([10], regular_weeks(52)), list(range(2, 50, 4)), 2)
    assert backlog(fewer, FixedPace(10.0), YEAR, draws=200).change == ()


def test_nothing_is_said_where_nothing_would_do() -> None:
    records = small_army([900], regular_weeks(52))
    answer = backlog(records, FixedPace(60.0), YEAR, draws=60)
    assert answer.end is None
    assert answer.change == ()
    assert answer.minutes_left[9] == pytest.approx(900 * 6 * 60)


def test_points_left_are_those_of_units_not_ready() -> None:
    records = small_army([2, 3], regular_weeks(3))
    first, second = records.units
    records = records._replace(units=(first._replace(points=80.0), second))
    day = TUESDAY + timedelta(weeks=3)
    assert backlog(records, FixedPace(), day, draws=30).points_left == 80
    for step in ROUTE:
        records = worked(records, 1, step, [1, 2], 4)
    assert backlog(records, FixedPace(), day, draws=30).points_left is None
