"""What the trade believes of minutes before this person's log says otherwise.

Minutes per model are rules of thumb for one 28-32 mm infantry model at table-top standard, multi-part
plastic, in a batch of about ten: common practice, no source, shaped by hobbyists' published self-reports
(each a sample of one). Low, typical and high stand for about 10, 50 and 90 %.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from tracker.domain.answers import PlannedLine
from tracker.domain.records import Unit
from tracker.domain.routes import up_to_finish
from tracker.domain.steps import find_step

# fmt: off
STEP_MINUTES: dict[str, tuple[float, float, float]] = {
    "sorting": (1, 3, 10), "stripping": (3, 8, 20), "cleaning": (3, 7, 15), "washing": (0.5, 1, 4),
    "straightening": (0.5, 1, 4), "dry fit": (1, 2, 5), "magnets": (1, 2, 4), "pinning": (3, 6, 12),
    "conversion": (15, 35, 90), "assembly": (4, 8, 18), "gap filling": (1.5, 3.5, 9),
    "sanding": (0.7, 1.5, 5), "base texture": (1, 2.5, 6), "sealing": (0.3, 0.7, 1.5),
    "priming": (0.3, 0.8, 2), "base colours": (8, 18, 40), "one-coat colours": (5, 12, 25),
    "shade": (1, 2, 5), "layering": (3, 8, 20), "highlights": (3, 9, 25), "details": (2, 7, 20),
    "freehand": (3, 12, 45), "gloss coat": (0.3, 0.7, 2), "decals": (1.5, 4, 8),
    "weathering": (0.5, 2, 6), "base painting": (1.5, 4, 8), "joining": (1, 2, 5),
    "varnish": (0.3, 0.7, 2), "tufts": (0.5, 1.5, 4), "ranking up": (0.5, 1, 3), "photo": (0.3, 0.5, 2),
}
# fmt: on
OWN_STEP_MINUTES = 25.0
"""Median minutes per model of a step nobody but this person knows: wide, and soon replaced."""
OWN_STEP_SET_UP = 3.0

KIND_FACTOR = {
    "infantry": 1.0,
    "cavalry": 2.0,
    "large infantry": 2.0,
    "monster": 5.0,
    "war machine": 4.0,
    "vehicle": 5.0,
    "character": 1.5,
    "scenery": 2.0,
}
MATERIAL_FACTOR = {"plastic": 1.0, "metal": 1.6, "resin": 1.7, "printed": 1.5, "mixed": 1.4}
"""On build steps."""
STANDARD_FACTOR = {"quick": 0.6, "table-top": 1.0, "good": 1.8, "display": 5.0}
"""On colour steps."""


class Spread(NamedTuple):
    """A prior for a spread on the log scale: a guess and the degrees of freedom behind it."""

    sd: float
    freedom: float = math.inf


class Priors(NamedTuple):
    """Every spread the pace starts from. Degrees of freedom say how soon the log overrules them."""

    person: Spread = Spread(0.5)
    """Between people the same unit differs about fivefold end to end."""
    own_steps: Spread = Spread(0.5)
    """How far the person's own steps lie, all together, from `OWN_STEP_MINUTES`."""
    step: Spread = Spread(0.34, 12.0)
    kind: Spread = Spread(0.18, 20.0)
    material: Spread = Spread(0.18, 20.0)
    standard: Spread = Spread(0.18, 20.0)
    unit: Spread = Spread(0.17, 8.0)
    batch: Spread = Spread(0.1, 20.0)
    """Of each step's batch exponent around what its set-up minutes imply."""
    practice: Spread = Spread(0.05)
    unit_guess: Spread = Spread(0.2)
    """Of how far a unit takes after the person's own guess for the whole of it."""
    drift: Spread = Spread(0.17, 8.0)
    noise: Spread = Spread(0.45, 12.0)
    noise_pooling: float = 16.0
    """Degrees of freedom that pull each step's noise to the common one."""
    noise_tail: float = 8.0
    """Student t degrees of freedom, so that one odd evening does not move the pace."""
    noise_cut: float = 3.5
    """Spreads beyond which an evening hardly counts at all: it was logged wrong, or was another thing."""
    drift_lines: int = 20
    """Lines of log in one period of drift: time at the desk counts, a break does not."""
    drift_memory: float = 0.9
    """First-order autocorrelation of the drift from one period to the next."""
    practice_slope: float = math.log2(0.9)
    """Unit learning curve: 10 % fewer minutes at each doubling; from memory, soon learned."""


