"""What is curing: free timers, and a person's word that something was dry."""

from __future__ import annotations

from datetime import date, datetime
from typing import NamedTuple


class Cure(NamedTuple):
    """Something that cures or dries by itself: putty, glue, a varnish; no step needs to stand behind it."""

    id: int
    what: str
    unit_id: int | None
    begun_at: datetime
    low_hours: float
    usual_hours: float
    high_hours: float
    ended_at: datetime | None = None
    """When the person said it was done; none = it goes on."""


class Dried(NamedTuple):
    """A person's word on a logged step: dry then, whatever the usual wait."""

    id: int
    line_id: int
    dry_at: datetime


class LeadFree(NamedTuple):
    """A unit of metal that is known to hold no lead; any other metal is taken as if it did."""

    id: int
    unit_id: int
    said_on: date
