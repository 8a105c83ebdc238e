"""`lastcoat ranks`: how a unit stands shoulder to shoulder; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "size": ("sizes", "Footprint and tray, in mm and inches."),
    "fit": ("sizes", "What fits on a tray you have."),
    "saves": ("sizes", "What fillers would save, under a minimum model count."),
    "set": ("say", "Files, ranks, base, spare room, turns, minimum model count."),
    "measure": ("say", "What a ruler says of models: mm past or short of each edge."),
    "turns": ("say", "How models may be turned, and how high their stems may be."),
    "hold": ("say", "Models keep a place, or the front rank."),
    "show": ("look", "The unit as it stands, with the joints that clash."),
    "plan": ("look", "The order with no clash, or the least; what to dry-fit."),
    "check": ("look", "Joints you dry-fitted: fits, or the mm; then a new plan."),
    "put": ("say", "A model stands at a place from now on."),
    "filler": ("blocks", "Scenery on a larger base takes several places."),
    "large": ("blocks", "A model on a larger base takes several places."),
    "shared": ("blocks", "One base holds several models, fewer than its places."),
    "clear": ("blocks", "A filler or another larger base goes."),
    "sheet": ("sheet", "The plan at true scale, to print or as SVG."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "How a unit stands shoulder to shoulder: bases, trays, fillers, and who stands where.",
        "lastcoat ranks size --files 5 --ranks 4 --base 20x20",
        'lastcoat ranks measure Spears 3 "6 -4 0 2"',
        "lastcoat ranks plan Spears",
        "lastcoat ranks check Spears B1-C1 fits C2-C3 2",
    ),
)
