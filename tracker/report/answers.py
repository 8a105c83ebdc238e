"""Answers as JSON documents, byte for byte the same for the same data, date and seed.

Minutes are rounded to 2 digits and chances to 4, so that the last bit of a sum never shows.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers import (
    LEVELS,
    BacklogAnswer,
    Doubt,
    EstimateAnswer,
    ForecastAnswer,
    GuessesAnswer,
    Outlook,
    PaceAnswer,
    TrackRecordAnswer,
    WhyAnswer,
)

Json = dict[str, object]


def forecast_json(answer: ForecastAnswer) -> Json:
    """The forecast of every unit and of each army as a whole (there, "unit" is empty)."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "draws": answer.draws,
        "doubts": _doubts(answer.doubts),
        "units": [outlook_json(outlook) for outlook in answer.units],
        "armies": [outlook_json(outlook) for outlook in answer.armies],
    }


def estimate_json(answer: EstimateAnswer) -> Json:
    """Minutes of planned lines and of all of them together."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "doubts": _doubts(answer.doubts),
        "lines": [
            {
                "unit": line.unit,
                "step": line.step,
                "models": line.models,
                "minutes": _minute_quantiles(line.minutes),
                "guess_minutes": None if line.guess_minutes is None else _rounded(line.guess_minutes),
            }
            for line in answer.lines
        ],
        "total": {"minutes": _minute_quantiles(answer.total)},
    }


def pace_json(answer: PaceAnswer) -> Json:
    """The learned minutes of every step."""
    return {
        "as_of": answer.as_of.isoformat(),
        "doubts": _doubts(answer.doubts),
        "steps": [
            {
                "step": step.step,
                "minutes_per_model": _minute_quantiles(step.minutes_per_model),
                "lines": step.lines,
                "from": step.source,
            }
            for step in answer.steps
        ],
        "guesses": _guesses(answer.guesses),
    }


def _guesses(answer: GuessesAnswer | None) -> Json | None:
    if answer is None:
        return None
    return {
        "guesses": answer.guesses,
        "kept_share": round(answer.kept_share, 4),
        "times_if_missed": _rounded(answer.times_if_missed),
        "steps": [
            {"step": step.step, "guesses": step.guesses, "times": _rounded(step.times)}
            for step in answer.steps
        ],
    }


def why_json(answer: WhyAnswer) -> Json:
    """One estimate as a product; the factors are unrounded enough to multiply."""
    return {
        "as_of": answer.as_of.isoformat(),
        "unit": answer.unit,
        "step": answer.step,
        "models": answer.models,
        "plain_minutes_per_model": round(answer.plain_minutes_per_model, 6),
        "from": answer.source,
        "lines": answer.lines,
        "factors": [
            {"code": f.code, "name": f.name, "times": round(f.times, 6), "lines": f.lines}
            for f in answer.factors
        ],
        "middle_minutes_per_model": round(answer.middle_minutes_per_model, 6),
        "minutes_per_model": _minute_quantiles(answer.minutes_per_model),
        "doubts": _doubts(answer.doubts),
    }


def track_record_json(answer: TrackRecordAnswer) -> Json:
    """What past estimates came to."""
    return {
        "as_of": answer.as_of.isoformat(),
        "estimates": answer.blocks,
        "held": [
            {
                "percent": held.percent,
                "held": held.held,
                "luck": [held.least, held.most],
                "share": [round(held.share_low, 4), round(held.share_high, 4)],
            }
            for held in answer.held
        ],
        "times": round(answer.times, 4),
        "tenths": list(answer.tenths),
        "tenths_luck": list(answer.tenths_luck),
        "totals": answer.totals,
        "totals_held": answer.totals_held,
        "totals_luck": list(answer.totals_luck),
        "score": round(answer.score, 4),
        "rivals": [
            {
                "against": rival.code,
                "estimates": rival.blocks,
                "score": round(rival.score, 4),
                "their_score": round(rival.rival_score, 4),
                "they_were_nearer": rival.nearer,
            }
            for rival in answer.rivals
        ],
        "doubts": _doubts(answer.doubts),
    }


def backlog_json(answer: BacklogAnswer) -> Json:
    """The backlog's history by day, its end or null with the reason, its rates, what would let it end."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "doubts": _doubts(answer.doubts),
        "history": [
            {
                "date": day.date.isoformat(),
                "models": day.models,
                "minutes": _rounded(day.minutes),
                "added": day.added,
                "finished": day.finished,
                "taken_away": day.taken_away,
                "sold": day.sold,
                "given_away": day.given_away,
                "broken": day.broken,
                "points": _rounded(day.points),
            }
            for day in answer.days
        ],
        "end": None if answer.end is None else _date_quantiles(answer.end),
        "reason": answer.reason,
        "minutes_left": _minute_quantiles(answer.minutes_left) if answer.minutes_left else None,
        "points_left": answer.points_left,
        "flows": [
            {
                "what": flow.what,
                "days": flow.days,
                "models": flow.models,
                "times": flow.times,
                "models_a_month": dict(zip(("10", "50", "90"), map(_rounded, flow.a_month), strict=True)),
            }
            for flow in answer.flows
        ],
        "change": [
            {
                "what": change.what,
                "amount": change.amount,
                "nothing_new": change.nothing_new,
                "end": _date_quantiles(change.end),
            }
            for change in answer.change
        ],
    }


def outlook_json(outlook: Outlook) -> Json:
    """One unit of a forecast."""
    chance = outlook.chance_by_goal
    return {
        "army": outlook.army,
        "unit": outlook.unit,
        "models": outlook.models,
        "models_ready": outlook.models_ready,
        "minutes_left": _minute_quantiles(outlook.minutes_left),
        "ready": _date_quantiles(outlook.ready),
        "goal_date": outlook.goal_date.isoformat() if outlook.goal_date else None,
        "chance_by_goal": None if chance is None else round(float(chance), 4),
    }


def _doubts(doubts: Sequence[Doubt]) -> list[Json]:
    return [{"code": doubt.code, "text": doubt.text} for doubt in doubts]


def _rounded(minutes: float) -> float:
    """Two digits; adding 0.0 turns a negative zero into a zero."""
    return round(float(minutes), 2) + 0.0


def _minute_quantiles(quantiles: Sequence[float]) -> Json:
    return {str(level): _rounded(minutes) for level, minutes in zip(LEVELS, quantiles, strict=True)}


def _date_quantiles(quantiles: Sequence[date | None]) -> Json:
    return {
        str(level): None if day is None else day.isoformat()
        for level, day in zip(LEVELS, quantiles, strict=True)
    }
