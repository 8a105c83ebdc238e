"""How a unit stands shoulder to shoulder: what a ruler says of each model, blocks, places, checks.

Files are columns, counted from the unit's left as it looks to the front and lettered A, B, C …; ranks are
rows, 1 = the front. The place of file 2 in the front rank is "B1". Edges go round clockwise as seen from
above: front, right, back, left. A turn is clockwise too: turned by 90, a model's own front looks right.
"""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

Edge = Literal["front", "right", "back", "left"]
EDGES: tuple[Edge, ...] = ("front", "right", "back", "left")
"""Clockwise, as seen from above."""
TURNS: dict[str, tuple[int, ...]] = {"front": (0,), "half": (0, 180), "any": (0, 90, 180, 270)}
"""How a model may be turned on its place, by the word for it; "any" is "half" on an oblong base."""
USUAL_CUTS_MM = (14, 26)
"""Heights above the base at which the usual three bands part: low, middle, high."""
USUAL_MARGIN_MM = 1.0
"""Added to every claim of a ruler, whose readings are off by about 0.7 mm."""
MODELS_MOST = 200
"""A unit with more models than this is not planned."""
FILES_MOST = 100


class Reach(NamedTuple):
    """Whole mm that a model reaches past each edge of its base, one number per height band from the base up.

    6 = pokes 6 mm past the edge, -4 = stops 4 mm inside, None = nothing there. One band means all heights.
    """

    front: tuple[int | None, ...]
    right: tuple[int | None, ...]
    back: tuple[int | None, ...]
    left: tuple[int | None, ...]


class RankModel(NamedTuple):
    """What is known of one model for its place in the ranks."""

    model_id: int
    reach: Reach | None = None
    """As measured, seen from the model's own front; None = not measured."""
    base: str = ""
    """The base it was measured on, in the person's words."""
    cuts_mm: tuple[int, ...] = ()
    """Where the bands it was measured in part; none = one band."""
    turns: str = ""
    """"front", "half" or "any"; empty = as its unit's."""
    stems_mm: tuple[int, ...] = ()
    """A flyer's stem may be so high, measured from that of its reach (0); none = it has no choice."""
    place: str = ""
    """"B1", "rank 1"; empty = anywhere."""
    measured_on: date | None = None


class RankRules(NamedTuple):
    """How a unit is to be ranked."""

    cuts_mm: tuple[int, ...] = USUAL_CUTS_MM
    gap_mm: float = 0.0
    """Spare room at every joint."""
    margin_mm: float = USUAL_MARGIN_MM
    turns: str = "front"
    front_most_mm: int | None = None
    """So much may reach past the unit's front edge; none = any."""
    least_models: int | None = None
    """Minimum model count an event asks for, as the person typed it."""
    least_percent: float | None = None
    """The same as a share of the places."""


class Block(NamedTuple):
    """A larger base on several places of the unit."""

    id: int
    kind: Literal["filler", "large model", "multi-base"]
    file: int
    """Of its front left place, 1 = the unit's left."""
    rank: int
    """Of its front left place, 1 = the front."""
    files: int
    """Places it takes side by side."""
    ranks: int
    """Places it takes from front to back."""
    models: int = 0
    """Models it holds: 0 on a filler, 1 for a large model."""
    model_id: int | None = None
    """The model that stands for it in the unit's sheet, with its own steps."""
    name: str = ""


class Placed(NamedTuple):
    """Where a model stands."""

    model_id: int
    file: int
    rank: int
    turn: int = 0
    """Degrees clockwise: 0, 90, 180, 270."""
    stem_mm: int = 0

    @property
    def place(self) -> str:
        """As in "B1"."""
        return place_name(self.file, self.rank)


class Check(NamedTuple):
    """Two models dry-fitted edge to edge: 0 = they fit, else the mm by which they clash.

    The edges are each model's own, so that the check holds wherever the two meet again. The lower model id
    stands first.
    """

    first: int
    first_edge: Edge
    second: int
    second_edge: Edge
    mm: float
    first_stem_mm: int = 0
    second_stem_mm: int = 0
    checked_on: date | None = None
    base: str = ""
    """The base both stood on, in the person's words: on another one it says nothing."""


class RankNotes(NamedTuple):
    """All that is stored of a unit's ranks."""

    rules: RankRules = RankRules()
    models: tuple[RankModel, ...] = ()
    blocks: tuple[Block, ...] = ()
    placed: tuple[Placed, ...] = ()
    """The order the unit has now, as far as it was said; models without a place follow by number."""
    checks: tuple[Check, ...] = ()


def place_name(file: int, rank: int) -> str:
    """The name of a place: files A to Z, then AA, AB …; "B1" is file 2 of the front rank."""
    letters = ""
    while file > 0:
        file, letter = divmod(file - 1, 26)
        letters = chr(ord("A") + letter) + letters
    return f"{letters}{rank}"


def own_edge(side: Edge, turn: int) -> Edge:
    """Which of its own edges a model turned by so many degrees has on that side of its place."""
    return EDGES[(EDGES.index(side) - turn // 90) % 4]


def canonical(check: Check) -> Check:
    """The check with the lower model id first."""
    if check.first <= check.second:
        return check
    return check._replace(
        first=check.second, first_edge=check.second_edge, first_stem_mm=check.second_stem_mm,
        second=check.first, second_edge=check.first_edge, second_stem_mm=check.first_stem_mm,
    )  # fmt: skip
