"""A unit's ranks: as it stands, and the plan for it."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.answers import Doubt
from tracker.domain.answers_ranks import RankAnswer, RankedModel
from tracker.domain.bases import Base
from tracker.domain.ranks import Placed, RankModel, RankNotes
from tracker.domain.records import Model, Unit
from tracker.ranking.board import Board, make_board
from tracker.ranking.cures import cures, room_cures
from tracker.ranking.plan import Plan, plan, present, score
from tracker.ranking.reach import reach_text
from tracker.ranking.solve import First
from tracker.ranking.swaps import swaps_between
from tracker.store.journal import Store
from tracker.store.ranks import rank_notes
from tracker.store.read import unit_records
from tracker.workbench.desk import Desk
from tracker.workbench.naming import the_unit
from tracker.workbench.ranks_size import places_said, standing_models

_MANY = 15
"""On invented units of ten a ruler and some checks did better than hands alone; of twenty, no better."""
NOT_WORTH = (
    "All look to the front: swapping by hand does about as well as measuring. A ruler pays where models may "
    "turn, before they are glued, or when its numbers are used again."
)


class Seen(NamedTuple):
    """A unit as its ranks see it."""

    unit: Unit
    army: str
    base: Base
    files: int
    ranks: int
    models: tuple[Model, ...]
    """Those that stand in it; scenery of its blocks, or left from one, is left out."""
    notes: RankNotes

    @property
    def model_ids(self) -> list[int]:
        """Their ids, by number."""
        return [model.id for model in self.models]

    @property
    def now(self) -> tuple[Placed, ...]:
        """The order it stands in."""
        return present(self.files, self.ranks, self.model_ids, self.notes)

    def board(self, trust: float = 1.0, notes: RankNotes | None = None) -> Board:
        """The placing puzzle at a trust in claims that nobody checked."""
        return make_board(
            self.files, self.ranks, self.base, self.unit.base, self.model_ids, notes or self.notes,
            trust=trust, now=self.now,
        )  # fmt: skip


def ranks(desk: Desk, unit: str, *, army: str | None = None) -> RankAnswer:
    """The unit in its present order: which joints clash by what was measured and checked."""
    it = seen(desk, unit, army)
    board = it.board()
    return _answer(it, board, score(board, it.now))._replace(is_plan=False)


def plan_ranks(
    desk: Desk, unit: str, *, army: str | None = None, seed: int = 0, first: First = "worst",
    thorough: bool = False,
) -> RankAnswer:  # fmt: skip
    """Who should stand where, and the least of swaps to get there.

    Where it clashes all the same: how much room would free it, and when `thorough`, which turns, stem or
    calm models would, which takes a few seconds more.
    """
    it = seen(desk, unit, army)
    now, board = it.now, it.board()
    best = plan(it.board, seed=seed, first=first, start=now)
    answer = _answer(it, board, best)._replace(swaps=swaps_between(now, best.placed), seed=seed)
    if best.status == "no clash":
        return answer
    if not thorough:
        return answer._replace(cures=room_cures(board, best))
    return answer._replace(cures=cures(board, best, it.notes, lambda notes: it.board(notes=notes), seed=seed))


def seen(desk: Desk, unit: str, army: str | None) -> Seen:
    """The unit and what is noted of its ranks; a `DataError` where it has no places."""
    with desk.open() as store:
        return see(store, unit, army)


def see(store: Store, unit: str, army: str | None) -> Seen:
    """The same from an open log, a change not yet closed included."""
    known = the_unit(store, unit, army)
    records, notes = unit_records(store, known.id), rank_notes(store, known.id)
    it = records.units[0]
    files, ranks, base = places_said(it)
    models = standing_models(records, it, notes)
    return Seen(it, known.army, base, files, ranks, models, notes)


def _answer(it: Seen, board: Board, found: Plan) -> RankAnswer:
    """The order with the names of its models."""
    known = {one.model_id: one for one in it.notes.models}
    models = tuple(_ranked(model, known.get(model.id), model.id in board.measured) for model in it.models)
    return RankAnswer(
        it.army, it.unit.name, it.files, it.ranks, it.unit.base, (it.base.width_mm, it.base.depth_mm),
        it.notes.rules, models, it.notes.blocks, found.placed, found.bench, found.joints,
        found.all_joints, found.status, found.worst_mm, found.total_mm, found.at_least_mm,
        front_mm=found.front_mm, overhangs=found.overhangs, trust=found.trust,
        checks=len(it.notes.checks), doubts=_doubts(it, board, found),
    )  # fmt: skip


def _ranked(model: Model, known: RankModel | None, measured: bool) -> RankedModel:
    reach = reach_text(known.reach) if known and known.reach and measured else ""
    held, turns = (bool(known.place), known.turns) if known else (False, "")
    return RankedModel(model.id, model.number, model.name, measured, held, reach, turns)


def _doubts(it: Seen, board: Board, found: Plan) -> tuple[Doubt, ...]:
    """Reasons not to lean on it, and when measuring on is not worth it."""
    out = []
    turns = {one.turns or it.notes.rules.turns for one in it.notes.models} | {it.notes.rules.turns}
    if turns == {"front"} and len(it.models) >= _MANY and len(board.measured) < len(it.models):
        out.append(Doubt("not worth measuring", NOT_WORTH))
    if board.stale:
        many = len(board.stale)
        models = "1 model was" if many == 1 else f"{many} models were"
        out.append(Doubt("other base", f"{models} measured on another base; these figures are not used."))
    if found.bench:
        held = sum(block.models for block in it.notes.blocks if block.kind == "multi-base")
        many = len(found.bench)
        said = "1 model has no place" if many == 1 else f"{many} models have no place"
        more = f", {min(held, many)} of them on a shared base" if held else ""
        out.append(Doubt("no place", f"{said}{more}."))
    return tuple(out)
