"""`lastcoat add`."""

from __future__ import annotations

from datetime import date
from typing import Any

import click

from tracker.cli.common import Day, db_option, help_text, run_verb, say
from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import DEFAULT_ARMY, KINDS, MATERIALS, STANDARDS
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Put a unit on the desk, more models of one, or spare models.",
        "lastcoat add --unit Spears --models 20",
        "lastcoat add --unit Captain --models 1 --kind character --goal-date 2027-05-01",
        "lastcoat add --unit Riders --models 8 --already priming",
    )
)
@click.option("--unit", metavar="U", help="Name of the unit.")
@click.option("--models", type=int, metavar="N", help="How many models.")
@click.option("--spares", type=int, metavar="N", help="Spare models without a unit: kept, but no backlog.")
@click.option("--army", default=DEFAULT_ARMY, show_default=True, metavar="A", help="Its army.")
@click.option("--kind", default="infantry", metavar="K", help=f"{', '.join(KINDS)}, or your own.")
@click.option("--material", default="plastic", metavar="M", help=f"{', '.join(MATERIALS)}, or your own.")
@click.option("--standard", default="table-top", metavar="S", help=f"{', '.join(STANDARDS)}, or your own.")
@click.option("--base", default="", metavar="SIZE", help='Such as "20x20" or "32 round" (mm).')
@click.option("--files", type=int, metavar="N", help="Models side by side, when it ranks up.")
@click.option("--ranks", type=int, metavar="N", help="Ranks behind each other.")
@click.option("--points", type=float, metavar="P", help="What it counts in a list.")
@click.option("--steps", metavar="S;S;S", help="Its steps in order (default: the usual ones for its kind).")
@click.option("--finish", default="", metavar="STEP", help="The step after which it is table-ready.")
@click.option("--already", default="", metavar="STEP", help="Up to this step all models come in done.")
@click.option("--named", multiple=True, metavar="NAME", help="Name a model (again for the next one).")
@click.option(
    "--figure", nargs=2, multiple=True, metavar="NAME KIND", help="Name a model that has its own kind."
)
@click.option("--more", is_flag=True, help="Add the models to a unit that is there.")
@click.option("--goal-date", type=Day(), metavar="DATE", help="The day it should be ready.")
@click.option("--goal", default="", metavar="T", help="What the date is for.")
@click.option("--guess", type=float, metavar="MINUTES", help="Your own guess for all of it.")
@click.option("--order", type=int, metavar="N", help="1 = do first.")
@click.option("--source", default="", metavar="T", help="Where it is from.")
@click.option("--cost", default="", metavar="T", help="What it cost.")
@click.option("--note", default="", metavar="T", help="Anything else.")
@click.option("--added", type=Day(), metavar="DATE", help="The day it came in (default: today).")
@db_option
@run_verb
def command(
    desk: Desk,
    *,
    unit: str | None,
    models: int | None,
    spares: int | None,
    steps: str | None,
    finish: str,
    guess: float | None,
    already: str,
    named: tuple[str, ...],
    figure: tuple[tuple[str, str], ...],
    more: bool,
    added: date | None,
    kind: str,
    note: str,
    **plan: Any,
) -> None:
    """Store the unit and say what lies before it."""
    from tracker.domain.rows import RosterRow
    from tracker.workbench.adding import Figure, add_spares, add_unit

    if spares is not None:
        own_kind = "" if kind == "infantry" else kind
        say(add_spares(desk, spares, kind=own_kind, note=note, day=added).sentence())
        return
    if unit is None or models is None:
        missing = "--unit" if unit is None else "--models"
        raise UsageError(Problem(missing, "it is missing", "Say it: lastcoat add --unit Spears --models 20"))
    said_steps: tuple[str, ...] = ()
    if steps:
        from tracker.sheets.roster import split_steps

        said_steps = split_steps(steps)
    row = RosterRow(
        unit, models, steps=said_steps, finish_line=finish, guess_minutes=guess, kind=kind, note=note,
        added=added, **plan,
    )  # fmt: skip
    figures = (*(Figure(*both) for both in figure), *(Figure(name) for name in named))
    say(add_unit(desk, row, already=already, figures=figures, more=more).sentence())
