"""The pace explained and held to account, in words."""

from __future__ import annotations

from tracker.domain.answers import Factor, GuessesAnswer, Held, Rival, TrackRecordAnswer, WhyAnswer
from tracker.report.plain import (
    COLUMNS,
    Column,
    at_level,
    clip,
    count_words,
    date_words,
    doubt_lines,
    per_model_words,
    table,
    wrapped,
)

HARDLY = 0.01
"""A factor this near to 1 is left unsaid."""
_RIVALS = {
    "spreadsheet": ("the mean of a spreadsheet", "the mean"),
    "guess": ("your own guesses", "your guess"),
}


def times_words(times: float) -> str:
    """A factor as "1.9 times"; two digits."""
    return f"{times:.2g} times" if times < 9.95 else f"{times:.0f} times"


def why_text(answer: WhyAnswer, width: int = COLUMNS) -> str:
    """One estimate as a product: plain minutes, each factor, the middle and the range."""
    whose = "The trade's" if answer.source == "trade" else "Your"
    said = [factor for factor in answer.factors if abs(factor.times - 1) > HARDLY]
    rows = [(f"{whose} {answer.step}, a plain model", per_model_words(answer.plain_minutes_per_model), "")]
    rows[0] = (*rows[0][:2], count_words(answer.lines, "line"))
    rows += [(f"x {clip(factor.name, 40)}", f"{factor.times:.2f}", _lines(factor)) for factor in said]
    rows.append(("= the middle, minutes per model", per_model_words(answer.middle_minutes_per_model), ""))
    low, high = (per_model_words(at_level(answer.minutes_per_model, level)) for level in (10, 90))
    out = [
        f"{clip(answer.unit, 40)}, {clip(answer.step, 30)}: {count_words(answer.models, 'model')} at a time",
        "",
        *table((Column("", gives=True), Column("", right=True), Column("")), rows, width)[2:],
        "",
        *wrapped(f"8 times in 10 such a line takes from {low} to {high} minutes per model.", width),
    ]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _lines(factor: Factor) -> str:
    return "" if factor.lines is None else count_words(factor.lines, "line")


def guesses_lines(answer: GuessesAnswer | None, width: int = COLUMNS) -> list[str]:
    """How the guesses run, in a sentence or two; nothing where there are none."""
    if answer is None:
        return []
    kept = round(10 * answer.kept_share)
    often = f"{kept} times in 10" if kept else "hardly ever"
    words = f"Your guesses ({answer.guesses}): kept to the minute {often}; "
    words += f"else it took about {times_words(answer.times_if_missed)} as long."
    if answer.steps and answer.steps[0].times > 1 + HARDLY:
        first = answer.steps[0]
        words += f" Guessed shortest: {clip(first.step, 30)} ({times_words(first.times)} as long)."
    return wrapped(words, width)


def track_record_text(answer: TrackRecordAnswer, width: int = COLUMNS) -> str:
    """What past estimates came to: how often the ranges held, which way they erred, who was nearer."""
    head = [f"Track record of your pace, as of {date_words(answer.as_of)}", ""]
    if not answer.blocks:
        return "\n".join([*head, *doubt_lines(answer.doubts, width)])
    out = head + wrapped(
        f"{count_words(answer.blocks, 'estimate')}, each made with only what was known that evening.", width
    )
    for held in answer.held:
        out += wrapped(held_words(held, answer.blocks), width, more="  ")
    out += wrapped(totals_words(answer), width, more="  ")
    out += wrapped(bias_words(answer.times), width)
    for rival in answer.rivals:
        out += wrapped(rival_words(rival), width, more="  ")
    return "\n".join([*out, "", *wrapped(trust_words(answer), width), *doubt_lines(answer.doubts, width)])


def held_words(held: Held, blocks: int) -> str:
    """How often a range held, and what luck alone would make of it."""
    return (
        f"The {held.percent} % ranges held {held.held} of {blocks} times "
        f"({held.least} to {held.most} would be luck)."
    )


def totals_words(answer: TrackRecordAnswer) -> str:
    """How often the range of a total held."""
    least, most = answer.totals_luck
    return (
        f"Totals of the work that came next: {answer.totals_held} of {answer.totals} in their 80 % range "
        f"({least} to {most} would be luck)."
    )


def bias_words(times: float) -> str:
    """Which way the middles erred."""
    share = round(100 * abs(times - 1))
    if share < 1:
        return "The middles were neither too long nor too short."
    return f"In the middle it took {share} % {'longer' if times > 1 else 'less'} than estimated."


def rival_words(rival: Rival) -> str:
    """The program beside a rival, on the same work."""
    who, short = _RIVALS[rival.code]
    better = 1 - rival.score / rival.rival_score if rival.rival_score > 0 else 0.0
    score = (
        f"the program missed by {round(100 * better)} % less"
        if better >= 0
        else f"the program missed by {round(100 * (rival.score / rival.rival_score - 1))} % more"
    )
    return f"Against {who}: {score}; {short} was nearer {rival.nearer} of {rival.blocks} times."


def trust_words(answer: TrackRecordAnswer) -> str:
    """One sentence on when to trust the ranges."""
    if any(held.held < held.least for held in answer.held):
        return "The ranges held less often than they say: add a margin of your own for now."
    guess = next((rival for rival in answer.rivals if rival.code == "guess"), None)
    if guess is not None and 2 * guess.nearer > guess.blocks:
        return "The ranges hold as they say. Your own guess was nearer more often than not: go on guessing."
    if any(held.held > held.most for held in answer.held):
        return "The ranges held more often than they say: they are on the safe side."
    return "The ranges hold as often as they say."
