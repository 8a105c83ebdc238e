"""What joining another log did, in words and as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tracker.domain.merged import Clash, Merged
from tracker.report.plain import clip, count_words

SHOWN_MOST = 40
_TEXT_MOST = 60
_THINGS: Mapping[str, tuple[str, str]] = {
    "line": ("line", "lines"), "session": ("evening", "evenings"), "unit": ("unit", "units"),
    "model": ("model", "models"), "mark": ("mark", "marks"), "army": ("army", "armies"),
    "own_step": ("step of your own", "steps of your own"), "declared": ("plan", "plans"),
    "goal": ("goal", "goals"), "recipe": ("recipe", "recipes"),
    "recipe_version": ("version of a recipe", "versions of recipes"),
    "recipe_step": ("step of a recipe", "steps of recipes"),
    "recipe_use": ("use of a recipe", "uses of recipes"),
    "paint_out": ("paint that ran out", "paints that ran out"), "keeping": ("spare's note", "spares' notes"),
    "role": ("role", "roles"), "deal": ("deal", "deals"),
    "deal_model": ("model in a deal", "models in deals"), "list_target": ("target", "targets"),
    "photo": ("photo", "photos"), "cure": ("timer", "timers"), "dried": ("word on drying", "words on drying"),
    "lead_free": ("word on lead", "words on lead"), "rank_rule": ("rule of ranks", "rules of ranks"),
    "rank_model": ("measured model", "measured models"), "rank_block": ("larger base", "larger bases"),
    "rank_check": ("dry fit", "dry fits"), "base_before": ("base before", "bases before"),
}  # fmt: skip
"""A table's rows in words: one, several; in the order in which they are told."""
_FIELDS = {
    "army_id": "army", "unit_id": "unit", "model_id": "model", "session_id": "evening",
    "guess_minutes": "guess", "goal_date": "goal day", "place": "order", "finish_line": "finish line",
    "open_ended": "open ended",
    "added_on": "came in on", "left_on": "left on", "left_how": "left how", "wait_hours": "wait",
    "said_on": "said on", "least_models": "least models", "route_step": "route", "goal_unit": "units",
    "line_model": "models it moved", "rank_place": "order in ranks", "gap_mm": "gap", "margin_mm": "margin",
    "front_most_mm": "front at most", "least_percent": "least percent", "used_on": "used on",
    "out_on": "out on", "height_mm": "height", "stand_in": "stands in", "day": "day", "taken_on": "taken on",
    "dry_at": "dry at",
    "begun_at": "begun at", "ended_at": "ended at", "low_hours": "hours, low", "usual_hours": "hours, usual",
    "high_hours": "hours, high", "measured_on": "measured on", "checked_on": "checked on",
}  # fmt: skip
BACK = "What was taken out in one of the two logs and not in the other is there again."
"""There are no tombstones."""


def merge_lines(done: Merged) -> list[str]:
    """The answer in lines: what came in, what differs, what came in otherwise than it was."""
    lines = [_sentence(done)]
    if done.same or done.kept:
        kept = f"; {done.kept} newer here, kept" if done.kept else ""
        lines.append(f"{count_words(done.same, 'row')} alike in both{kept}.")
    lines += _some([f"  {note}" for note in done.notes])
    if done.clashes:
        lines.append(f"{count_words(len(done.clashes), 'conflict')}, where both logs say something else:")
        lines += _some([f"  {clash_words(clash)}" for clash in done.clashes])
        if any(clash.kept == "ours" and clash.field != "*" for clash in done.clashes):
            lines.append("Yours is kept. To take theirs in all of them: --theirs")
    if done.photos:
        lines.append("Photos' files do not come with a log: lastcoat photo pack there, photo unpack here.")
    if done.added:
        lines.append(BACK)
    return lines


def _sentence(done: Merged) -> str:
    parts = [
        f"{done.added[table]} {words[done.added[table] != 1]}"
        for table, words in _THINGS.items()
        if done.added.get(table)
    ]
    if not done.changed:
        return "Nothing to join: nothing is new there."
    verb = "Would join" if done.dry_run else "Joined"
    said = f"{', '.join(parts)} new" if parts else "nothing new"
    taken = f", {count_words(done.taken, 'row')} changed to what is newer there" if done.taken else ""
    return f"{verb}: {said}{taken}."


def clash_words(clash: Clash) -> str:
    """As in 'Spears: note: yours "red", theirs "blue"'."""
    what = clip(clash.what, _TEXT_MOST)
    if clash.field == "*":
        thing = _THINGS.get(clash.table, (clash.table, ""))[0]
        comes = clash.theirs if clash.kept == "ours" else "comes in"
        return f"{thing} {what}: yours {clash.ours}; theirs {comes}"
    field = _FIELDS.get(clash.field, clash.field)
    return f"{what}: {field}: yours {_shown(clash.ours)}, theirs {_shown(clash.theirs)}"


def _shown(value: str) -> str:
    return f'"{clip(value, _TEXT_MOST)}"' if value else "nothing"


def _some(lines: list[str]) -> list[str]:
    more = len(lines) - SHOWN_MOST
    return lines if more <= 0 else [*lines[:SHOWN_MOST], f"  and {more} more; all of them with --json"]


def merge_json(done: Merged) -> dict[str, Any]:
    """Everything, for scripts."""
    return {
        "added": {table: done.added[table] for table in sorted(done.added) if done.added[table]},
        "same": done.same,
        "changed_to_theirs": done.taken,
        "newer_here": done.kept,
        "conflicts": [clash._asdict() for clash in done.clashes],
        "notes": list(done.notes),
        "changed": done.changed,
        "dry_run": done.dry_run,
    }
