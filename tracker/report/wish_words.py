"""Wishes in words, and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    UnitWish,
    Wish,
    Without,
)
from tracker.report.answers import Json
from tracker.report.plain import clip, count_words, date_words

_NAME_MOST = 40


def wishes_words(wishes: Sequence[Wish]) -> str:
    """All wishes in one line."""
    return "; ".join(map(wish_words, wishes)) or "nothing is otherwise"


def wish_words(wish: Wish) -> str:
    """One wish, as it would be said."""
    match wish:
        case MoreEvenings(a_week):
            many = "evening" if abs(a_week) <= 1 else "evenings"
            return f"{abs(a_week):g} {many} a week {'more' if a_week > 0 else 'fewer'}"
        case Away(first, last):
            return f"away from {date_words(first)} to {date_words(last)}"
        case InOrder(units):
            return "in the order " + ", ".join(_name(unit) for unit, _ in units)
        case _:
            return _unit_wish_words(wish)


def _unit_wish_words(wish: UnitWish) -> str:
    name = _name(wish.unit)
    match wish:
        case First():
            out = f"{name} first"
        case Without():
            out = f"without {name}"
        case OnlyModels(_, models):
            out = f"{name} with {count_words(models, 'model')}"
        case FewerModels(_, fewer):
            out = f"{name} with {count_words(fewer, 'model')} fewer"
        case Filler(_, instead_of):
            out = f"scenery in {name} in place of {count_words(instead_of, 'model')}"
        case AtStandard(_, standard):
            out = f"{name} at {standard} standard"
        case NewUnit(_, models, kind, material, standard):
            out = f"{name} as a new unit: {count_words(models, 'model')}, {kind}, {material}, {standard}"
    return out


def _name(unit: str) -> str:
    return clip(unit, _NAME_MOST)


_CODES = {
    First: "first", InOrder: "order", MoreEvenings: "evenings", Away: "away", OnlyModels: "models",
    FewerModels: "fewer", Filler: "filler", AtStandard: "standard", Without: "without", NewUnit: "new",
}  # fmt: skip


def wish_json(wish: Wish) -> Json:
    """One wish with its words."""
    said = {
        name: value.isoformat() if isinstance(value, date) else value
        for name, value in wish._asdict().items()
    }
    return {"wish": _CODES[type(wish)], "words": wish_words(wish), **said}
