"""`lastcoat pace`: your own minutes per step."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "pace",
    help=help_text(
        "Your own minutes per model for every step, as ranges, and how much of it is learned from you.",
        "lastcoat pace",
        'lastcoat pace --why Spears "base colours"',
        "lastcoat pace --track-record",
    ),
)
@click.option("--why", "asked", nargs=2, metavar="UNIT STEP", help="Explain one estimate as a product.")
@click.option("--army", metavar="ARMY", help="With --why: the unit's army, where two have one of that name.")
@click.option("--track-record", "record", is_flag=True, help="Hold past estimates against what came of them.")
@db_option
@as_of_option
@seed_option
@json_option
@run_verb
def command(
    desk: Desk,
    *,
    as_of: date | None,
    seed: int,
    asked: tuple[str, str] | None,
    army: str | None,
    record: bool,
    as_json: bool,
) -> None:
    """Ask and print."""
    from tracker.report import answers as forms
    from tracker.workbench import answers

    if asked and record:
        raise UsageError(Problem("--why", "it does not go with --track-record", "Ask one at a time"))
    if army is not None and not asked:
        raise UsageError(Problem("--army", "it goes with --why", "Say --why UNIT STEP as well"))
    if asked:
        from tracker.report.pace_words import why_text

        why = answers.why(desk, *asked, as_of, army=army, seed=seed)
        said, document = why_text(why, width()), forms.why_json(why)
    elif record:
        from tracker.report.pace_words import track_record_text

        past = answers.track_record(desk, as_of, seed=seed)
        said, document = track_record_text(past, width()), forms.track_record_json(past)
    else:
        from tracker.report.words import pace_text

        answer = answers.pace_answer(desk, as_of, seed=seed)
        said, document = pace_text(answer, width()), forms.pace_json(answer)
    if as_json:
        say_json(document)
    else:
        say(said)
