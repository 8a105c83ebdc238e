"""What the backlog's answer says beside its course: rates, and what would change its end."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

FlowName = Literal["came in", "finished", "sold", "given away", "broken", "went elsewhere"]
FLOWS: tuple[FlowName, ...] = ("came in", "finished", "sold", "given away", "broken", "went elsewhere")
"""What moves the backlog; the last one is leaving for no reason that was told."""


class Flow(NamedTuple):
    """How many models a month one thing moves, over one span of the past."""

    what: FlowName
    days: int
    """How many days that end today the span has: a quarter, a year, or what there is of them."""
    models: int
    """Models it moved in the span."""
    times: int
    """Days on which it did."""
    a_month: tuple[float, float, float]
    """10, 50 and 90 % points of the models a month that this speaks for."""


class Change(NamedTuple):
    """The backlog's end if one thing were otherwise, under the same luck."""

    what: Literal["fewer models", "more evenings"]
    amount: int
    """Models a month fewer coming in, or evenings a week more."""
    nothing_new: bool
    """Whether that is all there is: no model comes in any more."""
    end: tuple[date | None, ...]
    """Quantiles of the day it is empty, as in the answer itself."""
