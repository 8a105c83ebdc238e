"""A unit's sheet and the spares as plain lines, and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.spares import Spare
from tracker.domain.standings import SheetCell, SheetRow, UnitSheet
from tracker.report.plain import COLUMNS, clip, count_words, date_words, wrapped
from tracker.report.screens.unit_page import LEGEND, grid, name_of, sheet_title

_DATED = ("in hand", "drying", "done")


def sheet_text(sheet: UnitSheet, width: int = COLUMNS) -> str:
    """Models down, steps across, a letter for each cell, and what the letters mean."""
    if not sheet.rows:
        return f"{sheet_title(sheet)}: nothing to show."
    laid = grid(sheet, width)
    gap = " " * (laid.pitch - 1)
    rows = [margin + gap.join(letters) for margin, letters in zip(laid.margins, laid.letters, strict=True)]
    finish = f"Table-ready after: {clip(sheet.finish_line, 40)}." if sheet.finish_line else ""
    legend = LEGEND.partition("   |")[0]
    return "\n".join(
        [sheet_title(sheet), *laid.titles, *rows, *wrapped(legend, width), *([finish] * bool(finish))]
    )


def sheet_models_text(sheet: UnitSheet) -> str:
    """One line for each model, in words: for a screen reader, or for a pipe."""
    return "\n".join([f"{sheet_title(sheet)}.", *(_model_line(sheet, row) for row in sheet.rows)])


def _model_line(sheet: UnitSheet, row: SheetRow) -> str:
    who = " ".join(
        part for part in (f"Model {row.number}", name_of(row), f"({row.part})" if row.part else "") if part
    )
    states: dict[str, list[str]] = {}
    for step, cell in zip(sheet.steps, row.cells, strict=True):
        states.setdefault(_state(cell), []).append(step)
    words = "; ".join(f"{state}: {', '.join(steps)}" for state, steps in states.items())
    return f"{who}: {words}." + (f" Note: {row.note}" if row.note else "")


def _state(cell: SheetCell) -> str:
    if cell.until is not None:
        return f"drying until {cell.until:%H:%M} on {date_words(cell.until.date())}"
    dated = cell.on is not None and cell.state in _DATED
    return f"{cell.state} on {date_words(cell.on)}" if dated else cell.state


def sheet_json(sheet: UnitSheet) -> dict[str, object]:
    """Every model and cell; days as ISO text."""
    return {
        "army": sheet.army,
        "unit": sheet.unit,
        "steps": list(sheet.steps),
        "finish_line": sheet.finish_line,
        "models": [
            {
                "number": row.number,
                "name": row.name,
                "part": row.part,
                "stand_in": row.stand_in,
                "note": row.note,
                "cells": [
                    {
                        "step": step,
                        "state": cell.state,
                        "on": cell.on.isoformat() if cell.on else None,
                        "dry_at": cell.until.isoformat(timespec="minutes") if cell.until else None,
                    }
                    for step, cell in zip(sheet.steps, row.cells, strict=True)
                ],
            }
            for row in sheet.rows
        ],
    }


def spares_text(spares: Sequence[Spare]) -> str:
    """A line for each spare."""
    if not spares:
        return "There are no spares."
    lines = [f"{count_words(len(spares), 'spare')}:"]
    for spare in spares:
        more = ", ".join(part for part in (spare.name, spare.kind, spare.note) if part)
        lines.append(
            f"{spare.number}" + (f" {more}" if more else "") + f", since {date_words(spare.added_on)}"
        )
    return "\n".join(lines)
