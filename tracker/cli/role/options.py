"""Options that several acts share."""

from __future__ import annotations

from typing import Any

import click


def unit_options(command: Any) -> Any:
    """Gives the command `unit: str | None` and `army: str | None`."""
    army = click.option("--army", metavar="A", help="Its army, when units of several have that name.")
    unit = click.option("--unit", metavar="U", help="Only roles of this unit.")
    return unit(army(command))
