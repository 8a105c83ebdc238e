"""The effects that a line of work has: names and sizes, and where their columns are.

Apart from the design matrix, so that an answer from a kept pace loads no solver.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from tracker.domain.answers import PlannedLine
from tracker.domain.steps import find_step
from tracker.pace.priors import practice

BATCH_MIDDLE_MODELS = 5.0


class Columns(NamedTuple):
    """Where each effect's column is, by group and name; plain enough to be kept as JSON."""

    places: dict[str, dict[str, int]]
    """Group name -> effect name -> column."""
    size: int
    periods: int
    """Periods of drift; their columns are the last ones."""


def effects_of(line: PlannedLine) -> list[tuple[str, str, float]]:
    """The (group, effect, size) of a line, drift aside: its log minutes are the sum of effect * size."""
    step = find_step(line.step)
    name = line.step.casefold()
    out = [("person", "", 1.0), ("step", name, 1.0), ("unit", unit_key(line), 1.0), ("kind", line.kind, 1.0)]
    if step is None:
        out.append(("own steps", "", 1.0))
    elif step.family == "build":
        out.append(("material", line.material, 1.0))
    elif step.family == "colour" and not step.mostly_set_up:
        out.append(("standard", line.standard, 1.0))
    size = math.log(max(line.models, 1) / BATCH_MIDDLE_MODELS)
    out.append(("batch", name, size))
    out.append(("practice", "", practice(line)))
    if line.unit_guess_log is not None:
        out += [("unit guess", "said", 1.0), ("unit guess", "slope", line.unit_guess_log)]
    return out


def unit_key(line: PlannedLine) -> str:
    """A unit's name with its army's: the same unit name in two armies is two units."""
    return f"{line.army}\n{line.unit}".casefold()


GROUPS = (
    "person", "own steps", "step", "kind", "material", "standard", "unit", "batch", "practice", "unit guess",
)  # fmt: skip
