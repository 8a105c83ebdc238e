"""What lies in the invented person's drawers, and the roles that wait for some of it.

For each role one spare was planted that suits it best: by its base first, then by height, equipment and
kind. All the others miss in something.
"""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from demo_db.army import LAST_DAY, MUSTER
from tracker.domain.rows_spares import RoleRow, SpareRow

ROLES: tuple[RoleRow, ...] = (
    RoleRow("Mill Spears", "Mistress of the Sails", MUSTER, "character", "25x25", 32, ("sail", "whip")),
    RoleRow("Mill Spears", "Sack Bearer", MUSTER, "infantry", "20x20", 28, ("sack", "standard")),
    RoleRow("Ferry Riders", "Horn of the Ferry", MUSTER, "cavalry", "25x50", 46, ("horn", "lantern")),
    RoleRow("Weir Keepers", "Eel Warden", MUSTER, "infantry", "20x20", 27, ("trident", "net")),
    RoleRow("Quarry Hands", "Old Wedge", MUSTER, "large infantry", "40x40", 52, ("maul",)),
    RoleRow("Beekeepers", "Queen's Drummer", MUSTER, "infantry", "20x20", 26, ("drum", "veil")),
)  # fmt: skip
_FILLING = 34
_STATES = ("bare", "built", "primed", "begun", "painted")
_PLACES = ("biscuit tin", "second drawer", "shoe box", "window sill")
_MATERIALS = ("plastic", "metal", "resin")
_BASES = ("20x20", "25x25", "25x50", "40x40", "25 round", "32 round", "50x100", "")
_THINGS = ("spear", "shield", "bow", "sack", "net", "veil", "lantern", "rake", "hat", "scythe")
_NAMES = {
    "infantry": ("miller", "ferryman", "beekeeper", "fair guard"),
    "cavalry": ("ferry rider", "toll rider"),
    "large infantry": ("quarry hand", "bog lump"),
    "character": ("reeve's cousin", "toll knight"),
}


class Drawers(NamedTuple):
    """Spares, roles, and which spare was planted for which."""

    spares: tuple[SpareRow, ...]
    roles: tuple[RoleRow, ...]
    planted: dict[str, int]
    """Number of the best spare by the name of its role."""


def drawers(seed: int) -> Drawers:
    """Six roles and forty spares; the same seed gives the same."""
    random = Random(f"drawers {seed}")  # noqa: S311 - no secret
    made = [(_planted(role, random), role.role) for role in ROLES]
    made += [(_filling(random), "") for _ in range(_FILLING)]
    random.shuffle(made)
    numbered = [(spare._replace(number=number), role) for number, (spare, role) in enumerate(made, 1)]
    planted = {role: spare.number or 0 for spare, role in numbered if role}
    return Drawers(tuple(spare for spare, _ in numbered), ROLES, planted)


def _planted(role: RoleRow, random: Random) -> SpareRow:
    """A spare with the role's base, kind and equipment, within 1 mm of its height."""
    height = (role.height_mm or 28) + random.choice((-1, 0, 1))
    return _kept(SpareRow(kind=role.kind, base=role.base, height_mm=height, tags=role.tags), random)


def _filling(random: Random) -> SpareRow:
    """Any spare; it has not all the equipment that some role asks for."""
    kind = random.choice(tuple(_NAMES))
    things = tuple(random.sample(_THINGS, random.randint(0, 3)))
    height = None if random.random() < 0.2 else float(random.randint(24, 55))
    spare = SpareRow(kind=kind, base=random.choice(_BASES), height_mm=height, tags=things)
    return _kept(spare, random)


def _kept(spare: SpareRow, random: Random) -> SpareRow:
    """What does not matter for a role: its name, material, state and place."""
    return spare._replace(
        name=random.choice(_NAMES[spare.kind]),
        material=random.choice(_MATERIALS),
        state=random.choice(_STATES),
        place=random.choice(_PLACES),
        added=LAST_DAY,
    )
