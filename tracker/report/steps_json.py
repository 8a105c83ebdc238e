"""What every unit still needs as one JSON document."""

from __future__ import annotations

from tracker.domain.answers import LEVELS
from tracker.domain.steps_left import StepMinutes, StepsLeftAnswer


def steps_json(answer: StepsLeftAnswer) -> dict[str, object]:
    """Units in the order they are worked, steps in route order; minutes by the percent of the forecast."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "units": [
            {
                "army": unit.army,
                "unit": unit.unit,
                "models": unit.models,
                "models_ready": unit.models_ready,
                "steps": [_step(step) for step in unit.steps],
            }
            for unit in answer.units
        ],
    }


def _step(step: StepMinutes) -> dict[str, object]:
    minutes = step.minutes or (0.0,) * len(LEVELS)
    # Two digits, so that the last bit of a sum never shows; 0.0 turns a negative zero into a zero.
    spoken = {str(level): round(m, 2) + 0.0 for level, m in zip(LEVELS, minutes, strict=True)}
    return {"step": step.step, "models": step.models, "minutes": spoken}
