"""`lastcoat caution`: every caution, or those of a step, a material or a unit; and metal without lead."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    "caution",
    help=help_text(
        "What can hurt, and one thing to do about it: of a step, a material, a unit, or all of it. The"
        " product's label, its safety data sheet and local rules come first. Metal counts as lead until"
        " you say otherwise.",
        "lastcoat caution",
        "lastcoat caution assembly",
        'lastcoat caution "white spirit"',
        "lastcoat caution metal Spears --lead-free",
        "lastcoat caution metal Spears --unknown",
    ),
)
@click.argument("about", nargs=-1, metavar="[STEP|MATERIAL|UNIT]")
@click.option("--unit", default="", metavar="U", help="This unit; a step said before it comes first.")
@click.option("--army", metavar="A", help="Its army, when units of several have that name.")
@click.option("--lead-free", is_flag=True, help='The metal of a unit holds no lead: "metal Spears".')
@click.option("--unknown", is_flag=True, help="Nobody knows any more what is in its metal.")
@json_option
@db_option
@run_verb
def command(
    desk: Desk,
    *,
    about: tuple[str, ...],
    unit: str,
    army: str | None,
    lead_free: bool,
    unknown: bool,
    as_json: bool,
) -> None:
    """Ask and print, or store what is known of a metal."""
    from tracker.cli.answers import width
    from tracker.report.caution_words import cautions_json, cautions_text
    from tracker.workbench.cautions import cautions, say_lead

    of_metal = about[:1] == ("metal",)
    named = unit or " ".join(about[1:])
    if lead_free or unknown:
        if lead_free and unknown:
            raise UsageError(Problem("caution", "--lead-free and --unknown are both said", "Say one of them"))
        if not of_metal or not named:
            mend = "Say it like: lastcoat caution metal Spears --lead-free"
            raise UsageError(Problem("caution", "the metal of which unit is not said", mend))
        say(say_lead(desk, named, free=lead_free, army=army).sentence())
        return
    if of_metal and len(about) > 1:
        about, unit = (), named
    answer = cautions(desk, " ".join(about), unit=unit, army=army)
    if as_json:
        as_of = desk.evening_day()
        say_json(cautions_json(answer.about, answer.rows, lead_free=answer.lead_free, as_of=as_of))
    else:
        say(cautions_text(answer.about, answer.rows, lead_free=answer.lead_free, width=width()))
