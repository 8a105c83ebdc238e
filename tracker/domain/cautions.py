"""The usual caution for each hazard, in one line; label, data sheet and local rules come first.

General caution only, after public guidance: CDC "Lead in jobs, hobbies, or other activities"; NIOSH
and WHO/IPCS CICAD 36 on cyanoacrylate; HSE RR79 on epoxy; CPSC publication 5015 on art and craft
materials; HSE EH44 on dust; NIOSH on 3D printing; EPA and CPSC 5059 on strippers; CPSC on magnets.
"""

from __future__ import annotations

_DEFER = "see the label and safety data sheet and follow local rules."

CAUTIONS: dict[str, str] = {
    "lead": "Old metal castings may hold lead: wet the part, no food or drink at the desk, "
    f"wash hands after; {_DEFER}",
    "glue": f"Glue: super glue bonds skin and eyelids, cement vapour burns; air the room; {_DEFER}",
    "epoxy": f"Uncured epoxy can make skin sensitive for life: gloves or wet tools; {_DEFER}",
    "sprays": f"Sprays: outdoors or with real extraction, no flame or spark near; {_DEFER}",
    "solvents": f"Solvents: air the room, no flame, keep off skin; {_DEFER}",
    "dust": f"Sanding dust: sand wet, wear a mask, wipe up wet; {_DEFER}",
    "resin": f"Uncured printing resin irritates and sensitises: gloves, eyes covered; {_DEFER}",
    "blades": f"Blades and drills: cut away from you, other hand out of the path; {_DEFER}",
    "strippers": f"Paint strippers: air, gloves, goggles; never mix them; {_DEFER}",
    "magnets": f"Small magnets: dangerous if swallowed; count them, keep from children; {_DEFER}",
}

MATERIAL_CAUTIONS: dict[str, tuple[str, ...]] = {
    "metal": ("lead",),
    "mixed": ("lead",),
    "resin": ("dust",),
    "printed": ("resin", "dust"),
}