PRACTICE_MIDDLE_MODEL = 3.0
"""The middle of a first lot of five: there the trade's minutes hold as they are."""
PRACTICE_MODELS_MOST = 20
"""Beyond this many like models nobody gets quicker any more."""


def log_minutes(line: PlannedLine) -> float:
    """Log of the trade's median minutes of a line, before any practice.

    log(set-up + models * minutes per model * kind * material on build * standard on colour); the set-up is
    0 where another line of the unit pays it
    """
    step = find_step(line.step)
    if step is None:
        set_up = 0.0 if line.is_set_up else OWN_STEP_SET_UP
        return math.log(set_up + _amount(line) * OWN_STEP_MINUTES * _kind(line))
    each = STEP_MINUTES[step.name][1] * _kind(line)
    if step.family == "build":
        each *= MATERIAL_FACTOR.get(line.material, 1.0)
    elif step.family == "colour" and not step.mostly_set_up:
        each *= STANDARD_FACTOR.get(line.standard, 1.0)
    set_up = 0.0 if line.is_set_up else step.set_up_minutes
    return math.log(set_up + _amount(line) * each)


def set_up_share(line: PlannedLine) -> float:
    """The share of the trade's median minutes of a line that goes into setting up, 0 … 1."""
    step = find_step(line.step)
    set_up = OWN_STEP_SET_UP if step is None else step.set_up_minutes
    if line.is_set_up:
        return 0.0
    return min(set_up / math.exp(log_minutes(line)), 1.0)


def _amount(line: PlannedLine) -> float:
    """Models that the minutes are for; work that finished none still took about half a model's."""
    return float(line.models) if line.models > 0 else 0.5


def _kind(line: PlannedLine) -> float:
    return KIND_FACTOR.get(line.kind, 1.0)


UNIT_GUESS_SLOPE = 0.4
UNIT_GUESS_BIAS = 0.25
"""People guess whole units short by about this, in log minutes; both from memory and soon learned."""


def expected_log_minutes(line: PlannedLine, priors: Priors) -> float:
    """Log of the minutes the trade expects of a line, practice and the guess for its unit included."""
    total = log_minutes(line) + priors.practice_slope * practice(line)
    if line.unit_guess_log is not None:
        total += UNIT_GUESS_SLOPE * (line.unit_guess_log + UNIT_GUESS_BIAS)
    return total


def unit_guess_log(unit: Unit, models: int) -> float | None:
    """Log of the person's guess for a unit over the trade's usual minutes; None where there is no guess."""
    if not unit.guess_minutes or not unit.route or models < 1:
        return None
    usual = sum(
        math.exp(
            log_minutes(PlannedLine("", "", step, models, None, unit.kind, unit.material, unit.standard))
        )
        for step in up_to_finish(unit.route, unit.finish_line)
    )
    return math.log(unit.guess_minutes / usual)


def practice(line: PlannedLine) -> float:
    """Log of the place of a line's middle model in its unit over `PRACTICE_MIDDLE_MODEL`, capped.

    The middle of a lot from F to L on a unit learning curve is about (F + L + 2 sqrt(F L)) / 4.
    """
    first = min(line.done_before + 1, PRACTICE_MODELS_MOST)
    last = min(line.done_before + max(line.models, 1), PRACTICE_MODELS_MOST)
    return math.log((first + last + 2 * math.sqrt(first * last)) / (4 * PRACTICE_MIDDLE_MODEL))
