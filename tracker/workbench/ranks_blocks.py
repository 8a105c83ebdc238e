"""Larger bases in a unit: fillers, large models, bases that several models share."""

from __future__ import annotations

from tracker.domain.bases import parse_base, written
from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import Block, place_name
from tracker.domain.records import Model
from tracker.domain.wished_models import least_begun
from tracker.ranking.fillers import least_models, models_left, saved_by
from tracker.ranking.holds import held_places
from tracker.ranking.layout import places_of_blocks
from tracker.ranking.tiling import tiling, tiling_warning
from tracker.store.journal import Store
from tracker.store.ranks import delete_block, insert_block, set_places
from tracker.store.read import unit_records
from tracker.workbench.desk import Desk
from tracker.workbench.models import said_models
from tracker.workbench.naming import good_name
from tracker.workbench.ranks import Seen, see
from tracker.workbench.ranks_places import block_at, said_place
from tracker.workbench.ranks_scenery import drop_scenery, new_scenery
from tracker.workbench.units_plan import Changed
from tracker.workbench.units_shape import take_over
from tracker.workbench.words import count_words

_BACK = "lastcoat undo takes it all back; lastcoat unit role gives spares a unit again."
_WANTED = Block(0, "filler", 1, 1, 1, 1)
"""Before it is known which places it takes."""


def add_filler(
    desk: Desk, unit: str, size: str, place: str, *, name: str = "", army: str | None = None
) -> Changed:
    """Scenery on a larger base takes several places, with steps of its own.

    Models that then have no place become spares, those with the least work in them first.
    """
    called = good_name("--name", name) if name.strip() else "filler"
    return _add_scenery(desk, unit, size, place, _WANTED._replace(name=called), army=army)


def add_multi(
    desk: Desk, unit: str, size: str, place: str, models: int, *, army: str | None = None
) -> Changed:
    """One base holds several models, fewer than its places; what it saves becomes spares."""
    wanted = _WANTED._replace(kind="multi-base", models=models, name="shared base")
    return _add_scenery(desk, unit, size, place, wanted, army=army)


def add_large(
    desk: Desk, unit: str, model: str, size: str, place: str, *, army: str | None = None
) -> Changed:
    """A model of the unit stands on a larger base that takes several places."""
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        chosen = said_models(store, it.unit.id, it.unit.name, model)
        if len(chosen) != 1:
            raise DataError(Problem("model", "one base for several models", "Say one model"))
        model_id, number = chosen[0]
        if any(block.model_id == model_id for block in it.notes.blocks):
            raise DataError(Problem("model", f"model {number} has a larger base", "Clear that one first"))
        block = _laid(it, size, place)._replace(kind="large model", models=1, model_id=model_id)
        _refuse_block(it, block)
        _put_block(store, it, block)
        spares = _to_spares(store, see(store, unit, army), _room(it, block), {model_id})
        see(store, unit, army).board()  # As with scenery.
        said = f"model {number} stands on {size} at {place_name(block.file, block.rank)}"
        done = _done(it, said, spares)
        change.words = done.words()
    return done


def drop_block(desk: Desk, unit: str, place: str, *, army: str | None = None) -> Changed:
    """A larger base goes; its scenery goes with it if nothing was done on it, else it stays as a model."""
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        at = said_place(place)
        block = block_at(it.notes.blocks, at)
        if block is None:
            there = ", ".join(place_name(one.file, one.rank) for one in it.notes.blocks)
            what = f"no larger base takes {place_name(*at)}"
            mend = f"There are some at: {there}" if there else "There is none in this unit"
            raise DataError(Problem("place", what, mend))
        delete_block(store, block.id)
        more = ""
        if block.kind != "large model" and block.model_id is not None:
            more = drop_scenery(store, it.unit, block.model_id)
        done = Changed(f"{it.unit.name}: the {block.kind} at {place_name(*at)} is gone", more)
        change.words = done.words()
    return done


