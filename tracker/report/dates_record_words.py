"""The track record of dates, in words and as JSON. It is for information: no range leans on it."""

from __future__ import annotations

from tracker.domain.answers_dates import DateRival, DatesRecordAnswer
from tracker.report.answers import Json
from tracker.report.pace_words import held_words
from tracker.report.plain import COLUMNS, count_words, date_words, doubt_lines, wrapped

_RIVALS = {
    "constant pace": ("a constant pace", "its date"),
    "hoped for": ("the dates you hoped for", "your date"),
}


def dates_record_text(answer: DatesRecordAnswer, width: int = COLUMNS) -> str:
    """How often the ranges of dates held, which way they erred, who was nearer."""
    head = [f"Track record of the dates, as of {date_words(answer.as_of)}", ""]
    if not answer.forecasts:
        return "\n".join([*head, *doubt_lines(answer.doubts, width)])
    out = head + wrapped(_what_words(answer), width)
    for held in answer.held:
        out += wrapped(held_words(held, answer.forecasts), width, more="  ")
    out += wrapped(_misses_words(answer), width, more="  ")
    out += wrapped(late_words(answer.days_late, "the middle"), width)
    out += wrapped(_after_words(answer), width, more="  ")
    for rival in answer.rivals:
        out += wrapped(_rival_words(rival), width, more="  ")
    out += ["", *wrapped(_trust_words(answer), width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def dates_record_sentence(answer: DatesRecordAnswer | None) -> str:
    """The record in one sentence, to stand below the dates; empty without one."""
    if answer is None or not answer.forecasts:
        return ""
    wide = answer.held[-1]
    return (
        f"So far such ranges held {wide.held} of {answer.forecasts} times where {wide.percent} in 100 should "
        f"({count_words(answer.units, 'unit')}; track record of {date_words(answer.as_of)})."
    )


def below_the_dates(answer: DatesRecordAnswer, width: int = COLUMNS) -> list[str]:
    """The record in two sentences: how often the ranges held, and which way the middles erred."""
    held = dates_record_sentence(answer)
    return wrapped(f"{held} {late_words(answer.days_late, 'the middle')}", width) if held else []


def _what_words(answer: DatesRecordAnswer) -> str:
    said = (
        f"{count_words(answer.forecasts, 'forecast')} of {count_words(answer.units, 'unit')}, made at the "
        f"ends of {count_words(answer.months, 'month')}, each with only what was known that evening."
    )
    if answer.not_yet:
        said += f" Still to have their time: {answer.not_yet:,} more."
    if answer.withdrawn:
        said += f" Not judged, as the unit left unfinished: {answer.withdrawn:,}."
    return said


def _misses_words(answer: DatesRecordAnswer) -> str:
    never = f", {answer.never:,} of them not ready to this day" if answer.never else ""
    return (
        f"Earlier than the 80 % range came {answer.early:,}, later came {answer.late:,}{never}. "
        "Forecasts of one unit hang together, so luck counts each unit once."
    )


def late_words(days: float, than: str) -> str:
    """Which way a date erred: "A unit came 9 days later than the middle, as a rule."."""
    whole = round(abs(days))
    if whole == 0:
        return f"Units came neither later nor earlier than {than}, as a rule."
    return (
        f"Units came {count_words(whole, 'day')} {'later' if days > 0 else 'earlier'} than {than}, as a rule."
    )


def _after_words(answer: DatesRecordAnswer) -> str:
    low, high = (round(100 * share) for share in answer.later_luck)
    share = round(100 * answer.later_share)
    return f"After the middle came {share} in 100 (50 is right; {low} to {high} would be luck)."


def _rival_words(rival: DateRival) -> str:
    who, short = _RIVALS[rival.code]
    ratio = rival.score / rival.rival_score if rival.rival_score > 0 else 1.0
    missed = f"{round(100 * abs(1 - ratio))} % {'less' if ratio <= 1 else 'more'}"
    return (
        f"Against {who}: the program missed by {missed}; {short} was nearer {rival.nearer} of "
        f"{rival.forecasts} times. {late_words(rival.days_late, short)}"
    )


def _trust_words(answer: DatesRecordAnswer) -> str:
    if any(held.held < held.least for held in answer.held):
        return "The ranges held less often than they say: allow for more time than they do."
    if any(held.held > held.most for held in answer.held):
        return "The ranges held more often than they say: they are on the safe side."
    return "The ranges hold as often as they say, as far as this can be told."


def dates_record_json(answer: DatesRecordAnswer) -> Json:
    """What past date forecasts came to; days are whole days or halves, scores are of log days."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "months": answer.months,
        "forecasts": answer.forecasts,
        "units": answer.units,
        "not_yet": answer.not_yet,
        "left_unfinished": answer.withdrawn,
        "held": [
            {
                "percent": held.percent,
                "held": held.held,
                "luck": [held.least, held.most],
                "share": [round(held.share_low, 4), round(held.share_high, 4)],
            }
            for held in answer.held
        ],
        "early": answer.early,
        "late": answer.late,
        "not_ready_yet": answer.never,
        "after_middle": round(answer.later_share, 4),
        "after_middle_luck": [round(share, 4) for share in answer.later_luck],
        "days_later_than_middle": round(answer.days_late, 1),
        "times": round(answer.times, 4),
        "score": round(answer.score, 4),
        "rivals": [
            {
                "against": rival.code,
                "forecasts": rival.forecasts,
                "score": round(rival.score, 4),
                "their_score": round(rival.rival_score, 4),
                "they_were_nearer": rival.nearer,
                "days_later_than_theirs": round(rival.days_late, 1),
            }
            for rival in answer.rivals
        ],
        "doubts": [{"code": doubt.code, "text": doubt.text} for doubt in answer.doubts],
    }
