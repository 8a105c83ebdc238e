"""Invented figures as solids on square bases: what truly clashes, and what a ruler says of it.

A figure is a body, two arms, what they hold, sometimes a cloak and a tail: capsules and thin plates, each
a row or a sheet of balls. Lengths are mm; x goes to the figure's right, y to its front, z up, the origin is
the middle of the base's top. None of it is measured on real models: proportions are guesses (no source),
set so that about a quarter of all pairs clash.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from tracker.domain.ranks import EDGES, USUAL_CUTS_MM, Edge, Reach

Floats = npt.NDArray[np.float64]
SIDEWAYS_MM = 36
"""Bins reach so far to either side of the middle; no figure reaches so far sideways."""
HIGHEST_MM = 64
NOTHING = -1000.0
"""Reach where there is nothing: it meets nobody."""
READING_SD_MM = 0.7
"""How far off a reading is (no source: a guess for a ruler held by hand)."""


class Balls(NamedTuple):
    """A part: balls of one radius so close that they make one solid."""

    middles: Floats
    """(balls, 3)."""
    radius: float


Figure = tuple[Balls, ...]
Profile = Floats
"""(4 edges, 2 * SIDEWAYS_MM, HIGHEST_MM): the furthest point past that edge in every bin of 1 mm by 1 mm;
sideways from left to right for one who stands on the base and looks out over the edge."""


def capsule(start: npt.ArrayLike, end: npt.ArrayLike, radius: float) -> Balls:
    """A rod with round ends."""
    tip, way = np.asarray(start, dtype=float), np.asarray(end, dtype=float) - np.asarray(start, dtype=float)
    count = 2 + math.ceil(float(np.linalg.norm(way)) / min(radius / 2, 1.0))
    return Balls(tip + np.linspace(0, 1, count)[:, None] * way, radius)


def plate(corner: npt.ArrayLike, along: npt.ArrayLike, up: npt.ArrayLike, radius: float = 0.8) -> Balls:
    """A sheet with round edges, spanned by two vectors from one corner."""
    sides = [np.asarray(side, dtype=float) for side in (along, up)]
    counts = [2 + int(np.linalg.norm(side)) for side in sides]
    s, t = np.meshgrid(np.linspace(0, 1, counts[0]), np.linspace(0, 1, counts[1]))
    return Balls(np.asarray(corner) + s.reshape(-1, 1) * sides[0] + t.reshape(-1, 1) * sides[1], radius)


def _towards(yaw: float, pitch: float) -> Floats:
    """A unit vector: yaw in degrees clockwise from the front, pitch in degrees upwards."""
    a, b = math.radians(yaw), math.radians(pitch)
    return np.array([math.sin(a) * math.cos(b), math.cos(a) * math.cos(b), math.sin(b)])


def _weapon(rng: np.random.Generator, hand: Floats, size: float) -> Balls:
    """A spear nearly upright or lowered, or something shorter held anyhow."""
    if rng.random() < 0.35:
        way = _towards(rng.normal(0, 40), rng.choice([85, 70, 30], p=[0.6, 0.28, 0.12]))
        length, butt = size * rng.uniform(28, 38), 0.45
    else:
        way = _towards(rng.normal(0, 70), rng.uniform(-20, 80))
        length, butt = size * rng.uniform(8, 15), 0.15
    foot = hand - way * length * butt
    foot[2] = max(foot[2], 1.0)
    return capsule(foot, foot + way * length, rng.uniform(0.7, 1.3))


def _shield(rng: np.random.Generator, hand: Floats, size: float) -> Balls:
    """A board in front of the hand, turned outwards a little."""
    yaw = math.radians(rng.normal(-20, 30))
    along = np.array([math.cos(yaw), -math.sin(yaw), 0.0]) * size * rng.uniform(8.5, 13.5)
    up = np.array([0.0, 0.0, size * rng.uniform(10, 16)])
    corner = hand - along / 2 - up / 2
    corner[2] = max(corner[2], 1.0)
    return plate(corner, along, up)


def _cloak(rng: np.random.Generator, size: float) -> Balls:
    """A cloth from the shoulders down and back."""
    width, fall, flare = size * rng.uniform(10, 17), size * rng.uniform(14, 19), size * rng.uniform(4, 10)
    top = np.array([-width / 2, -3.5 * size, 22 * size])
    return plate(top, [width, 0, 0], [rng.normal(0, 2.5), -flare, -fall])


def _tail(rng: np.random.Generator, size: float) -> list[Balls]:
    """Two lengths near the ground, backwards and to one side."""
    yaw = 180 + rng.normal(0, 35)
    root = np.array([0.0, -2.0, 9.0 * size])
    knee = root + _towards(yaw, -25) * size * rng.uniform(7, 11)
    tip = knee + _towards(yaw + rng.normal(0, 45), rng.uniform(-15, 25)) * size * rng.uniform(5, 10)
    knee[2], tip[2] = max(knee[2], 2.0), max(tip[2], 2.0)
    return [capsule(root, knee, 1.6), capsule(knee, tip, 1.1)]


def draw_figure(rng: np.random.Generator, base_mm: float = 20) -> Figure:
    """One invented figure for a square base of 20 or 25 mm."""
    size = 1.0 if base_mm <= 20 else 1.3
    x, y = rng.normal(0, 1.0), rng.normal(-0.7, 1.2)
    lean = rng.normal(0, 1.2, 2)
    hips = np.array([x, y, 12.0 * size])
    chest = np.array([x + lean[0], y + lean[1], 20.0 * size])
    parts = [
        capsule([x - 3 * size, y + rng.normal(0, 1.5), 2.2], hips, 2.2 * size),
        capsule([x + 3 * size, y + rng.normal(0, 1.5), 2.2], hips, 2.2 * size),
        capsule(hips, chest, 4.4 * size),
        capsule(chest + np.array([0, 0.5, 6.5 * size]), chest + np.array([0, 0.5, 7 * size]), 2.8 * size),
    ]
    shielded = rng.random() < 0.6
    for side in (1, -1):
        shoulder = chest + np.array([side * 4.5 * size, 0, 1.5 * size])
        hand = shoulder + _towards(rng.normal(side * 30, 35), rng.normal(-25, 30)) * size * rng.uniform(5, 9)
        parts.append(capsule(shoulder, hand, 1.6 * size))
        if side == 1:
            parts.append(_weapon(rng, hand, size))
        elif shielded:
            parts.append(_shield(rng, hand, size))
    if rng.random() < 0.4:
        parts.append(_cloak(rng, size))
    if rng.random() < 0.2:
        parts += _tail(rng, size)
    return tuple(parts)


def turned_figure(figure: Figure, turn: int) -> Figure:
    """The same figure, turned clockwise on its base by so many degrees."""
    a = math.radians(turn)
    spin = np.array([[math.cos(a), math.sin(a), 0], [-math.sin(a), math.cos(a), 0], [0, 0, 1]])
    return tuple(Balls(part.middles @ spin.T, part.radius) for part in figure)


def profile_of(figure: Figure, base_mm: float) -> Profile:
    """The furthest point past each edge in every bin; exact for balls, bin by bin.

    A ball at (out, along, z) of radius r fills a bin at distance d from its axis up to
    out + sqrt(r^2 - d^2), d being 0 in the bin that holds the axis.
    """
    profile = np.full((4, 2 * SIDEWAYS_MM, HIGHEST_MM), NOTHING)
    for part in figure:
        x, y, z = part.middles.T
        for edge, (out, along) in enumerate(((y, x), (x, -y), (-y, -x), (-x, y))):
            _fill(profile[edge], out - base_mm / 2, along + SIDEWAYS_MM, z, part.radius)
    return profile


def _fill(grid: Floats, out: Floats, along: Floats, z: Floats, radius: float) -> None:
    """Put balls of one radius into one edge's bins."""
    steps = np.arange(-math.ceil(radius), math.ceil(radius) + 1)
    bin_along = np.floor(along)[:, None] + steps
    bin_z = np.floor(z)[:, None] + steps
    off_along = np.maximum(0, np.maximum(bin_along - along[:, None], along[:, None] - bin_along - 1))
    off_z = np.maximum(0, np.maximum(bin_z - z[:, None], z[:, None] - bin_z - 1))
    left = radius**2 - off_along[:, :, None] ** 2 - off_z[:, None, :] ** 2
    ball, i, j = np.nonzero(left > 0)
    sideways, height = bin_along[ball, i].astype(int), bin_z[ball, j].astype(int)
    if sideways.min(initial=0) < 0 or sideways.max(initial=0) >= grid.shape[0]:
        raise ValueError("the figure is wider than the bins")
    # What is below the top of the base, or above the bins, counts with the nearest bin.
    height = np.clip(height, 0, grid.shape[1] - 1)
    np.maximum.at(grid, (sideways, height), out[ball] + np.sqrt(left[ball, i, j]))


