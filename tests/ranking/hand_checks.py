"""A unit of invented figures is measured, planned, and its doubtful joints are tried by hand, over and over.

What a person does here is simulated: the ruler of `solids` measures the figures, the program plans, the
hands find at a flagged joint what the solids say, and the program plans again.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import product
from typing import NamedTuple

import numpy as np

from tests.ranking.solids import (
    Figure,
    Floats,
    Profile,
    clash_mm,
    draw_figure,
    profile_of,
    ruler,
    truth_of,
    turned_figure,
)
from tracker.domain.answers_ranks import Joint
from tracker.domain.bases import Base
from tracker.domain.ranks import (
    EDGES,
    TURNS,
    USUAL_CUTS_MM,
    USUAL_MARGIN_MM,
    Check,
    Edge,
    Placed,
    RankModel,
    RankNotes,
    RankRules,
    canonical,
    own_edge,
)
from tracker.ranking.board import Board, make_board
from tracker.ranking.plan import Plan, plan
from tracker.ranking.puzzle import UM_PER_MM, Link, Puzzle, Table
from tracker.ranking.solve import solve

FREE_MM = 0.05
"""Less than a sheet of paper: no hand finds it, so it is no clash."""
Standing = tuple[tuple[int, int], ...]
"""(figure, turn) in every place, rank by rank from the front, from the left."""
Pair = tuple[int, int, bool]
"""(place, place, whether side by side); else the second stands behind the first."""


class Company(NamedTuple):
    """A unit of figures, and what is true of it. Figure i is model i + 1."""

    files: int
    ranks: int
    base_mm: float
    figures: tuple[Figure, ...]
    profiles: tuple[Profile, ...]
    truth: Floats
    turns: str

    @property
    def pairs(self) -> tuple[Pair, ...]:
        """Every joint of the unit."""
        places = range(self.files * self.ranks)
        beside = [(place, place + 1, True) for place in places if (place + 1) % self.files]
        behind = [(place, place + self.files, False) for place in places[: -self.files]]
        return (*beside, *behind)


def muster(seed: int, files: int, ranks: int, base_mm: float = 20, turns: str = "front") -> Company:
    """A unit of figures that nobody selected, as many as there are places."""
    rng = np.random.default_rng(seed)
    figures = tuple(draw_figure(rng, base_mm) for _ in range(files * ranks))
    profiles = tuple(profile_of(figure, base_mm) for figure in figures)
    return Company(files, ranks, base_mm, figures, profiles, truth_of(profiles), turns)


def facing_edges(turn: int, other_turn: int, beside: bool) -> tuple[Edge, Edge]:
    """The own edges with which two turned neighbours meet."""
    if beside:
        return own_edge("right", turn), own_edge("left", other_turn)
    return own_edge("back", turn), own_edge("front", other_turn)


def true_clashes(company: Company, standing: Sequence[tuple[int, int]]) -> list[float]:
    """What truly clashes at each joint, in mm."""
    found = []
    for first, second, beside in company.pairs:
        (figure, turn), (other, other_turn) = standing[first], standing[second]
        edge, other_edge = facing_edges(turn, other_turn, beside)
        mm = clash_mm(company.truth, figure, edge, other, other_edge)
        found.append(mm if mm > FREE_MM else 0.0)
    return found


def measured(
    company: Company,
    cuts_mm: tuple[int, ...] = USUAL_CUTS_MM,
    margin_mm: float = USUAL_MARGIN_MM,
    reading: np.random.Generator | None = None,
) -> RankNotes:
    """What is noted of the unit once every figure was measured; no cuts are four numbers, two are twelve."""
    base = f"{company.base_mm:g}x{company.base_mm:g}"
    models = tuple(
        RankModel(index + 1, ruler(profile, cuts_mm, reading), base, cuts_mm)
        for index, profile in enumerate(company.profiles)
    )
    return RankNotes(RankRules(cuts_mm=cuts_mm, margin_mm=margin_mm, turns=company.turns), models)


class Stage(NamedTuple):
    """A plan made from some checks, as the solids judge it."""

    notes: RankNotes
    """What the plan goes by."""
    plan: Plan
    standing: Standing
    clashing: int
    worst_mm: float

    @property
    def checks(self) -> int:
        """Joints that were tried by hand before."""
        return len(self.notes.checks)


def hand_check_loop(
    company: Company, notes: RankNotes, checks: int, *, at_once: int = 1, seed: int = 0
) -> list[Stage]:
    """Plan, try the worst flagged joints by hand, note what was found, plan again; every plan is a stage.

    It ends with the checks, or when no flagged joint is untried: the unit is free, or all that clashes is
    known.
    """
    stages: list[Stage] = []
    while True:
        best = plan(partial(board_of, company, notes), seed=seed)
        standing = standing_of(company, best.placed)
        clashes = true_clashes(company, standing)
        stages.append(Stage(notes, best, standing, sum(mm > 0 for mm in clashes), max(clashes, default=0.0)))
        doubtful = [joint for joint in best.joints if not joint.checked]
        room = min(at_once, checks - len(notes.checks))
        if not doubtful or room <= 0:
            return stages
        tried = tuple(dry_fit(company, joint) for joint in doubtful[:room])
        notes = notes._replace(checks=notes.checks + tried)


def board_of(company: Company, notes: RankNotes, trust: float = 1.0) -> Board:
    """The program's puzzle of the unit by what is noted."""
    side = company.base_mm
    ids = range(1, len(company.profiles) + 1)
    return make_board(
        company.files,
        company.ranks,
        Base("rectangle", side, side),
        f"{side:g}x{side:g}",
        ids,
        notes,
        trust=trust,
    )


