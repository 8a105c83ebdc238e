"""Options that several acts share."""

from __future__ import annotations

import click

from tracker.cli.common import Decorator

army_option: Decorator = click.option(
    "--army", metavar="A", help="Its army, when units of several have that name."
)
"""Gives the command `army: str | None`."""

models_option: Decorator = click.option(
    "--models", required=True, metavar="WHICH", help='"1-5,8", "last 8", a name, or "all".'
)
"""Gives the command `models: str`."""
