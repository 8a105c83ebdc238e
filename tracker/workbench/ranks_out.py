"""The plan of a unit's ranks as a file at true scale: a page to print, or the drawing alone."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write, write_whole
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.ranks_size import size


class SheetWritten(NamedTuple):
    """Where the file lies."""

    file: Path
    unit: str
    is_drawing: bool

    def words(self) -> str:
        """As in "Wrote spears.html: Spears at true scale. Print it at 100 %."."""
        how = "" if self.is_drawing else " Print it at 100 %, and measure its bar."
        return f"Wrote {self.file}: {self.unit} at true scale.{how}"


def write_sheet(
    desk: Desk, unit: str, path: str, *, letter: bool = False, planned: bool = False, army: str | None = None
) -> SheetWritten:
    """Writes the unit as it stands, or the plan for it; whole or not at all."""
    from tracker.report.drawings.ranks import ranks_svg
    from tracker.report.ranks_sheet import ranks_sheet

    is_drawing = path.lower().endswith(".svg")
    starts = (b"<?xml", b"<svg") if is_drawing else (b"<!doctype html", b"<html")
    example = "spears.svg" if is_drawing else "spears.html"
    target = where_to_write(desk, path, "a drawing" if is_drawing else "a page", starts, example)
    answer = plan_ranks(desk, unit, army=army) if planned else ranks(desk, unit, army=army)
    if is_drawing:
        text = ranks_svg(answer)
    else:
        room = size(desk, unit, army=army)
        text = ranks_sheet(answer, room, "letter" if letter else "a4")
    write_whole(target, text.encode())
    return SheetWritten(target, answer.unit, is_drawing)