def standing_of(company: Company, placed: Sequence[Placed]) -> Standing:
    """The figures and turns of a plan, place by place."""
    at = {(one.rank, one.file): (one.model_id - 1, one.turn) for one in placed}
    return tuple(at[place] for place in product(range(1, company.ranks + 1), range(1, company.files + 1)))


def dry_fit(company: Company, joint: Joint) -> Check:
    """What hands find at a joint: the true mm to a tenth, 0 when the two fit."""
    mm = clash_mm(company.truth, joint.first - 1, joint.first_edge, joint.second - 1, joint.second_edge)
    found = max(0.1, round(mm, 1)) if mm > FREE_MM else 0.0
    return canonical(Check(joint.first, joint.first_edge, joint.second, joint.second_edge, found))


def after(stages: Sequence[Stage], checks: int) -> Stage:
    """The last plan that so many checks pay for."""
    return [stage for stage in stages if stage.checks <= checks][-1]


def shares(loops: Sequence[Sequence[Stage]], checks: Sequence[int], upto_mm: float = 0.0) -> list[float]:
    """Share of units without a true clash above so many mm, after each number of checks."""
    return [
        float(np.mean([after(stages, count).worst_mm <= upto_mm for stages in loops])) for count in checks
    ]


def corner_mm(company: Company, standing: Sequence[tuple[int, int]]) -> float:
    """How deep balls of two figures run into each other over a corner, at the worst; 0 if they do not."""
    balls = [_as_they_stand(company, *one) for one in standing]
    worst = 0.0
    for place, sideways in product(range(len(standing) - company.files), (-1, 1)):
        if 0 <= place % company.files + sideways < company.files:
            mine, yours = balls[place], balls[place + company.files + sideways]
            shift = np.array([sideways, -1, 0]) * company.base_mm
            apart = np.linalg.norm(mine[:, None, :3] - yours[None, :, :3] - shift, axis=2)
            worst = max(worst, float((mine[:, None, 3] + yours[None, :, 3] - apart).max()))
    return worst


def _as_they_stand(company: Company, figure: int, turn: int) -> Floats:
    """(balls, x y z and radius) of a turned figure."""
    parts = turned_figure(company.figures[figure], turn)
    return np.concatenate([np.insert(part.middles, 3, part.radius, axis=1) for part in parts])


def best_by_truth(company: Company, *, seed: int = 0) -> list[float]:
    """The clashes left when the program knows the solids themselves: what no measuring can better."""
    turns = TURNS[company.turns]
    states = tuple(product(range(len(company.profiles)), range(len(turns))))
    cells = len(company.profiles)
    links = tuple(Link(first, second, 0 if beside else 1) for first, second, beside in company.pairs)
    tables = tuple(_true_table(company, states, turns, beside) for beside in (True, False))
    plain = tuple((0,) * len(states) for _ in range(cells))
    found = solve(Puzzle(states, cells, links, tables, (None,) * cells, plain), seed=seed)
    return true_clashes(company, [(states[s][0], turns[states[s][1]]) for s in found.arrangement])


def _true_table(
    company: Company, states: Sequence[tuple[int, int]], turns: Sequence[int], beside: bool
) -> Table:
    side, other_side = facing_edges(0, 0, beside)
    mine = [4 * figure + EDGES.index(own_edge(side, turns[pose])) for figure, pose in states]
    yours = [4 * figure + EDGES.index(own_edge(other_side, turns[pose])) for figure, pose in states]
    count = 4 * len(company.profiles)
    mm = company.truth.reshape(count, count)[np.ix_(mine, yours)]
    table: list[list[int]] = np.where(mm > FREE_MM, np.ceil(mm * UM_PER_MM), 0).astype(int).tolist()
    return table


def swap_by_hand(company: Company, tries: int, rng: np.random.Generator) -> list[float]:
    """The clashes left after so many swaps tried with the models themselves, by an orderly person.

    From a chance order: takes the model that clashes most, tries it in every other place (and turned, where
    turns are allowed), keeps the best try, and goes on to the next worst when none helps. Each try looks at
    up to eight joints. Stops when nothing helps.
    """
    standing = [(int(figure), 0) for figure in rng.permutation(len(company.profiles))]
    left = tries
    while True:
        clashes = true_clashes(company, standing)
        better, left = _one_round(company, standing, clashes, left)
        if better is None or left <= 0:
            return clashes if better is None else true_clashes(company, better)
        standing = better


def _one_round(
    company: Company, standing: Sequence[tuple[int, int]], clashes: Sequence[float], left: int
) -> tuple[list[tuple[int, int]] | None, int]:
    """The best try with the worst model that any try helps, and the tries left over."""
    now = sum(clashes)
    for place in _worst_first(company, clashes):
        best, best_mm = None, now - 1e-9
        for option in _options(company, standing, place):
            if left <= 0:
                break
            left -= 1
            mm = sum(true_clashes(company, option))
            if mm < best_mm:
                best, best_mm = option, mm
        if best is not None or left <= 0:
            return best, left
    return None, left


def _worst_first(company: Company, clashes: Sequence[float]) -> list[int]:
    mine = dict.fromkeys(range(len(company.profiles)), 0.0)
    for (first, second, _), mm in zip(company.pairs, clashes, strict=True):
        mine[first] += mm
        mine[second] += mm
    return sorted((place for place, mm in mine.items() if mm > 0), key=lambda place: -mine[place])


def _options(
    company: Company, standing: Sequence[tuple[int, int]], place: int
) -> list[list[tuple[int, int]]]:
    figure, turn = standing[place]
    options = []
    for other_turn in TURNS[company.turns]:
        if other_turn != turn:
            options.append([*standing])
            options[-1][place] = (figure, other_turn)
    for other in range(len(standing)):
        if other != place:
            options.append([*standing])
            options[-1][place], options[-1][other] = standing[other], standing[place]
    return options
