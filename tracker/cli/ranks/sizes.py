"""`lastcoat ranks size`, `fit` and `saves`: they answer and store nothing."""

from __future__ import annotations

from datetime import date

import click

from tracker.cli.answers import seed_option
from tracker.cli.common import as_of_option, db_option, help_text, json_option, run_verb, say, say_json
from tracker.cli.unit.options import army_option
from tracker.workbench.desk import Desk


@click.command(
    "size",
    help=help_text(
        "Footprint of a unit and the tray it takes: inside with a little play and the thickness that texture "
        "and paint add, outside with the walls. Without a unit, say the sizes.",
        "lastcoat ranks size Spears",
        "lastcoat ranks size --files 5 --ranks 4 --base 20x20 --models 18",
        'lastcoat ranks size --rows "50+30, 20+20+20+20"',
    ),
)
@click.argument("unit", required=False)
@click.option("--files", type=int, metavar="N", help="Models side by side.")
@click.option("--ranks", type=int, metavar="N", help="Rows from front to back.")
@click.option("--base", default="", metavar="B", help='Like "20x20", "25x50", "32 round" (mm).')
@click.option("--models", type=int, metavar="N", help="How many models, where the last rank is short.")
@click.option("--gap", "gap_mm", type=float, default=0.0, metavar="MM", help="Room between bases.")
@click.option("--wall", "wall_mm", type=float, default=2.0, show_default=True, metavar="MM",
              help="How thick the tray's walls are.")  # fmt: skip
@click.option("--rows", default="", metavar="ROWS", help="Mixed bases: widths of each rank, front first.")
@army_option
@db_option
@json_option
@run_verb
def size_command(
    desk: Desk, *, unit: str | None, files: int | None, ranks: int | None, base: str, models: int | None,
    gap_mm: float, wall_mm: float, rows: str, army: str | None, as_json: bool,
) -> None:  # fmt: skip
    """Ask and print."""
    from tracker.report.ranks_json import size_json
    from tracker.report.ranks_size_words import size_text
    from tracker.workbench.ranks_size import size

    answer = size(
        desk, unit, army=army, files=files, ranks=ranks, base=base, models=models, gap_mm=gap_mm,
        wall_mm=wall_mm, rows=rows,
    )  # fmt: skip
    if as_json:
        say_json(size_json(answer))
    else:
        say(size_text(answer))


@click.command(
    "fit",
    help=help_text(
        "How many bases fit on a tray, by its inside size in mm.",
        "lastcoat ranks fit 126x101 --base 25x50",
    ),
)
@click.argument("tray", metavar="WIDTHxDEPTH")
@click.option("--base", required=True, metavar="B", help='Like "20x20", "25x50", "32 round" (mm).')
@db_option
@json_option
@run_verb
def fit_command(desk: Desk, *, tray: str, base: str, as_json: bool) -> None:
    """Ask and print."""
    from tracker.report.ranks_json import fit_json
    from tracker.report.ranks_size_words import fit_text
    from tracker.workbench.ranks_size import fits_on

    answer = fits_on(desk, tray, base)
    if as_json:
        say_json(fit_json(answer))
    else:
        say(fit_text(answer))


@click.command(
    "saves",
    help=help_text(
        "How many fillers of one size a unit may have under the minimum model count you set, how many "
        "models are then left to build and paint, and what one filler saves in hours and days, its own steps "
        "counted.",
        "lastcoat ranks set Spears --least 12",
        "lastcoat ranks saves Spears 40x40",
    ),
)
@click.argument("unit")
@click.argument("block", metavar="SIZE")
@army_option
@db_option
@as_of_option
@click.option(
    "--draws",
    type=click.IntRange(100, 100_000),
    default=500,
    show_default=True,
    help="How many futures to play through.",
)
@seed_option
@json_option
@run_verb
def saves_command(
    desk: Desk, *, unit: str, block: str, army: str | None, as_of: date | None, draws: int, seed: int,
    as_json: bool,
) -> None:  # fmt: skip
    """Ask and print."""
    from tracker.report.ranks_json import fillers_json
    from tracker.report.ranks_size_words import fillers_text
    from tracker.workbench.ranks_filler import fillers

    answer = fillers(desk, unit, block, army=army, as_of=as_of, seed=seed, draws=draws)
    if as_json:
        say_json(fillers_json(answer))
    else:
        say(fillers_text(answer))
