"""`lastcoat estimate`: minutes that planned work would take."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import seed_option, width
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.answers import PlannedLine
from tracker.domain.problems import Problem, UsageError
from tracker.domain.records import DEFAULT_ARMY, KINDS, MATERIALS, STANDARDS
from tracker.workbench.desk import Desk


@click.command(
    "estimate",
    help=help_text(
        "Minutes that planned work would take: one line, or every line of a sheet and their total.",
        "lastcoat estimate --unit Spears --step priming --models 20",
        "lastcoat estimate --sheet planned.csv --json",
    ),
)
@click.option("--sheet", metavar="FILE", help="A planned sheet; - reads standard input.")
@click.option("--unit", metavar="NAME", help="A unit, known or not.")
@click.option("--step", metavar="NAME", help="A build step.")
@click.option("--models", type=click.IntRange(1, 100_000), default=None, help="How many models (default 1).")
@click.option("--army", metavar="NAME", help="Where two armies have a unit of that name.")
@click.option("--guess", type=click.FloatRange(0, min_open=True), help="Your own guess in minutes.")
@click.option("--kind", help=f"If it differs from the unit's: {', '.join(KINDS)}, or your own.")
@click.option("--material", help=f"Likewise: {', '.join(MATERIALS)}.")
@click.option("--standard", help=f"Likewise: {', '.join(STANDARDS)}.")
@db_option
@as_of_option
@seed_option
@json_option
@run_verb
def command(
    *,
    sheet: str | None,
    unit: str | None,
    step: str | None,
    models: int | None,
    army: str | None,
    guess: float | None,
    kind: str | None,
    material: str | None,
    standard: str | None,
    desk: Desk,
    as_of: date | None,
    seed: int,
    as_json: bool,
) -> None:
    """Ask and print."""
    from tracker.report.answers import estimate_json
    from tracker.report.words import estimate_text
    from tracker.workbench.answers import estimate, read_planned_sheet

    if sheet is not None and (unit or step):
        raise UsageError(Problem("--sheet", "it goes without --unit and --step", "Give one or the other"))
    if sheet is not None:
        lines, said = read_planned_sheet(sheet)
    else:
        words = {"army": army, "kind": kind, "material": material, "standard": standard}
        lines, said = (_line(unit, step, models or 1, guess, words),), tuple(k for k, v in words.items() if v)
    answer = estimate(desk, lines, as_of, said=said, seed=seed)
    if as_json:
        say_json(estimate_json(answer))
    else:
        say(estimate_text(answer, width()))


def _line(
    unit: str | None, step: str | None, models: int, guess: float | None, words: dict[str, str | None]
) -> PlannedLine:
    """The line that the options describe."""
    if not unit or not unit.strip() or not step or not step.strip():
        raise UsageError(
            Problem("estimate", "it needs a unit and a step, or a sheet", "Add --unit and --step")
        )
    line = PlannedLine(DEFAULT_ARMY, unit.strip(), step.strip(), models, guess)
    said = {name: word.strip() for name, word in words.items() if word}
    return PlannedLine(**{**line._asdict(), **said})
