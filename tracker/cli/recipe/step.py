"""`lastcoat recipe step`."""

from __future__ import annotations

from typing import Any

import click

from tracker.cli.common import Decorator, db_option, help_text, run_verb, say
from tracker.domain.recipes import CERTAINTIES
from tracker.workbench.desk import Desk

_OPTIONS: tuple[Decorator, ...] = (
    click.option("--area", metavar="T", help="Cloth, metal, trim, base, rim … or a word of your own."),
    click.option("--technique", metavar="T", help="Base, wash, layer, edge … or a word of your own."),
    click.option("--paint", metavar="T", help='In your own words; "dark red + black" are two.'),
    click.option("--mix", metavar="P", help='Parts in the order of the paints, as in "2:1".'),
    click.option("--medium", metavar="T", help="What it is thinned or mixed with."),
    click.option("--tool", metavar="T", help="Brush, sponge, airbrush …."),
    click.option("--sheen", metavar="T", help="Matt, satin, gloss."),
    click.option("--certainty", metavar="T", help=f"How sure you are: {', '.join(CERTAINTIES)}."),
    click.option("--swatch", metavar="C", help='A colour matched by eye, as in "#7a1f1f".'),
    click.option("--reminder", metavar="T", help="What to mind next time."),
)


def _options(command: Any) -> Any:
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


@click.command(
    "step",
    help=help_text(
        "One step with all its details: put in, behind the last of its area unless --at says where; changed "
        "with --change; taken out with --drop. The recipe has a new version then.",
        'lastcoat recipe step "Red cloaks" --area cloth --technique glaze --paint ink',
        'lastcoat recipe step "Red cloaks" --change 1 --tool "big brush"',
        'lastcoat recipe step "Red cloaks" --drop 2',
    ),
)
@click.argument("name")
@_options
@click.option("--at", type=int, metavar="N", help="Its place; what stands there moves on.")
@click.option("--change", "of", type=int, metavar="N", help="The step of which what is said changes.")
@click.option("--drop", "out", type=int, metavar="N", help="The step that goes.")
@click.option("--note", default="", metavar="T", help="What was changed, or why.")
@db_option
@run_verb
def step_command(
    desk: Desk, *, name: str, at: int | None, of: int | None, out: int | None, note: str, **said: Any
) -> None:
    """Store it and say it."""
    from tracker.workbench.recipes_steps import StepWish, set_step

    say(set_step(desk, name, StepWish(**said), at=at, of=of, out=out, note=note).sentence())
