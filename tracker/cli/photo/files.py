"""`lastcoat photo out`, `tidy`, `pack` and `unpack`: the files themselves."""

from __future__ import annotations

import click

from tracker.cli.common import db_option, help_text, run_verb, say
from tracker.workbench.desk import Desk


@click.command(
    "out",
    help=help_text(
        "Write a photo's file somewhere else; nothing is written over.", "lastcoat photo out 1 before.jpg"
    ),
)
@click.argument("number", type=int)
@click.argument("file")
@db_option
@run_verb
def out_command(desk: Desk, *, number: int, file: str) -> None:
    """Write the file."""
    from tracker.workbench.photo_out import copy_out

    say(copy_out(desk, number, file))


@click.command(
    "tidy",
    help=help_text("Remove photo files that neither the log nor its undo speaks of.", "lastcoat photo tidy"),
)
@db_option
@run_verb
def tidy_command(desk: Desk) -> None:
    """Remove and say what went."""
    from tracker.workbench.photo_out import tidy_photos

    say(tidy_photos(desk))


@click.command(
    "pack",
    help=help_text(
        "Write all photo files into one archive (ZIP), to go with: lastcoat export all.",
        "lastcoat photo pack photos.zip",
    ),
)
@click.argument("file")
@db_option
@run_verb
def pack_command(desk: Desk, *, file: str) -> None:
    """Write the archive."""
    from tracker.workbench.photo_pack import pack_photos

    say(pack_photos(desk, file))


@click.command(
    "unpack",
    help=help_text(
        "Take in the photo files of an archive; each is checked against its name.",
        "lastcoat photo unpack photos.zip",
    ),
)
@click.argument("file")
@db_option
@run_verb
def unpack_command(desk: Desk, *, file: str) -> None:
    """Take the files in."""
    from tracker.workbench.photo_pack import unpack_photos

    say(unpack_photos(desk, file))
