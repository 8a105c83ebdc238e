"""`lastcoat check`."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, json_option, run_verb, say, say_json
from tracker.domain.problems import Problem, UsageError
from tracker.workbench.desk import Desk


@click.command(
    help=help_text(
        "Look over the whole log: the file, every row, states that cannot be, photos. Ends with status 1 when"
        " something is wrong. Of a damaged log, save what can be read.",
        "lastcoat check",
        "lastcoat check --mend",
        "lastcoat check --salvage saved.json",
    )
)
@click.option("--mend", is_flag=True, help="Mend what cannot lose anything, after a backup.")
@click.option(
    "--salvage",
    metavar="FILE",
    help="Write what can be read as a document, and as a log beside the damaged one.",
)
@json_option
@db_option
@run_verb
def command(desk: Desk, *, mend: bool, salvage: str | None, as_json: bool) -> None:
    """Look, mend or save, and say what was found."""
    from tracker.report import check_words as words
    from tracker.workbench import check as verbs

    if mend and salvage is not None:
        raise UsageError(Problem("check", "a log is mended and saved at once", "Say one of them"))
    if salvage is not None:
        saved = verbs.salvage(desk, salvage)
        say_json(words.salvage_json(saved)) if as_json else say(words.salvage_text(saved))
        return
    if mend:
        mended = verbs.mend(desk)
        say_json(words.mend_json(mended)) if as_json else say(words.mend_text(mended))
        found = mended.now.found
    else:
        answer = verbs.check(desk)
        say_json(words.check_json(answer)) if as_json else say(words.check_text(answer))
        found = answer.found
    if found:
        raise click.exceptions.Exit(1)
