"""`lastcoat forecast`: when every unit will be table-ready."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import draws_option, plain_signs, seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "forecast",
    help=help_text(
        "When every unit will be table-ready, as a range of dates.",
        "lastcoat forecast",
        "lastcoat forecast --fan",
        "lastcoat forecast --track-record",
        "lastcoat forecast --as-of 2026-03-14 --json",
    ),
)
@click.option("--fan", "with_fan", is_flag=True, help="Draw the models left in the coming months as well.")
@click.option("--track-record", "record", is_flag=True, help="Hold past dates against what came of them.")
@db_option
@as_of_option
@draws_option
@seed_option
@json_option
@run_verb
def command(
    desk: Desk, *, as_of: date | None, draws: int, seed: int, as_json: bool, with_fan: bool, record: bool
) -> None:
    """Ask and print."""
    if record:
        if with_fan:
            raise UsageError(Problem("--fan", "it does not go with --track-record", "Ask one at a time"))
        _say_record(desk, as_of, seed, as_json=as_json)
        return
    from tracker.report.answers import forecast_json
    from tracker.report.words import forecast_text
    from tracker.workbench.answers import forecast

    answer = forecast(desk, as_of, seed=seed, draws=draws)
    if as_json:
        say_json(forecast_json(answer))
    else:
        say(forecast_text(answer, width(), plain=plain_signs()))
        if any(unit.models_ready < unit.models for unit in answer.units):
            _say_kept_record(desk, answer.as_of)
        if with_fan:
            from tracker.report.fan import fan_text

            say("\n" + fan_text(answer, width(), plain=plain_signs()))


def _say_kept_record(desk: Desk, as_of: date) -> None:
    """What past dates came to, in a sentence or two: only where that was worked out before."""
    from tracker.report.dates_record_words import below_the_dates
    from tracker.workbench.kept_before import kept_before

    record = kept_before(desk).dates_record
    if record is not None and record.as_of <= as_of:
        for line in below_the_dates(record, width()):
            say(line)


def _say_record(desk: Desk, as_of: date | None, seed: int, *, as_json: bool) -> None:
    from tracker.report.dates_record_words import dates_record_json, dates_record_text
    from tracker.workbench.dates_record import dates_record

    answer = dates_record(desk, as_of, seed=seed)
    if as_json:
        say_json(dates_record_json(answer))
    else:
        say(dates_record_text(answer, width()))
