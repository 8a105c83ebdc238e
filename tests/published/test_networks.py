"""Published project networks through the simulation that dates units: critical path and merge bias."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from numpy.typing import NDArray

from tracker.forecast.simulate import Calendar, Task, UnitTasks, simulate_ready_days

Floats = NDArray[np.float64]
Network = dict[str, tuple[tuple[float, float, float], str]]
"""Least, likely and most of each activity, and what it follows."""

# Milwaukee Paper (Heizer & Render, Operations Management, ch. 3; figures from memory, the length of 15 and
# the path seen in a public test). Weeks.
MILWAUKEE: Network = {
    "A": ((1, 2, 3), ""), "B": ((2, 3, 4), ""), "C": ((1, 2, 3), "A"), "D": ((2, 4, 6), "AB"),
    "E": ((1, 4, 7), "C"), "F": ((1, 2, 9), "C"), "G": ((3, 4, 11), "DE"), "H": ((1, 2, 3), "FG"),
}  # fmt: skip
# Nine activities (lecture slides; Chase, Jacobs & Aquilano, Operations Management). Days.
NINE: Network = {
    "A": ((3, 6, 15), ""), "B": ((2, 4, 14), ""), "C": ((6, 12, 30), "A"), "D": ((2, 5, 8), "A"),
    "E": ((5, 11, 17), "C"), "F": ((3, 6, 15), "D"), "G": ((3, 9, 27), "B"), "H": ((1, 4, 7), "EF"),
    "I": ((4, 19, 28), "GH"),
}  # fmt: skip
DAY_HOURS = 24.0
UNHURRIED_MINUTES = 1.0
DRAWS = 150


def means(network: Network) -> dict[str, float]:
    """(a + 4 m + b) / 6 of each activity (Malcolm, Roseboom, Clark & Fazar 1959, Oper. Res. 7:646-669)."""
    return {name: (a + 4 * m + b) / 6 for name, ((a, m, b), _) in network.items()}


def on_path(network: Network, path: str, by: float) -> float:
    """The path formula's chance to be done by then: normal with the path's mean and variance."""
    variance = sum(((b - a) / 6) ** 2 for (a, _, b), _ in (network[name] for name in path))
    return NormalDist(sum(means(network)[name] for name in path), variance**0.5).cdf(by)


def beta_durations(network: Network, rng: np.random.Generator, size: int) -> dict[str, Floats]:
    """Beta durations of shape 1 + 4 (m - a) / (b - a), 1 + 4 (b - m) / (b - a) on [a, b]."""
    return {
        name: a + (b - a) * rng.beta(1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a), size)
        for name, ((a, m, b), _) in network.items()
    }


def longest(network: Network, durations: dict[str, Floats]) -> Floats:
    """The end of the network by the definition: an activity starts when all it follows have ended."""
    ends: dict[str, Floats] = {}
    for name, (_, after) in network.items():
        begin = np.max([ends[n] for n in after], axis=0) if after else 0.0
        ends[name] = begin + durations[name]
    return np.asarray(np.max(list(ends.values()), axis=0))


def simulated(network: Network, days: dict[str, float], horizon: int = 60) -> int:
    """Days until the end by the product's simulation, every activity taking whole days.

    There is one pair of hands, so activities run beside each other as waits do: each is a minute of work
    and a wait. A day's wait that starts a minute into the evening ends a minute too late for the next
    one, so a quarter of an hour is taken off: a wait of n days then ends at the n-th evening.
    """
    names = [*network, "end"]
    last = "".join(n for n in network if not any(n in after for _, after in network.values()))
    after = {**{name: network[name][1] for name in network}, "end": last}
    hours = {name: n * DAY_HOURS - 0.25 for name, n in days.items()}
    unit = UnitTasks(tuple(Task(tuple(map(names.index, after[n])), hours.get(n, 0.0)) for n in names))
    calendar = Calendar(np.full((1, horizon), 600, dtype=np.float32))
    drawn = np.full((1, len(unit.tasks)), UNHURRIED_MINUTES, dtype=np.float32)
    return int(simulate_ready_days([unit], [drawn], calendar)[0, 0])


def test_lengths_of_the_published_networks() -> None:
    assert means(MILWAUKEE) == {"A": 2, "B": 3, "C": 2, "D": 4, "E": 4, "F": 3, "G": 5, "H": 2}
    assert simulated(MILWAUKEE, means(MILWAUKEE)) == 15
    # Path A-C-E-H-I of length 54; B takes 5 1/3 days and has slack, so 6 whole ones change nothing.
    assert {**means(NINE), "B": 0} == {
        "A": 7, "B": 0, "C": 14, "D": 5, "E": 11, "F": 7, "G": 11, "H": 4, "I": 18,
    }  # fmt: skip
    assert simulated(NINE, {**means(NINE), "B": 6}) == 54


@pytest.mark.parametrize(("longer", "length"), [("B", 15), ("D", 15), ("A", 16), ("G", 16), ("F", 15)])
def test_only_the_critical_path_makes_it_longer(longer: str, length: int) -> None:
    # Slack (same source): B 1, D 1, F 6; none on A, C, E, G, H.
    usual = means(MILWAUKEE)
    assert simulated(MILWAUKEE, {**usual, longer: usual[longer] + 1}) == length


def test_the_path_formula_as_published() -> None:
    # P(<= 16 weeks) .714625 (the book rounds z to .57: .7157); P(<= 53 days) .437948, P(> 56) .377388.
    assert on_path(MILWAUKEE, "ACEGH", 16) == pytest.approx(0.714625, abs=1e-6)
    assert on_path(NINE, "ACEHI", 53) == pytest.approx(0.437948, abs=1e-6)
    assert 1 - on_path(NINE, "ACEHI", 56) == pytest.approx(0.377388, abs=1e-6)


def test_merging_paths_end_later_than_the_critical_path_says() -> None:
    # A million draws of the whole network, computed elsewhere: mean 15.236, sd 1.711, P(<= 16) .690, where
    # the path formula says 15, 1.764 and .715 (merge bias).
    durations = beta_durations(MILWAUKEE, np.random.default_rng(4), 1_000_000)
    ends = longest(MILWAUKEE, durations)
    assert ends.mean() == pytest.approx(15.236, abs=0.006)
    assert ends.std() == pytest.approx(1.711, abs=0.005)
    assert (ends <= 16).mean() == pytest.approx(0.690, abs=0.003)
    assert abs((ends <= 16).mean() - on_path(MILWAUKEE, "ACEGH", 16)) > 0.02


@pytest.mark.parametrize("network", [MILWAUKEE, NINE], ids=["eight", "nine"])
def test_the_simulation_ends_where_the_whole_network_does(network: Network) -> None:
    # On the very durations of the test above, in tenths: the simulation's end is the network's end, draw by
    # draw, so its chances are the network's and not the path's.
    tenths = {
        name: np.round(10 * drawn)
        for name, drawn in beta_durations(network, np.random.default_rng(5), DRAWS).items()
    }
    ends = longest(network, tenths)
    found = [
        simulated(network, {name: float(drawn[i]) for name, drawn in tenths.items()}, 1200)
        for i in range(DRAWS)
    ]
    assert found == ends.tolist()
    # Paths merge in the first network; in the second the others are two weeks shorter and never matter.
    path = sum(tenths[name] for name in ("ACEGH" if network is MILWAUKEE else "ACEHI"))
    assert (ends > path).mean() == pytest.approx(0.3 if network is MILWAUKEE else 0.0, abs=0.15)
