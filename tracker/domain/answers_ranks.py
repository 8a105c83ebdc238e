"""What is answered about a unit's ranks: sizes, the plan, joints in doubt, cures, what a filler saves."""

from __future__ import annotations

from typing import Literal, NamedTuple

from tracker.domain.answers import Doubt
from tracker.domain.ranks import Block, Edge, Placed, RankRules

Status = Literal["no clash", "proved best", "at least", "best found"]
"""No joint clashes; no plan is better; no plan is below `at_least_mm`; the best that was found."""


class Joint(NamedTuple):
    """Two neighbours of the plan, edge to edge. The first stands left of, or in front of, the second."""

    first: int
    first_place: str
    first_edge: Edge
    """Its own edge, as `Check` has it."""
    second: int
    second_place: str
    second_edge: Edge
    mm: float
    """Claimed clash, the measuring margin included; checked by hand: what was found."""
    checked: bool
    first_stem_mm: int = 0
    second_stem_mm: int = 0
    beside: bool = True
    """Side by side; else one behind the other."""


class Swap(NamedTuple):
    """One thing to do on the way from the present order to the plan."""

    act: Literal["swap", "move", "turn", "stem"]
    model_id: int
    place: str
    """Where it stands before."""
    to_place: str = ""
    other_id: int | None = None
    """The model it changes places with."""
    turn: int = 0
    """Degrees clockwise it stands at afterwards."""
    stem_mm: int = 0


class Cures(NamedTuple):
    """What would free a unit that does not stand without a clash."""

    gap_mm: float
    """One uniform gap at every joint: the worst clash."""
    wider_mm: float
    """Tray wider by so much, files kept straight."""
    deeper_mm: float
    slid_wider_mm: float
    """Tray wider by so much if each rank may slide by itself."""
    calm_models: int | None
    """Models to replace by a low filler, so many at the least that were found; None = none was found."""
    calm_ids: tuple[int, ...] = ()
    turns_help: bool = False
    """Whether turns that are not allowed would free it."""
    stem_mm: int | None = None
    """One more stem height that would free it."""
    blockers: tuple[int, ...] = ()
    """Models of which there are too few calm neighbours, by the proof."""


class RankedModel(NamedTuple):
    """A model as the plan shows it."""

    model_id: int
    number: int
    name: str
    measured: bool
    held: bool
    """It has a place of its own that the plan keeps."""
    reach: str = ""
    """As it is typed; empty = not measured, or not on this base."""
    turns: str = ""
    """How it may be turned, as `RankModel` has it; empty = as its unit."""


class Overhang(NamedTuple):
    """What a model reaches past the unit's outer edge."""

    place: str
    side: Edge
    """Of the place, not the model's own: "front" is the unit's front edge."""
    mm: int
    """Above 0."""


class RankAnswer(NamedTuple):
    """A unit's ranks: as it stands, or as planned."""

    army: str
    unit: str
    files: int
    ranks: int
    base: str
    cell_mm: tuple[float, float]
    """Width and depth of a place."""
    rules: RankRules
    models: tuple[RankedModel, ...]
    blocks: tuple[Block, ...]
    placed: tuple[Placed, ...]
    bench: tuple[int, ...]
    """Models that have no place."""
    joints: tuple[Joint, ...]
    """Joints that clash or are claimed to, worst first."""
    all_joints: int
    status: Status
    worst_mm: float
    total_mm: float
    at_least_mm: float
    """Total clash that no order avoids, by the measures."""
    swaps: tuple[Swap, ...] = ()
    cures: Cures | None = None
    front_mm: int = 0
    """The most that reaches past the front edge."""
    overhangs: tuple[Overhang, ...] = ()
    """Everything that reaches past an outer edge."""
    is_plan: bool = True
    """False: the order as it stands."""
    trust: float = 1.0
    """Share at which claims that were never checked still count."""
    checks: int = 0
    """Pairs of this unit that were checked by hand."""
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0

    @property
    def to_check(self) -> tuple[Joint, ...]:
        """Joints to dry-fit, worst first."""
        return tuple(joint for joint in self.joints if not joint.checked)


class TraySize(NamedTuple):
    """Inside and outside of a tray for a footprint, in mm, least and most."""

    inside_mm: tuple[tuple[float, float], tuple[float, float]]
    """(width, depth) at the least play and build-up, and at the most."""
    outside_mm: tuple[tuple[float, float], tuple[float, float]]
    wall_mm: float


class SizeAnswer(NamedTuple):
    """How much room a unit takes."""

    what: str
    """The unit's name, or the sizes as they were asked for."""
    files: int
    ranks: int
    base: str
    models: int
    last_rank: int
    """Models in the last rank."""
    footprint_mm: tuple[float, float]
    tray: TraySize
    min_models: int | None = None
    """Minimum model count under the typed rule."""
    warnings: tuple[str, ...] = ()
    earlier_bases: tuple[tuple[str, str], ...] = ()
    """(base, ISO day it was given up), oldest first."""
    staggered_mm: tuple[float, float] | None = None
    """The same for round bases whose ranks lie in each other's hollows; None for other bases."""


class FitAnswer(NamedTuple):
    """What fits on a given tray."""

    tray_mm: tuple[float, float]
    base: str
    files: int
    ranks: int
    spare_mm: tuple[float, float]
    """Room left in width and depth."""
    turned: bool = False
    """Whether oblong bases fit better lying across."""


class FillerAnswer(NamedTuple):
    """What blocks of one size would do for a unit under its minimum count."""

    unit: str
    army: str
    cells: int
    block: tuple[int, int]
    """Places of one block: files by ranks."""
    most_fillers: int
    """As many as the minimum count and the room behind an all-models front rank allow."""
    models_then: int
    """Models to build and paint with that many."""
    min_models: int
    saved_hours: tuple[float, float, float] | None
    """Of one filler, its own steps counted: 10 %, 50 %, 90 %; None = not known yet."""
    saved_days: int | None
    """By how many days one filler moves the middle of the table-ready dates (above 0: sooner)."""
    doubts: tuple[Doubt, ...] = ()
