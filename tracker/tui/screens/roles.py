"""The roles: the best spares for each that is open, and who has the others."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.domain.answers_spares import MatchAnswer, RolesAnswer
from tracker.domain.keeping import StandIn
from tracker.domain.problems import DataError, Problem
from tracker.report.screens.line import PageLine
from tracker.report.screens.roles_page import (
    ASK_NEW_ROLE,
    OfferKey,
    read_key,
    read_new_role,
    roles_lines,
    spare_of,
)
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Chosen
from tracker.tui.unit_care import UnitCare
from tracker.workbench.desk import Desk
from tracker.workbench.matching import match_roles
from tracker.workbench.roles import RoleSaid, add_roles, drop_role, fill_role, free_role, roles_answer


class Roles(UnitCare):
    """Every role."""

    PAGE = "roles"
    TITLE_WORDS = "Roles and spares"
    TWIN = "lastcoat role match"
    BINDINGS = own_bindings("roles")

    def __init__(self) -> None:
        super().__init__()
        self.match: MatchAnswer | None = None
        self.roles: RolesAnswer | None = None

    def read(self) -> None:
        """Every role and its best spares, in a worker."""
        self.ask_verb(partial(_both, self.desk), self.show, "reading")

    def show(self, answer: tuple[MatchAnswer, RolesAnswer]) -> None:
        """The answer arrived."""
        self.match, self.roles = answer
        self.draw()

    def lines(self, width: int) -> Sequence[PageLine]:
        """The page."""
        return roles_lines(self.match, self.roles, width)

    @property
    def here(self) -> OfferKey | None:
        """The role under the cursor, and the spare if it is one's line."""
        return read_key(self.rows.key) if self.rows.key else None

    def on_chosen(self, message: Chosen) -> None:
        """Enter on a spare lets it take the role, as it is meant."""
        message.stop()
        self.action_fill()

    def action_fill(self) -> None:
        """The spare under the cursor takes the role."""
        self._fill("")

    def action_fill_stand_in(self) -> None:
        """For an evening."""
        self._fill("stand-in")

    def action_fill_for_good(self) -> None:
        """It was converted for the role."""
        self._fill("for good")

    def _fill(self, how: StandIn) -> None:
        here = self.here
        spare = spare_of(self.match, here) if here else None
        if here and spare is not None:
            self.store(partial(fill_role, self.desk, here.role, spare, how, unit=here.unit, army=here.army))

    def action_free(self) -> None:
        """The role under the cursor waits again."""
        here = self.here
        if here:
            self.store(partial(free_role, self.desk, here.role, unit=here.unit, army=here.army))

    def action_drop_role(self) -> None:
        """The role under the cursor is given up."""
        here = self.here
        if here:
            self.store(partial(drop_role, self.desk, here.role, unit=here.unit, army=here.army))

    def action_new_role(self) -> None:
        """One more role, or several alike."""
        self.ask(ASK_NEW_ROLE, self._new)

    def _new(self, said: str) -> None:
        if said:
            self.store(partial(self._planned, said))

    def _planned(self, text: str) -> object:
        said = read_new_role(text)
        if isinstance(said, Problem):
            raise DataError(said)
        asks = RoleSaid(said.kind, said.base, said.height_mm, said.tags)
        return add_roles(self.desk, said.unit, said.role, asks, count=said.models)


def _both(desk: Desk) -> tuple[MatchAnswer, RolesAnswer]:
    return match_roles(desk, most=3), roles_answer(desk)
