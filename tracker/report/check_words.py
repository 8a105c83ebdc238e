"""What a look over the log found, in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_check import CheckAnswer, Found, MendAnswer, SalvageAnswer, SavedTable
from tracker.report.answers import Json

WHOLE = "Nothing is wrong."
_SHOWN = 50


def check_text(answer: CheckAnswer) -> str:
    """One line for each thing that was found, or that nothing is wrong."""
    if not answer.found:
        return f"{WHOLE} {answer.rows:,} rows looked at."
    lines = _lines(answer.found)
    if answer.mendable:
        count = len(answer.mendable)
        lines.append(
            f"{'One' if count == 1 else count} of these can be mended at once: lastcoat check --mend"
        )
    return "\n".join(lines)


def _lines(found: Sequence[Found]) -> list[str]:
    lines = [f"{one.where}: {one.what}. {one.mend}." for one in found[:_SHOWN]]
    if len(found) > _SHOWN:
        lines.append(f"and {len(found) - _SHOWN} more; all of them: lastcoat check --json")
    return lines


def mend_text(answer: MendAnswer) -> str:
    """What was mended, where the log from before is, and what is left."""
    lines = [f"Mended: {one.where}: {one.what}." for one in answer.mended]
    if answer.backup:
        lines.append(f"The log as it was before: {answer.backup}")
    return "\n".join([*lines, check_text(answer.now)])


def salvage_text(answer: SalvageAnswer) -> str:
    """Where everything is, and what was lost, table by table."""
    lines = [
        f"Saved {sum(table.saved for table in answer.tables):,} rows of {answer.log}, which stays as it is.",
        f"As a log, to be put in its place: {answer.saved_log}",
        f"As a document: {answer.document}",
    ]
    if answer.wal_frames_lost:
        lines.append(f"Pages of what was stored last that cannot be read: {answer.wal_frames_lost}")
    told = [words for table in answer.tables if (words := _table_words(table))]
    if all(table.expected is None for table in answer.tables):
        told.append("No seals can be read: rows may be missing or altered. Compare with a backup.")
    if not told and not answer.wal_frames_lost:
        lines.append("No row is lost, as far as can be told. What could be taken back by undo is not kept.")
    return "\n".join([*lines, *told])


def _table_words(table: SavedTable) -> str:
    parts = []
    if table.lost is None:
        parts.append(f"{table.saved:,} rows saved, a part cannot be read")
    elif table.lost:
        parts.append(f"{table.lost:,} of {table.saved + table.lost:,} rows lost")
    if table.unfit and table.lost is not None:
        parts.append(f"{table.unfit:,} rows read that do not fit without what is lost")
    if table.altered:
        parts.append(f"{table.altered:,} rows with letters that cannot be read")
    if not table.sealed and not table.lost and table.expected is not None:
        parts.append("values may not be those that were stored: compare with a backup")
    return f"{table.table}: {'; '.join(parts)}" if parts else ""


def check_json(answer: CheckAnswer) -> Json:
    """The whole answer."""
    return {
        "log": answer.log,
        "rows": answer.rows,
        "damaged": answer.damaged,
        "found": [_found_json(one) for one in answer.found],
    }


def _found_json(one: Found) -> Json:
    return {
        "code": one.code,
        "where": one.where,
        "what": one.what,
        "mend": one.mend,
        "safe": one.safe,
        "rows": list(one.rows),
    }


def mend_json(answer: MendAnswer) -> Json:
    """What was mended, and the look afterwards."""
    return {
        "mended": [_found_json(one) for one in answer.mended],
        "backup": answer.backup or None,
        **check_json(answer.now),
    }


def salvage_json(answer: SalvageAnswer) -> Json:
    """Where everything is, and what was lost."""
    return {
        "log": answer.log,
        "document": answer.document,
        "saved_log": answer.saved_log,
        "wal_pages_lost": answer.wal_frames_lost,
        "tables": [table._asdict() | {"lost": table.lost} for table in answer.tables],
    }
