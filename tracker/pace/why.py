"""Why an estimate is what it is: a product that a hobbyist can follow."""

from __future__ import annotations

import math
from datetime import date

import numpy as np

from tracker.domain.answers import LEVELS, Factor, PlannedLine, WhyAnswer
from tracker.pace.answer import how_learned, usual_models
from tracker.pace.doubts import line_doubts
from tracker.pace.effects import unit_key
from tracker.pace.pace import Pace

PLAIN = PlannedLine("", "", "", kind="infantry", material="plastic", standard="table-top")
_DRAWS = 4000


def why(asked: PlannedLine, pace: Pace, as_of: date, seed: int) -> WhyAnswer:
    """The estimate of a line as plain minutes times factors, exactly.

    The plain line is the same step on this person's usual number of models, plastic infantry to table-top
    standard, of a unit nobody knows, at the first models, as of the whole log. One thing after the other
    is then made as it was asked; each factor is what the middle per model changes by: exp of the
    difference of mean log minutes per model over the pace's draws. `asked.models` is how many there are:
    the line holds the usual number of them, or all if they are fewer; being among the first of its unit
    then counts in "batch".
    """
    usual = usual_models(pace, asked.step)
    line = asked._replace(models=max(min(usual, asked.models), 1), spent_minutes=0.0, guess_minutes=None)
    stages = _stages(line, usual)
    middles = [_middle(stage, pace) for _, _, stage in stages]
    middle = middles[-1] + _lately(pace)
    draws = pace.draw([line], np.random.default_rng(seed), _DRAWS)[:, 0] / line.models
    factors = [
        Factor(code, name, math.exp(after - before), _lines(pace, code, line))
        for (code, name, _), before, after in zip(stages[1:], middles, middles[1:], strict=False)
    ]
    factors.append(Factor("lately", "lately", math.exp(_lately(pace))))
    source, lines = how_learned(pace, line)
    return WhyAnswer(
        as_of, asked.unit, asked.step, line.models, math.exp(middles[0]), source, lines,
        tuple(factors), math.exp(middle),
        tuple(map(float, np.quantile(draws, np.array(LEVELS) / 100))), line_doubts([line], pace),
    )  # fmt: skip


def _stages(line: PlannedLine, usual: int) -> list[tuple[str, str, PlannedLine]]:
    """(code, name, line) from the plain line to the one that was asked, one thing at a time."""
    at = PLAIN._replace(step=line.step, models=usual, unit="\0")
    out = [("plain", "", at)]
    changes: list[tuple[str, str, dict[str, object]]] = [
        ("kind", line.kind, {"kind": line.kind}),
        ("material", line.material, {"material": line.material}),
        ("standard", f"{line.standard} standard", {"standard": line.standard}),
        ("batch", f"{line.models} at a time, not {usual}", {"models": line.models}),
        ("guess", "your guess for the unit", {"unit_guess_log": line.unit_guess_log}),
        ("practice", "practice", {"done_before": line.done_before}),
        ("unit", "this unit", {"army": line.army, "unit": line.unit}),
    ]
    for code, name, fields in changes:
        at = at._replace(**fields)  # type: ignore[arg-type]
        out.append((code, name, at))
    return out


def _middle(line: PlannedLine, pace: Pace) -> float:
    """Mean log minutes per model, the drift aside; effects that nobody has met yet count nothing."""
    return pace.middle_log_minutes(line) - math.log(line.models)


def _lately(pace: Pace) -> float:
    """Mean of the drift that is to come."""
    return pace.drift_memory * float(pace.effects[:, -1].mean()) if pace.columns else 0.0


def _lines(pace: Pace, code: str, line: PlannedLine) -> int | None:
    told = {"kind": line.kind.casefold(), "unit": unit_key(line)}
    return pace.lines_of.get(f"{code} {told[code]}", 0) if code in told else None
