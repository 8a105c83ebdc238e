"""A published project network through the simulation that dates units."""

from __future__ import annotations

import numpy as np
import pytest

from tracker.forecast.simulate import Calendar, Task, UnitTasks, simulate_ready_days

# Milwaukee Paper (Heizer & Render, Operations Management, ch. 3): least, likely, most weeks of each
# activity and what it follows. Early finish 2 3 4 7 8 7 13 15; critical path A-C-E-G-H of length 15.
ACTIVITIES = {
    "A": ((1, 2, 3), ""), "B": ((2, 3, 4), ""), "C": ((1, 2, 3), "A"), "D": ((2, 4, 6), "AB"),
    "E": ((1, 4, 7), "C"), "F": ((1, 2, 9), "C"), "G": ((3, 4, 11), "DE"), "H": ((1, 2, 3), "FG"),
}  # fmt: skip
DAY_HOURS = 24.0
UNHURRIED_MINUTES = 1.0


def network(hours: dict[str, float]) -> UnitTasks:
    """Each activity as a wait of so many hours after a minute of work.

    Activities run beside each other as waits do; the network's own minutes are as good as none.
    """
    names = [*ACTIVITIES, "end"]
    after = {name: "FGH" if name == "end" else ACTIVITIES[name][1] for name in names}
    return UnitTasks(
        tuple(Task(tuple(names.index(n) for n in after[name]), hours.get(name, 0.0)) for name in names)
    )


def duration_days(days: dict[str, float]) -> int:
    """Days until the end of the network when every activity takes so many days."""
    # A day's wait that starts a minute into the evening ends a minute too late for the next one, so a
    # quarter of an hour is taken off: a wait of n days then ends at the n-th evening.
    unit = network({name: n * DAY_HOURS - 0.25 for name, n in days.items()})
    calendar = Calendar(np.full((1, 60), 600, dtype=np.float32))
    drawn = np.full((1, len(unit.tasks)), UNHURRIED_MINUTES, dtype=np.float32)
    return int(simulate_ready_days([unit], [drawn], calendar)[0, 0])


def test_length_of_the_published_network() -> None:
    means = {name: (a + 4 * m + b) / 6 for name, ((a, m, b), _) in ACTIVITIES.items()}
    assert means == {"A": 2, "B": 3, "C": 2, "D": 4, "E": 4, "F": 3, "G": 5, "H": 2}
    assert duration_days(means) == 15


@pytest.mark.parametrize(("longer", "length"), [("B", 15), ("D", 15), ("A", 16), ("G", 16), ("F", 15)])
def test_only_the_critical_path_makes_it_longer(longer: str, length: int) -> None:
    # Slack (same source): B 1, D 1, F 6; none on A, C, E, G, H.
    means = {name: (a + 4 * m + b) / 6 for name, ((a, m, b), _) in ACTIVITIES.items()}
    assert duration_days({**means, longer: means[longer] + 1}) == length


def test_merging_paths_end_later_than_the_critical_path_says() -> None:
    # The same network with beta durations, 1e6 draws: mean 15.236, P(<= 16) .690, where the path
    # formula says 15 and .715. In steps of a twentieth of a week here, each rounded up to the next.
    rng, slot = np.random.default_rng(4), 20
    lengths = []
    for _ in range(1500):
        days = {}
        for name, ((a, m, b), _) in ACTIVITIES.items():
            shape = 1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a)
            days[name] = float(np.round(slot * (a + (b - a) * rng.beta(*shape))))
        lengths.append(days)
    ends = np.array([_end_in_slots(days) for days in lengths]) / slot
    assert ends.mean() == pytest.approx(15.236, abs=0.15)
    assert ends.mean() > 15.05
    assert (ends <= 16).mean() == pytest.approx(0.690, abs=0.04)


def _end_in_slots(days: dict[str, float]) -> int:
    unit = network({name: n * DAY_HOURS - 0.25 for name, n in days.items()})
    calendar = Calendar(np.full((1, 700), 600, dtype=np.float32))
    drawn = np.full((1, len(unit.tasks)), UNHURRIED_MINUTES, dtype=np.float32)
    return int(simulate_ready_days([unit], [drawn], calendar)[0, 0])
