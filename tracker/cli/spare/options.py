"""Options that the acts of spares and of roles share."""

from __future__ import annotations

from typing import Any

import click

from tracker.cli.common import Decorator

most_option: Decorator = click.option(
    "--most", type=click.IntRange(1, 100), default=5, show_default=True, help="How many are listed."
)
"""Gives the command `most: int`."""

_WISH: tuple[Decorator, ...] = (
    click.option("--kind", default="", metavar="K", help="Infantry, cavalry …, or your own."),
    click.option("--base", default="", metavar="SIZE", help='Such as "20x20" or "32 round" (mm).'),
    click.option("--height", type=float, metavar="MM", help="From base to top of head."),
    click.option("--tag", "tags", multiple=True, metavar="T", help="Your own word for it: spear, shield …."),
)


def wish_options(command: Any) -> Any:
    """Gives the command `kind`, `base`, `height` and `tags`."""
    for option in reversed(_WISH):
        command = option(command)
    return command
