"""What the invented person paints with, in words of their own; no maker's names."""

from __future__ import annotations

from datetime import date

from demo_db.army import MUSTER
from tracker.domain.recipes import RecipeStep
from tracker.domain.rows_recipes import RecipeRow, UseRow


def _steps(*said: RecipeStep) -> tuple[RecipeStep, ...]:
    return tuple(step._replace(place=place) for place, step in enumerate(said, start=1))


def _step(
    area: str, technique: str, paint: str, swatch: str = "", *, mix: str = "", medium: str = "",
    tool: str = "", certainty: str = "sure", reminder: str = "",
) -> RecipeStep:  # fmt: skip
    return RecipeStep(0, 0, 0, area, technique, paint, mix, medium, tool, "", certainty, swatch, reminder)


_MILL_1 = _steps(
    _step("cloth", "base", "flour white", "#d9d2c0"),
    _step("cloth", "wash", "thin brown", mix="1:2", medium="water"),
    _step("leather", "base", "harness brown", "#6b4a2f"),
    _step("metal", "base", "kettle iron", "#5c6066", reminder="metals after the wash"),
)
_MILL_2 = _steps(
    *_MILL_1[:2],
    _step("cloth", "edge", "flour white", "#efe9da", certainty="probable"),
    *_MILL_1[2:],
    _step("skin", "base", "ruddy", "#b98164"),
)
_FERRY = _steps(
    _step("cloth", "base", "river green", "#3f6b5a"),
    _step("cloth", "wash", "river green", mix="1:1", medium="matt medium"),
    _step("cloth", "edge", "reed", "#8fa86a", tool="small brush"),
    _step("horse", "base", "mud brown", "#6a5239"),
    _step("horse", "drybrush", "dust", "#b39b77", tool="old flat brush"),
)
_WEIR = _steps(
    _step("cloth", "base", "eel blue", "#32506b"),
    _step("cloth", "wash", "river green", mix="1:1", medium="matt medium", certainty="guess"),
    *_FERRY[2:3],
)
_BASES = _steps(
    _step("base", "base", "mud brown", "#6a5239"),
    _step("base", "drybrush", "dust", "#b39b77", tool="old flat brush"),
    _step("rim", "base", "soot", "#2b2a29", reminder="the same on every unit"),
)


def recipes() -> tuple[RecipeRow, ...]:
    """Five recipes; the Mill Spears were painted with the first version of theirs, which has a second."""
    mill = (UseRow(MUSTER, "Mill Spears", date(2025, 2, 1)),)
    ferry = (UseRow(MUSTER, "Ferry Riders", date(2025, 11, 8)),)
    weir = (UseRow(MUSTER, "Weir Keepers", date(2026, 5, 2)),)
    return (
        *_rows("Mill cloth", 1, date(2025, 1, 18), _MILL_1, primer="white", units=mill),
        *_rows("Mill cloth", 2, date(2026, 6, 20), _MILL_2, primer="white", changed="edges, and skin"),
        *_rows("Ferry green", 1, date(2025, 11, 1), _FERRY, primer="black", units=ferry),
        *_rows("Weir blue", 1, date(2026, 4, 25), _WEIR, primer="black", like="Ferry green", units=weir),
        *_rows("Bases of the muster", 1, date(2025, 3, 8), _BASES, armies=(UseRow(MUSTER),)),
    )


def _rows(
    name: str, version: int, made: date, steps: tuple[RecipeStep, ...], *, primer: str = "",
    changed: str = "", like: str = "", units: tuple[UseRow, ...] = (), armies: tuple[UseRow, ...] = (),
) -> tuple[RecipeRow, ...]:  # fmt: skip
    one = RecipeRow(
        name, version, primer, changed=changed, made=made, like=like, like_version=1 if like else None,
        units=units, armies=armies,
    )  # fmt: skip
    return tuple(one._replace(step=step) for step in steps)