def truth_of(profiles: Sequence[Profile]) -> Floats:
    """How far two figures run into each other, in mm, for every pair of their own edges.

    [first, its edge, second, its edge] = max over bins of my reach + your facing reach, never below 0: the
    least gap from which on the solids no longer meet, to within a bin. Facing one another, my left is your
    right. A figure's place against itself means nothing.
    """
    edges = np.concatenate([np.asarray(p) for p in profiles]).astype(np.float32)
    flat, facing = edges.reshape(len(edges), -1), edges[:, ::-1].reshape(len(edges), -1)
    # Only bins that any edge fills can clash.
    held = (flat > NOTHING / 2).any(axis=0) & (facing > NOTHING / 2).any(axis=0)
    flat, facing = flat[:, held], facing[:, held]
    clash: Floats = np.stack([(mine + facing).max(axis=1) for mine in flat]).astype(float)
    count = len(profiles)
    return clash.clip(min=0.0).reshape(count, 4, count, 4)


def clash_mm(truth: Floats, first: int, first_edge: Edge, second: int, second_edge: Edge) -> float:
    """The true clash of one joint, by the figures' indexes and own edges."""
    return float(truth[first, EDGES.index(first_edge), second, EDGES.index(second_edge)])


def ruler(
    profile: Profile,
    cuts_mm: Sequence[int] = USUAL_CUTS_MM,
    rng: np.random.Generator | None = None,
    reading_sd_mm: float = READING_SD_MM,
) -> Reach:
    """What a person reads off a figure: signed reach per edge and band, rounded up to whole mm.

    Without a generator the reading is exact before it is rounded, else it is off by a normal error.
    """
    bands = [(low, high) for low, high in zip((0, *cuts_mm), (*cuts_mm, HIGHEST_MM), strict=True)]
    read = [
        tuple(_reading(float(profile[edge, :, low:high].max()), rng, reading_sd_mm) for low, high in bands)
        for edge in range(4)
    ]
    return Reach(*read)


def _reading(reach_mm: float, rng: np.random.Generator | None, sd_mm: float) -> int | None:
    if reach_mm < NOTHING / 2:
        return None
    return math.ceil(reach_mm + (rng.normal(0, sd_mm) if rng is not None else 0.0))


def claim_mm(first: Reach, first_edge: Edge, second: Reach, second_edge: Edge) -> float:
    """What the ruler says of a joint: max over bands of both reaches, without margin or gap; none below 0."""
    mine, yours = getattr(first, first_edge), getattr(second, second_edge)
    sums = [a + b for a, b in zip(mine, yours, strict=True) if a is not None and b is not None]
    return float(max(0, *sums)) if sums else 0.0
