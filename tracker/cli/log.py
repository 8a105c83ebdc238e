"""`lastcoat log`: by options, or in a sentence."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Log one step on some models: what was done, on how many, how long. When it returns, it is on disk."
        " In a sentence, what is not said comes from last time.",
        'lastcoat log "cleaned 10 spears, 50 min"',
        'lastcoat log "cleaned 4 riders; assembled 2 riders; 2 h in all"',
        "lastcoat log --unit Spears --step cleaning --models 10 --minutes 50",
    )
)
@click.argument("sentence", nargs=-1)
@click.option("--unit", metavar="U", help="The unit.")
@click.option("--step", metavar="S", help="The step, by its name or a word for it.")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@click.option(
    "--models", type=int, metavar="N", help="How many models it moved on (default 1; 0 = none yet)."
)
@click.option("--minutes", type=float, metavar="M", help="Minutes for this line alone.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="The day it began (default: this evening).")
@click.option("--not-finished", is_flag=True, help="The step is still in hand on these models.")
@click.option("--guess", type=float, metavar="MINUTES", help="What you had thought it would take.")
@click.option("--note", default="", metavar="T", help="Anything else.")
@click.option("--named", multiple=True, metavar="NAME", help="A model to take first, by its name.")
@click.option("--add-step", is_flag=True, help="Put the step on the unit's route if it is not there.")
@click.option("--dry-run", is_flag=True, help="Say what a sentence is understood as, and store nothing.")
@db_option
@run_verb
def command(
    desk: Desk,
    *,
    sentence: tuple[str, ...],
    unit: str | None,
    step: str | None,
    army: str | None,
    models: int | None,
    minutes: float | None,
    day: date | None,
    not_finished: bool,
    guess: float | None,
    note: str,
    named: tuple[str, ...],
    add_step: bool,
    dry_run: bool,
) -> None:
    """Store the line and say what it bought."""
    from tracker.workbench.lines import Entry, log_line

    given = (unit, step, army, models, minutes, day, guess, note, named, not_finished, add_step)
    if sentence and not any(given):
        _log_sentence(desk, " ".join(sentence), dry_run=dry_run)
        return
    if dry_run:
        raise UsageError(
            Problem("--dry-run", "it belongs to a sentence without options", "Leave one of them out")
        )
    if sentence:
        if unit or step:
            raise UsageError(Problem("log", "it was said in a sentence and by options", "Use one of them"))
        from tracker.workbench.saying import entry_from_sentence

        said = entry_from_sentence(desk, " ".join(sentence))
    elif unit and step:
        said = Entry(unit, step, army)
    else:
        missing = "--step" if unit else "--unit"
        raise UsageError(Problem(missing, "it is missing", 'Say it, or a sentence: lastcoat log "…"'))
    entry = said._replace(
        army=army or said.army,
        models=said.models if models is None else models,
        minutes=said.minutes if minutes is None else minutes,
        day=day or said.day,
        finished=said.finished and not not_finished,
        guess_minutes=said.guess_minutes if guess is None else guess,
        note=note or said.note,
        named=named,
        add_step=add_step,
    )
    say(log_line(desk, entry).sentence())


def _log_sentence(desk: Desk, text: str, *, dry_run: bool) -> None:
    """Store an evening as it is understood; lines stand between semicolons."""
    from tracker.domain.problems import DataError
    from tracker.workbench.understanding import log_understood, understand

    heard = understand(desk, text, other_units=False)
    if not dry_run:
        say(log_understood(desk, heard).sentence())
    elif heard.problems:
        raise DataError(heard.problems)
    else:
        say(f"Understood: {heard.words()}. Nothing is stored.")
