"""What the invented person's ruler said of one unit of the muster."""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from demo_db.army import MUSTER

UNIT = "Beekeepers"
_MODELS = 20
_LONG = {"front": 0.5, "right": 0.75, "back": 0.5, "left": 0.75}
"""Share of models with a smoker, a skep or a net that reaches past an edge at shoulder height."""


class Measured(NamedTuple):
    """One model and its reach: low/middle/high at front, right, back, left, in mm."""

    army: str
    unit: str
    model: int
    reach: str


def measures(seed: int) -> tuple[Measured, ...]:
    """Twelve numbers for every Beekeeper."""
    random = Random(f"ruler {seed}")  # noqa: S311 - no secret
    return tuple(Measured(MUSTER, UNIT, model, _reach(random)) for model in range(1, _MODELS + 1))


def _reach(random: Random) -> str:
    return " ".join(_edge(random, share) for share in _LONG.values())


def _edge(random: Random, long_share: float) -> str:
    feet, body = random.randint(-6, -3), random.randint(-6, 0)
    if random.random() < long_share:
        body, top = random.choice(((random.randint(2, 7), "."), (body, str(random.randint(3, 9)))))
    else:
        top = random.choice((".", str(random.randint(-7, -2))))
    return f"{feet}/{body}/{top}"
