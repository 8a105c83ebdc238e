"""The usual caution for each hazard, in one line; label, data sheet and local rules come first.

A line names the hazard and one action, and defers. No doses, no cures, no medical advice.
"""

from __future__ import annotations

from typing import NamedTuple


class Caution(NamedTuple):
    """A hazard, the line that is said of it, and whose public guidance it follows."""

    hazard: str
    line: str
    source: str


_DEFER = "see the label and safety data sheet and follow local rules."
_ALL = (
    Caution(
        "lead", f"Old metal castings may hold lead: wash your hands with soap before you eat; {_DEFER}",
        'CDC, "Lead in jobs, hobbies, or other activities"; State of Michigan, lead in hobbies',
    ),
    Caution(
        "melting metal",
        f"Melting metal brings fumes and burns and is not covered here: find guidance of its own; {_DEFER}",
        'CDC, "Lead in jobs, hobbies, or other activities"',
    ),
    Caution(
        "super glue", f"Super glue bonds skin and eyelids, and its vapour irritates: air the room; {_DEFER}",
        "NIOSH on methyl cyanoacrylate; WHO/IPCS CICAD 36",
    ),
    Caution(
        "epoxy", f"Uncured epoxy can make skin sensitive for life: wear gloves that suit it; {_DEFER}",
        "HSE RR79; EU-OSHA on epoxy",
    ),
    Caution(
        "sprays", f"Spray mist burns and is bad to breathe: spray outdoors, away from any flame; {_DEFER}",
        "CPSC publication 5015; New Zealand EPA on aerosols",
    ),
    Caution(
        "solvents", f"Solvent vapour burns and harms nerves: open the windows, far from any flame; {_DEFER}",
        "CPSC publication 5015; NIOSH Current Intelligence Bulletin 48",
    ),
    Caution(
        "cement", f"Polystyrene cement gives off vapour that burns: keep every flame away; {_DEFER}",
        "CPSC publication 5015",
    ),
    Caution("dust", f"Fine dust harms the lungs: sand and saw wet; {_DEFER}", "HSE EH44"),
    Caution(
        "uncured prints",
        f"Uncured printing resin irritates and can sensitise: wear gloves, eyes covered; {_DEFER}",
        "NIOSH on 3D printing, guide and study of 2022",
    ),
    Caution(
        "blades", f"Blades and drills slip: cut away from you and your other hand; {_DEFER}",
        "US Bureau of Labor Statistics on injuries of the hand",
    ),
    Caution(
        "strippers", f"Paint strippers hurt skin, eyes and lungs: work outdoors in proper gloves; {_DEFER}",
        "EPA; CPSC document 5059",
    ),
    Caution(
        "old paint", f"Old paint may hold lead: keep it wet while it comes off; {_DEFER}",
        "EPA; CPSC document 5059",
    ),
    Caution(
        "magnets", f"Swallowed magnets do grave harm: count them, away from children and pets; {_DEFER}",
        "CPSC on small magnets",
    ),
    Caution(
        "body", f"Long sittings hurt back and eyes: take breaks, never drive tired; for the rest {_DEFER}",
        "common practice, no source",
    ),
)  # fmt: skip

CAUTIONS: dict[str, Caution] = {caution.hazard: caution for caution in _ALL}
GENERAL = ("melting metal", "body")
"""Hazards that belong to no step and no material; they stand in the list and are never pushed."""
LEAD = "lead"
