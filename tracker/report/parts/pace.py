"""The page's pace: minutes per model of each step, and what past estimates came to."""

from __future__ import annotations

from tracker.domain.answers import PaceAnswer, TrackRecordAnswer
from tracker.report.drawings.pace import pace_figure, record_figure
from tracker.report.pace_words import bias_words, held_words, rival_words, totals_words, trust_words
from tracker.report.parts.part import RANGES, Part, Row, shown
from tracker.report.plain import at_level, per_model_words

_TENTHS = (
    "If the ranges are right, every tenth of a range is hit about equally often; the broken lines are what"
    " luck allows."
)


def pace_part(answer: PaceAnswer) -> Part:
    """The learned minutes with their ranges."""
    if not answer.steps:
        return Part("pace", "Your pace", ["No step is known yet."])
    rows = [
        Row(
            [
                shown(step.step),
                *(per_model_words(at_level(step.minutes_per_model, level)) for level in (10, 50, 90)),
                f"{step.lines:,}",
                step.source,
            ]
        )
        for step in answer.steps
    ]
    return Part(
        "pace",
        "Your pace",
        ["Minutes per model for each step. " + RANGES],
        pace_figure(answer),
        ("Step", "From", "Middle", "To", "Lines", "Learned from"),
        rows,
        word_columns=(5,),
        folded=True,
    )


def record_part(answer: TrackRecordAnswer) -> Part:
    """How often the ranges of minutes held."""
    title = "Track record of the pace"
    if not answer.blocks:
        return Part("record", title, [doubt.text for doubt in answer.doubts])
    sentences = [
        f"{answer.blocks:,} past estimates, each made with only what was known that evening. " + _TENTHS,
        " ".join([*(held_words(held, answer.blocks) for held in answer.held), totals_words(answer)]),
        " ".join([bias_words(answer.times), *map(rival_words, answer.rivals)]),
        trust_words(answer),
    ]
    rows = [Row([f"{10 * i} to {10 * i + 10} %", f"{count:,}"]) for i, count in enumerate(answer.tenths)]
    return Part(
        "record", title, sentences, record_figure(answer), ("Place in the range", "Outcomes"), rows,
        folded=True,
    )  # fmt: skip
