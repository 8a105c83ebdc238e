"""Why an estimate is what it is: a product that a hobbyist can follow."""

from __future__ import annotations

import math
from collections.abc import Sequence
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

    The plain line is the same step on plastic infantry to table-top standard, of a unit nobody knows, at
    the first models, as of the whole log. One thing after the other is then made as it was asked; each
    factor is what the middle changes by: exp of the difference of mean log minutes over the pace's draws.
    """
    models = usual_models(pace, asked.step)
    line = asked._replace(models=max(models, 1), spent_minutes=0.0)
    stages = _stages(line)
    middles = _middles([stage for _, _, stage in stages], pace)
    middle = middles[-1] + _lately(pace)
    draws = pace.draw([line], np.random.default_rng(seed), _DRAWS)[:, 0] / line.models
    factors = [
        Factor(code, name, math.exp(after - before), _lines(pace, code, line))
        for (code, name, _), before, after in zip(stages[1:], middles, middles[1:], strict=False)
    ]
    factors.append(Factor("lately", "lately", math.exp(_lately(pace))))
    source, lines = how_learned(pace, line)
    return WhyAnswer(
        as_of, asked.unit, asked.step, line.models, math.exp(middles[0]) / line.models, source, lines,
        tuple(factors), math.exp(middle) / line.models,
        tuple(map(float, np.quantile(draws, np.array(LEVELS) / 100))), line_doubts([line], pace),
    )  # fmt: skip


def _stages(line: PlannedLine) -> list[tuple[str, str, PlannedLine]]:
    """(code, name, line) from the plain line to the one that was asked, one thing at a time."""
    at = PLAIN._replace(step=line.step, models=line.models, unit="\0")
    out = [("plain", "", at)]
    changes: list[tuple[str, str, dict[str, object]]] = [
        ("kind", line.kind, {"kind": line.kind}),
        ("material", line.material, {"material": line.material}),
        ("standard", line.standard, {"standard": line.standard}),
        ("guess", "your guess for the unit", {"unit_guess_log": line.unit_guess_log}),
        ("practice", "practice", {"done_before": line.done_before}),
        ("unit", "this unit", {"army": line.army, "unit": line.unit}),
    ]
    for code, name, fields in changes:
        at = at._replace(**fields)  # type: ignore[arg-type]
        out.append((code, name, at))
    return out


def _middles(lines: Sequence[PlannedLine], pace: Pace) -> list[float]:
    """Mean log minutes of each line, the drift aside; effects that nobody has met yet count nothing."""
    return [pace.middle_log_minutes(line) for line in lines]


def _lately(pace: Pace) -> float:
    """Mean of the drift that is to come."""
    return pace.drift_memory * float(pace.effects[:, -1].mean()) if pace.columns else 0.0


def _lines(pace: Pace, code: str, line: PlannedLine) -> int | None:
    told = {"kind": line.kind.casefold(), "unit": unit_key(line)}
    return pace.lines_of.get(f"{code} {told[code]}", 0) if code in told else None