def _add_scenery(
    desk: Desk, unit: str, size: str, place: str, wanted: Block, *, army: str | None
) -> Changed:  # fmt: skip
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        block = _laid(it, size, place)
        if wanted.kind == "multi-base" and not 1 <= wanted.models <= block.files * block.ranks:
            what = f"a base on {block.files * block.ranks} places cannot hold {wanted.models} models"
            raise DataError(Problem("--holds", what, f"Say 1 to {block.files * block.ranks}"))
        block = block._replace(kind=wanted.kind, models=wanted.models, name=wanted.name)
        _refuse_block(it, block)
        block = block._replace(model_id=new_scenery(store, it.unit, block.name, desk.evening_day()))
        _put_block(store, it, block)
        spares = _to_spares(store, see(store, unit, army), _room(it, block), set())
        see(store, unit, army).board()  # Models that keep a rank may find no room beside it: refused.
        what = f"{block.name} of {size} takes {_places_words(block)}"
        done = _done(it, what, spares)
        change.words = done.words()
    return done


def _laid(it: Seen, size: str, place: str) -> Block:
    """The places a base of this size takes there; a `DataError` where it does not add up."""
    base = parse_base(size)
    if isinstance(base, Problem):
        raise DataError(base)
    at = said_place(place)
    laid = tiling(base, it.base)
    if warning := tiling_warning(base, it.base):
        raise DataError(Problem("size", warning.rstrip("."), "Take a size that fills whole places"))
    if laid.places < 2:
        what = f"{written(base)} takes one place like any other base"
        raise DataError(Problem("size", what, "Take a larger one"))
    return Block(0, "filler", at[0], at[1], laid.files, laid.ranks)


def _refuse_block(it: Seen, block: Block) -> None:
    """A `DataError` where it lies outside, on another one, on a kept place, or breaks the minimum count."""
    blocks = (*it.notes.blocks, block)
    taken = places_of_blocks(it.files, it.ranks, blocks)
    large = {one.model_id for one in blocks if one.kind == "large model"}
    notes = [one for one in it.notes.models if one.model_id in it.model_ids and one.model_id not in large]
    for model, at in held_places(it.files, it.ranks, notes).items():
        if at in taken:
            number = next(one.number for one in it.models if one.id == model)
            what = f"model {number} keeps {place_name(*at)}"
            raise DataError(Problem("place", what, "Free it first: lastcoat ranks hold UNIT MODEL free"))
    rules, places = it.notes.rules, it.files * it.ranks
    least = least_models(places, fixed=rules.least_models, percent=rules.least_percent)
    left = models_left(places, blocks)
    if left < least:
        what = f"{count_words(left, 'model')} would be left, your minimum is {least}"
        raise DataError(Problem("ranks", what, "Take a smaller base, or set another minimum"))


def _put_block(store: Store, it: Seen, block: Block) -> None:
    """The block, and the present order without those who stood on its places."""
    insert_block(store, it.unit.id, block)
    under = places_of_blocks(it.files, it.ranks, [block])
    if it.notes.placed:
        kept = [
            one for one in it.notes.placed
            if (one.file, one.rank) not in under and one.model_id != block.model_id
        ]  # fmt: skip
        set_places(store, it.unit.id, kept)


def _room(it: Seen, block: Block) -> int:
    """Models that the unit has room for, once the block is there."""
    blocks = (*it.notes.blocks, block)
    return it.files * it.ranks - saved_by(blocks)


def _to_spares(store: Store, it: Seen, room: int, kept: set[int]) -> int:
    """Models beyond the room become spares, those with the least work in them first; how many."""
    large = {block.model_id for block in it.notes.blocks}
    may_go: list[Model] = [model for model in it.models if model.id not in kept and model.id not in large]
    surplus = len(it.models) - room
    if surplus <= 0:
        return 0
    gone = least_begun(unit_records(store, it.unit.id), may_go)[:surplus]
    take_over(store, it.unit.id, gone, None)
    return len(gone)


def _places_words(block: Block) -> str:
    last = place_name(block.file + block.files - 1, block.rank + block.ranks - 1)
    return f"{place_name(block.file, block.rank)} to {last}"


def _done(it: Seen, said: str, spares: int) -> Changed:
    more = ""
    if spares:
        said = f"{said}, {count_words(spares, 'model')} became spares"
        more = _BACK
    return Changed(f"{it.unit.name}: {said}", more)
