"""Short words for units in tests: models by their reaches, planned as a whole."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from tracker.domain.bases import Base
from tracker.domain.ranks import Check, Placed, RankModel, RankNotes, RankRules, Reach
from tracker.ranking.board import Board, make_board
from tracker.ranking.plan import Plan, plan, present, score

CALM = -5
SQUARE = Base("rectangle", 20, 20)
OBLONG = Base("rectangle", 25, 50)


def reach(left: int | None, right: int | None, front: int | None = CALM, back: int | None = CALM) -> Reach:
    """One band."""
    return Reach((front,), (right,), (back,), (left,))


class Unit:
    """A unit of models 1, 2, 3 … on one kind of base."""

    def __init__(
        self, files: int, ranks: int, models: Sequence[Reach | RankModel | None],
        rules: RankRules | None = None, *, base: Base = SQUARE, placed: Sequence[Placed] = (),
        checks: Sequence[Check] = (),
    ) -> None:  # fmt: skip
        self.files, self.ranks, self.base = files, ranks, base
        self.text = f"{base.width_mm:g}x{base.depth_mm:g}"
        rules = rules or RankRules(cuts_mm=(), margin_mm=0)
        notes = tuple(
            one._replace(model_id=number, base=one.base or self.text)
            if isinstance(one, RankModel)
            else RankModel(
                number, one, self.text if one else "", rules.cuts_mm if one and len(one.front) > 1 else ()
            )
            for number, one in enumerate(models, start=1)
        )
        self.ids = list(range(1, len(models) + 1))
        self.notes = RankNotes(rules, notes, placed=tuple(placed), checks=tuple(checks))

    @property
    def now(self) -> tuple[Placed, ...]:
        """The order it stands in."""
        return present(self.files, self.ranks, self.ids, self.notes)

    def board(self, trust: float = 1.0) -> Board:
        """Its puzzle."""
        return make_board(
            self.files, self.ranks, self.base, self.text, self.ids, self.notes, trust=trust, now=self.now
        )

    def plan(self, seed: int = 0) -> Plan:
        """The plan."""
        return plan(self.board, seed=seed, start=self.now)

    def score(self, placed: Sequence[Placed] | None = None) -> Plan:
        """The present order, or this one."""
        return score(self.board(), self.now if placed is None else placed)

    def row(self, *order: int, turns: Sequence[int] = ()) -> Plan:
        """The front rank in this order."""
        turned = turns or (0,) * len(order)
        return self.score([Placed(model, file, 1, turn) for file, (model, turn) in
                           enumerate(zip(order, turned, strict=True), start=1)])  # fmt: skip


def random_reach(random: Random, low: int = -9, high: int = 6, bands: int = 1) -> Reach:
    """A reach nobody selected; now and then nothing is there."""

    def column() -> tuple[int | None, ...]:
        return tuple(None if random.random() < 0.1 else random.randint(low, high) for _ in range(bands))

    return Reach(column(), column(), column(), column())
