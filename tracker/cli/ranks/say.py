"""`lastcoat ranks set`, `measure`, `turns`, `hold` and `put`: what the plan goes by."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.cli.unit.options import army_option
from tracker.workbench.desk import Desk


@click.command(
    "set",
    help=help_text(
        "How a unit is to be ranked. Turns: front (none), half (round by 180), any. An event's minimum model "
        'count is a number you type: models, or a share of the places. "none" takes a value away.',
        "lastcoat ranks set Spears --files 5 --ranks 4 --base 20x20",
        "lastcoat ranks set Spears --turns any --gap 0.5",
        "lastcoat ranks set Spears --least 16",
        "lastcoat ranks set Spears --least 80%",
    ),
)
@click.argument("unit")
@click.option("--files", type=int, metavar="N", help="Models side by side.")
@click.option("--ranks", type=int, metavar="N", help="Rows from front to back.")
@click.option("--base", metavar="B", help='Like "20x20", "25x50" (mm). The one before is remembered.')
@click.option("--turns", metavar="T", help="front, half or any.")
@click.option("--gap", metavar="MM", help="Spare room at every joint.")
@click.option("--bands", metavar="MM,MM", help='Heights where the bands part, like "14,26"; "none" = one.')
@click.option("--margin", metavar="MM", help="Added to what a ruler claims (usual: 1).")
@click.option("--front-most", metavar="MM", help="So much may reach past the front edge.")
@click.option("--least", metavar="N|P%", help='Minimum model count: "16", or "80%" of the places.')
@army_option
@db_option
@run_verb
def set_command(
    desk: Desk, *, unit: str, files: int | None, ranks: int | None, base: str | None, turns: str | None,
    gap: str | None, bands: str | None, margin: str | None, front_most: str | None, least: str | None,
    army: str | None,
) -> None:  # fmt: skip
    """Store it and say it."""
    from tracker.workbench.ranks_rules import set_ranks
    from tracker.workbench.ranks_wish import rank_wish

    wish = rank_wish(
        files=files, ranks=ranks, base=base, turns=turns, gap=gap, bands=bands, margin=margin,
        front_most=front_most, least=least,
    )  # fmt: skip
    say(set_ranks(desk, unit, wish, army=army).sentence())


@click.command(
    "measure",
    # A reach may begin with a minus, and is no option then.
    context_settings={"ignore_unknown_options": True},
    help=help_text(
        "What a ruler says of models, in whole mm past (6) or short (-4) of each edge of the base, in the "
        "order front right back left as the model looks. Four numbers are quick; "
        '"6/2/. -4/-4/-1 0/0/0 2/./." says them low/middle/high, "." where nothing is. "" takes it away.',
        'lastcoat ranks measure Spears 3 "6 -4 0 2"',
        'lastcoat ranks measure Spears 5-8 "6/2/. -4/-4/-1 0/0/0 2/./."',
    ),
)
@click.argument("unit")
@click.argument("models", metavar="MODELS")
@click.argument("reach", metavar="REACH")
@army_option
@db_option
@run_verb
def measure_command(desk: Desk, *, unit: str, models: str, reach: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_say import measure

    say(measure(desk, unit, models, reach, army=army).sentence())


@click.command(
    "turns",
    help=help_text(
        'How models may be turned on their places: front, half, any, or "" for their unit\'s; and how high '
        "the stems of flyers may be, above the one they were measured on.",
        "lastcoat ranks turns Spears 1-3 any",
        "lastcoat ranks turns Riders all front --stems 0,15,30",
    ),
)
@click.argument("unit")
@click.argument("models", metavar="MODELS")
@click.argument("turns", metavar="TURNS")
@click.option("--stems", metavar="MM,MM", help='Heights a stem may have; "none" = no choice.')
@army_option
@db_option
@run_verb
def turns_command(
    desk: Desk, *, unit: str, models: str, turns: str, stems: str | None, army: str | None
) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_say import pose

    said = "" if stems == "none" else stems
    say(pose(desk, unit, models, turns=turns, stems=said, army=army).sentence())


@click.command(
    "hold",
    help=help_text(
        'Models keep a place, or a rank, in every plan; "free" lets them go anywhere again.',
        "lastcoat ranks hold Spears 1 C1",
        "lastcoat ranks hold Spears 1-3 front",
        'lastcoat ranks hold Spears 4 "rank 2"',
        "lastcoat ranks hold Spears 4 free",
    ),
)
@click.argument("unit")
@click.argument("models", metavar="MODELS")
@click.argument("place", metavar="PLACE")
@army_option
@db_option
@run_verb
def hold_command(desk: Desk, *, unit: str, models: str, place: str, army: str | None) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_say import hold

    say(hold(desk, unit, models, "" if place == "free" else place, army=army).sentence())


@click.command(
    "put",
    help=help_text(
        "A model stands at a place from now on; the one that stood there takes its place.",
        "lastcoat ranks put Spears 7 B1",
        "lastcoat ranks put Spears 7 B1 --turn 180",
    ),
)
@click.argument("unit")
@click.argument("model", metavar="MODEL")
@click.argument("place", metavar="PLACE")
@click.option("--turn", type=click.Choice(("0", "90", "180", "270")), help="Clockwise, seen from above.")
@click.option("--stem", "stem_mm", type=int, metavar="MM", help="How much higher its stem is.")
@army_option
@db_option
@run_verb
def put_command(
    desk: Desk, *, unit: str, model: str, place: str, turn: str | None, stem_mm: int | None, army: str | None
) -> None:
    """Store it and say it."""
    from tracker.workbench.ranks_say import put

    turned = None if turn is None else int(turn)
    say(put(desk, unit, model, place, turn=turned, stem=stem_mm, army=army).sentence())
