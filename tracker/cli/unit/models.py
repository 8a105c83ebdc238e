"""`lastcoat unit model`, `skip` and `step`: single models."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option, models_option
from tracker.workbench.desk import Desk


@click.command(
    "model",
    help=help_text(
        'Name a model, or give models a note, a part (rider, mount) or a kind; "" takes it away.',
        "lastcoat unit model Spears --models 1 --name Tom --kind character",
        "lastcoat unit model Riders --models 1-4 --part rider",
    ),
)
@click.argument("unit")
@models_option
@click.option("--name", metavar="T", help="Its name.")
@click.option("--note", metavar="T", help="A note on it.")
@click.option("--part", metavar="T", help="Which part it is, where parts are painted apart.")
@click.option("--kind", metavar="K", help="Its own kind, when it differs from the unit's.")
@army_option
@db_option
@run_verb
def model_command(
    desk: Desk, *, unit: str, models: str, name: str | None, note: str | None, part: str | None,
    kind: str | None, army: str | None,
) -> None:  # fmt: skip
    """Store it and say it."""
    from tracker.workbench.units_models import ModelWish, change_models

    say(change_models(desk, unit, models, ModelWish(name, note, part, kind), army=army).sentence())


@click.command(
    "skip",
    help=help_text("Models go without a step.", "lastcoat unit skip Spears --models 1-3 --step tufts"),
)
@click.argument("unit")
@models_option
@click.option("--step", required=True, metavar="S", help="The step.")
@army_option
@db_option
@run_verb
def skip_command(desk: Desk, *, unit: str, models: str, step: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.models import mark

    say(mark(desk, unit, models, step, "skipped", army=army).sentence())


@click.command(
    "step",
    help=help_text(
        "A step for some models only; the others of the unit skip it.",
        "lastcoat unit step Spears --models 1 --step freehand",
    ),
)
@click.argument("unit")
@models_option
@click.option("--step", required=True, metavar="S", help="The step; it is new to the unit.")
@click.option("--after", default="", metavar="STEP", help="Where it goes (default: where it usually goes).")
@army_option
@db_option
@run_verb
def step_command(desk: Desk, *, unit: str, models: str, step: str, after: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.units_models import add_step_for

    say(add_step_for(desk, unit, models, step, after=after, army=army).sentence())
