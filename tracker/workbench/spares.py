"""The verbs of spares: bring some in, note what they look like and where they lie, show and find them."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.answers_spares import SparesAnswer
from tracker.domain.keeping import Keeping
from tracker.domain.problems import DataError, Problem
from tracker.domain.spares import Spare, with_words
from tracker.report.plain import clip
from tracker.store.book import change as change_record
from tracker.store.book import every, keep
from tracker.store.journal import Store
from tracker.store.models import insert_models, spare_models
from tracker.store.spares import spare_count, spares_kept
from tracker.workbench.adding import MODELS_MOST
from tracker.workbench.desk import Desk
from tracker.workbench.lines import not_in_future
from tracker.workbench.models import number_ranges, read_numbers
from tracker.workbench.naming import SHOWN_LETTERS, good_text, shown
from tracker.workbench.spare_checks import (
    good_base,
    good_height,
    good_kind,
    good_material,
    good_state,
    good_tags,
    good_words,
)
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words

_OF_MODEL = ("name", "kind", "part", "note")
_OF_KEEPING = ("height_mm", "material", "base", "state", "place", "tags")


class SpareSaid(NamedTuple):
    """What is said of spares; None = not said, an empty text takes away what was noted."""

    name: str | None = None
    kind: str | None = None
    part: str | None = None
    note: str | None = None
    base: str | None = None
    height_mm: float | None = None
    material: str | None = None
    state: str | None = None
    place: str | None = None
    tags: tuple[str, ...] | None = None
    """These in place of the ones it had."""
    more_tags: tuple[str, ...] = ()
    less_tags: tuple[str, ...] = ()
    no_height: bool = False


def new_spares(desk: Desk, count: int, said: SpareSaid, *, day: date | None = None) -> Changed:
    """Bring in spares that are alike: kept, and no backlog until a unit takes them."""
    if not 1 <= count <= MODELS_MOST:
        raise DataError(Problem("COUNT", f"{count} models cannot be", f"Say 1 to {MODELS_MOST}"))
    good = checked(said)
    if day is not None:
        not_in_future(day, desk.today())
    with desk.open(create=True) as store, store.change("spare") as change:
        numbers = put_spares(store, count, good, day or desk.evening_day())
        done = Changed(f"{count_words(count, 'spare')} {number_ranges(numbers)}{_named(good)}", _NO_BACKLOG)
        change.words = done.words()
    return done


_NO_BACKLOG = "Kept, and no backlog until a unit takes them."


def note_spares(desk: Desk, said_numbers: str, said: SpareSaid) -> Changed:
    """Note something of spares, by their numbers like "3, 5-7"; what is not said stays."""
    good = checked(said)
    if good == SpareSaid():
        raise DataError(Problem("spare note", "nothing is said", 'Say what, as in --place "drawer 2"'))
    with desk.open() as store, store.change("spare") as change:
        chosen = said_spares(store, said_numbers)
        for model, _ in chosen:
            tell_spare(store, model, good)
        numbers = number_ranges([number for _, number in chosen])
        done = Changed(f"{count_words(len(chosen), 'spare')} {numbers}: {_words_of(good)}")
        change.words = done.words()
    return done


def spares_answer(desk: Desk, words: Sequence[str] = ()) -> SparesAnswer:
    """Spares by number: all, or those of which every word stands in what is noted; numbers are words too."""
    if not os.path.lexists(desk.path):
        return SparesAnswer(desk.today(), (), 0)
    with desk.open() as store, store.snapshot():
        if words and (numbers := read_numbers(",".join(words))):
            return SparesAnswer(desk.today(), spares_kept(store, numbers), spare_count(store))
        there = spares_kept(store)
    return SparesAnswer(desk.today(), with_words(there, words), len(there))


def spare_numbered(store: Store, number: int) -> tuple[int, Spare]:
    """(model id, spare) of a number."""
    ((model, _),) = said_spares(store, str(number))
    return model, spares_kept(store, [number])[0]


def said_spares(store: Store, said: str) -> list[tuple[int, int]]:
    """(model id, number) of the spares said: "all", or numbers and ranges like "3, 5-7"."""
    there = {number: model for model, number in spare_models(store)}
    wanted = sorted(there) if said.strip().casefold() == "all" else read_numbers(said)
    if wanted is None:
        raise DataError(Problem("the spares", f"{shown(said)} are no numbers", 'Write them like "3, 5-7"'))
    missing = [number for number in wanted if number not in there]
    if missing or not wanted:
        what = f"there is no spare {number_ranges(missing[:10])}" if missing else "no spare is said"
        has = clip(number_ranges(sorted(there)), SHOWN_LETTERS) or "none"
        raise DataError(Problem("the spares", what, f"There are: {has}"))
    return [(there[number], number) for number in wanted]


def put_spares(store: Store, count: int, good: SpareSaid, day: date) -> list[int]:
    """Add spares with what is said of them, already checked; their numbers."""
    added = insert_models(store, None, count, day, kind=good.kind or "", note=good.note or "")
    for model, _ in added:
        tell_spare(store, model, good)
    return [number for _, number in added]


def tell_spare(store: Store, model: int, good: SpareSaid) -> None:
    """Note what is said, already checked, of one spare; nothing is written where nothing differs."""
    own = {field: value for field in _OF_MODEL if (value := getattr(good, field)) is not None}
    if own:
        store.update("model", model, **own)
    kept = (every(store, Keeping, model_id=model) or (Keeping(0, model),))[0]
    new = _told(kept, good)
    if new == kept:
        return
    if kept.id:
        change_record(store, new)
    else:
        keep(store, new)


def checked(said: SpareSaid) -> SpareSaid:
    """What was said, tidy; a `DataError` for what cannot be noted."""
    plain: dict[str, Any] = {
        field: good_words(f"--{field}", value)
        for field in ("name", "part", "place")
        if (value := getattr(said, field)) is not None
    }
    for field, check in (("kind", good_kind), ("base", good_base), ("material", good_material),
                         ("state", good_state)):  # fmt: skip
        if (value := getattr(said, field)) is not None:
            plain[field] = check(value)
    if said.note is not None:
        plain["note"] = good_text("--note", said.note)
    return said._replace(
        **plain,
        height_mm=good_height(said.height_mm),
        tags=None if said.tags is None else good_tags(said.tags),
        more_tags=good_tags(said.more_tags),
        less_tags=good_tags(said.less_tags),
    )


def _told(kept: Keeping, good: SpareSaid) -> Keeping:
    said = {field: value for field in _OF_KEEPING if (value := getattr(good, field)) is not None}
    new = kept._replace(**said)
    if good.no_height:
        new = new._replace(height_mm=None)
    gone = {tag.casefold() for tag in good.less_tags}
    tags = [tag for tag in (*new.tags, *good.more_tags) if tag.casefold() not in gone]
    return new._replace(tags=good_tags(tags))


def _named(good: SpareSaid) -> str:
    parts = [good.name, good.kind, good.part]
    words = ", ".join(clip(part, SHOWN_LETTERS) for part in parts if part)
    return f" ({words})" if words else ""


def _words_of(good: SpareSaid) -> str:
    """What was noted, as in "base 20x20, place drawer 2, no tags"."""
    out = []
    for field in (*_OF_MODEL, *_OF_KEEPING):
        value = getattr(good, field)
        if value is None:
            continue
        name = "height" if field == "height_mm" else field
        text = f"{value:g} mm" if field == "height_mm" else ", ".join(value) if field == "tags" else value
        text = clip(text, SHOWN_LETTERS)
        out.append(f"{name} {text}" if text else f"no {name}")
    out += ["no height"] if good.no_height else []
    out += [f"tag {tag}" for tag in good.more_tags] + [f"no tag {tag}" for tag in good.less_tags]
    return ", ".join(out)
