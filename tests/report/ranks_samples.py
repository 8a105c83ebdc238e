"""A made-up unit's ranks: clashes found and claimed, a filler, a turned model, one on the bench."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers import Doubt
from tracker.domain.answers_ranks import (
    Cures,
    FillerAnswer,
    FitAnswer,
    Joint,
    Overhang,
    RankAnswer,
    RankedModel,
    SizeAnswer,
    Swap,
    TraySize,
)
from tracker.domain.ranks import Block, Placed, RankRules

NAMES = ("Ostred", "", "Wen", "the captain", "", "Brannoch of the long road", "", "", "", "")
FILLER = Block(1, "filler", 2, 2, 2, 2, name="well and cart")
JOINTS = (
    Joint(1, "A1", "right", 2, "B1", "left", 6.0, checked=False),
    Joint(3, "C1", "right", 4, "D1", "front", 2.5, checked=True),
    Joint(6, "A2", "back", 7, "A3", "front", 3.0, checked=False, beside=False),
)


def ranks(names: Sequence[str] = NAMES, unit: str = "Spears", **other: object) -> RankAnswer:
    """4 files by 3 ranks on 20 mm squares: 9 models and a filler on 2 x 2 places fill all but C1's rear."""
    models = tuple(
        RankedModel(i, i, name, measured=i not in (5, 8, 9), held=i == 4)
        for i, name in enumerate(names, start=1)
    )
    places = [(1, 1), (2, 1), (3, 1), (4, 1), (4, 2), (1, 2), (1, 3)]
    placed = tuple(
        Placed(i, file, rank, turn=90 if i == 4 else 180 if i == 7 else 0)
        for i, (file, rank) in enumerate(places, start=1)
    )
    answer = RankAnswer(
        "The long road", unit, 4, 3, "20x20", (20.0, 20.0), RankRules(), models, (FILLER,), placed,
        (8, 9, 10), JOINTS, 13, "best found", 6.0, 11.5, 4.0, front_mm=4,
        overhangs=(
            Overhang("B1", "front", 4), Overhang("A2", "left", 12), Overhang("D2", "right", 3),
            Overhang("A3", "back", 2),
        ),
    )  # fmt: skip
    return answer._replace(**other)  # type: ignore[arg-type]


def planned() -> RankAnswer:
    """The same as a plan that leaves some clash, with swaps and cures."""
    swaps = (
        Swap("swap", 1, "A1", "C1", 3), Swap("turn", 4, "D1", turn=90), Swap("move", 5, "", "D2"),
        Swap("move", 8, "D2", ""), Swap("stem", 6, "A2", stem_mm=15),
    )  # fmt: skip
    cures = Cures(6.0, 8.5, 3.0, 6.0, 2, (1, 4), turns_help=True, stem_mm=15, blockers=(1, 2, 6))
    doubts = (Doubt("ranks_unmeasured", "3 models were not measured."),)
    return ranks(swaps=swaps, cures=cures, status="at least", is_plan=True, doubts=doubts)


def clear() -> RankAnswer:
    """No clash at all."""
    return ranks(joints=(), status="no clash", worst_mm=0.0, total_mm=0.0, at_least_mm=0.0)


SIZE = SizeAnswer(
    "Spears", 4, 3, "20x20", 12, 4, (80.0, 60.0),
    TraySize(((81.0, 61.0), (83.6, 63.2)), ((85.0, 65.0), (87.6, 67.2)), 2.0), 9,
    ("50 mm does not fill whole places of 20 mm: it takes 3, with 10 mm to spare.",),
    (("25x25", "2026-03-14"),),
)  # fmt: skip
FIT = FitAnswer((126.0, 101.0), "25x25", 5, 4, (1.0, 1.0))
FILLERS = FillerAnswer("Spears", "The long road", 20, (2, 2), 2, 12, 10, (2.1, 4.0, 7.5), 6)
