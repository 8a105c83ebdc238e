"""`lastcoat demo`: see it work on an invented army, away from a person's own log."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from tracker.cli.answers import plain_signs, width
from tracker.cli.common import help_text, run_verb, say


@click.command(
    "demo",
    help=help_text(
        "See it work on an invented army. Your own log is not touched: the demo has a folder of its own.",
        "lastcoat demo",
        "lastcoat demo --folder barleywick",
    ),
)
@click.option(
    "--folder",
    type=click.Path(file_okay=False, path_type=Path),
    help="Where the demo's log and page go (default: a fresh temporary folder).",
)
@run_verb
def command(folder: Path | None) -> None:
    """Build, log one more evening, answer, write the page."""
    from tracker.report.words import backlog_text, forecast_text
    from tracker.workbench.demo import answer_demo, log_demo_evening, make_demo

    desk = make_demo(folder)
    say("An invented army, and two years of one person's evenings with it.")
    say(f"One more evening: {log_demo_evening(desk)}")
    answers, page = answer_demo(desk)
    signs = plain_signs()
    say()
    say(forecast_text(answers.forecast, width(), plain=signs))
    say()
    said = set(answers.forecast.doubts)
    backlog = answers.backlog._replace(doubts=tuple(d for d in answers.backlog.doubts if d not in said))
    say(backlog_text(backlog, width(), plain=signs))
    say()
    say(f"The page: {page}")
    if sys.stdout.isatty():
        say(f"Open the demo: lastcoat --db {desk.path}")
