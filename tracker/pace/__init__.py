"""The pace: this person's minutes per task, learned from the log on top of the trade's beliefs."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.domain.records import Records
    from tracker.pace.pace import Pace


def learn(records: Records, earlier: Pace | None = None) -> Pace:
    """The pace that the records teach; `earlier`, a pace of the same log before, only makes it sooner."""
    from tracker.pace.blocks import blocks_of
    from tracker.pace.fit import fit

    return fit(blocks_of(records), start=earlier)
