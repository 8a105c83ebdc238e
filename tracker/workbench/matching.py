"""Which spare would stand best in which role; nothing is stored."""

from __future__ import annotations

import os
from collections.abc import Sequence

from tracker.domain.answers_spares import MatchAnswer, Offer, RoleMatch, RoleStanding
from tracker.domain.matching import Fit, Look, Wish, also_best_for, best_fits
from tracker.domain.problems import DataError, Problem
from tracker.store.journal import Store
from tracker.store.spares import looks_kept, spare_count, spares_kept
from tracker.workbench.desk import Desk
from tracker.workbench.naming import shown
from tracker.workbench.roles import RoleSaid, checked_role, open_roles, the_role

OFFERS_MOST = 5
NO_ROLE = ""
"""The unit and role of a wish that was only described."""


def match_roles(
    desk: Desk, role: str | None = None, *, unit: str | None = None, army: str | None = None,
    most: int = OFFERS_MOST,
) -> MatchAnswer:  # fmt: skip
    """For open roles (all, those of a unit, or one by name) the best spares, best first."""
    if not os.path.lexists(desk.path):
        return MatchAnswer(desk.today(), (), 0, 0)
    with desk.open() as store, store.snapshot():
        if role is None:
            wanted = [kept.standing for kept in open_roles(store, unit, army)]
        else:
            wanted = [the_role(store, role, unit, army, is_open=True).standing]
            if wanted[0].model is not None:
                what = f"model {wanted[0].model} of {wanted[0].unit} has the role {shown(wanted[0].role)}"
                raise DataError(Problem("the role", what, "Free it first, or ask for another one"))
        return _answer(desk, store, wanted, most)


def match_wish(desk: Desk, said: RoleSaid, *, most: int = OFFERS_MOST) -> MatchAnswer:
    """The spares that are most like what is described, best first."""
    good = checked_role(said)
    wish = Wish(good.base, good.height_mm, good.kind, good.tags)
    if wish == Wish():
        raise DataError(
            Problem("spare find", "nothing is asked for", "Say what it should be, as in --base 20x20")
        )
    described = RoleStanding("", NO_ROLE, NO_ROLE, wish, None, "", "", desk.today())
    with desk.open() as store, store.snapshot():
        return _answer(desk, store, [described], most)


def _answer(desk: Desk, store: Store, wanted: Sequence[RoleStanding], most: int) -> MatchAnswer:
    looks = looks_kept(store)
    fits = _fits(wanted, looks, most)
    numbers = sorted({fit.look.first for best in fits for fit in best})
    spares = {spare.number: spare for spare in spares_kept(store, numbers)}
    names = [f"{role.unit}: {role.role}" for role in wanted]
    firsts = [(name, best[0] if best else None) for name, best in zip(names, fits, strict=True)]
    others = also_best_for(firsts)
    matches = tuple(
        RoleMatch(
            role,
            tuple(Offer(spares[fit.look.first], fit.look.alike, fit) for fit in best),
            others.get(name, ()),
        )
        for role, name, best in zip(wanted, names, fits, strict=True)
    )
    return MatchAnswer(desk.today(), matches, spare_count(store), len(looks))


def _fits(wanted: Sequence[RoleStanding], looks: Sequence[Look], most: int) -> list[tuple[Fit, ...]]:
    """The best looks for each role; roles that ask the same are judged once."""
    known: dict[Wish, tuple[Fit, ...]] = {}
    for role in wanted:
        if role.wish not in known:
            known[role.wish] = best_fits(role.wish, looks, most)
    return [known[role.wish] for role in wanted]
