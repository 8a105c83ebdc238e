"""How a unit ranks up: planned, dry-fitted joint by joint, taken; measures, kept places, larger bases."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from tracker.domain.answers_ranks import Joint, RankAnswer
from tracker.report.screens import ranks_page as words
from tracker.report.screens.line import PageLine
from tracker.report.screens.ranks_rows import rank_rows
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Refused
from tracker.tui.ranks_care import RanksCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.grid import GridMoved
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.rank_grid import RankGrid
from tracker.tui.widgets.rows import Rows
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.ranks_check import check_joint, check_places
from tracker.workbench.ranks_say import take


class Ranks(RanksCare):
    """One unit, shoulder to shoulder."""

    PAGE = "ranks"
    TITLE_WORDS = "The ranks"
    TWIN = "lastcoat ranks show UNIT"
    BINDINGS: ClassVar[list[BindingType]] = [
        *own_bindings("ranks"),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
    ]

    def __init__(self, unit: str, army: str) -> None:
        super().__init__(unit, army)
        self.skipped = 0
        """Joints to check that were passed over."""
        self.waiting = False
        """What was found at the joint in hand is being stored: until the answer is there, none is in hand."""

    def compose(self) -> ComposeResult:
        """The unit over the lines."""
        yield LampLine()
        yield RankGrid()
        yield Rows(id="page")
        yield Entry()
        yield Hints()

    @property
    def hand(self) -> Joint | None:
        """The joint to dry-fit now."""
        joints = self.answer.to_check if self.answer and not self.waiting else ()
        return joints[self.skipped % len(joints)] if joints else None

    def focus_page(self) -> None:
        """Keys go to the unit."""
        self.grid.focus()

    def read(self) -> None:
        """The order as it stands, or the plan, in a worker."""
        self._read(self.show)

    def _read(self, then: Callable[[RankAnswer], None]) -> None:
        verb = partial(plan_ranks if self.planning else ranks, self.desk, self.unit, army=self.army)
        self.ask_verb(verb, then, "reading")

    def show(self, answer: RankAnswer) -> None:
        """The answer arrived; in a plan the cursor goes to the joint in hand."""
        self.answer, self.skipped, self.waiting = answer, 0, False
        self.TITLE_WORDS = words.ranks_title(answer)  # type: ignore[misc] # named after its unit
        self.draw()
        if self.planning:
            self._to_hand()

    def _to_hand(self) -> None:
        if self.hand is not None:
            place = words.place_of_joint(self.hand)
            self.grid.put(place[1] - 1, place[0] - 1)

    def action_page(self, by: int) -> None:
        """The lines below scroll while keys go to the unit."""
        self.rows.action_page(by)

    def on_refused(self, message: Refused) -> None:
        """Without files, ranks or a base there is nothing to draw: ask for them."""
        super().on_refused(message)
        if self.waiting:
            self.waiting = False
            self.draw()
        if self.answer is None and self.question is None:
            self.action_set_ranks()

    def draw(self, at: str = "") -> None:
        """The unit as well."""
        if self.answer is not None and self.is_mounted:
            width = max(self.size.width - 2, 20)
            lead = words.ANEW if self.waiting else words.lead_words(self.answer, self.hand, width - 1)
            self.grid.show(rank_rows(self.answer, width, self.hand, lead))
        super().draw(at)

    def lines(self, width: int) -> Sequence[PageLine]:
        """What stands below the unit."""
        if self.answer is None:
            return [PageLine(words.READING, "quiet")]
        return words.ranks_lines(self.answer, self.hand, self.grid.here, self.size_said, width)

    def on_grid_moved(self, message: GridMoved) -> None:
        """Another place under the cursor."""
        message.stop()
        self.rows.show(self.lines(self.rows.room))

    def action_plan(self) -> None:
        """A plan, or the order as it stands again."""
        self.planning = not self.planning
        self.entry.below(words.PLANNING if self.planning else "", "quiet")
        self._read(self._planned)

    def _planned(self, answer: RankAnswer) -> None:
        self.entry.below("")
        self.show(answer)

    def action_keep(self) -> None:
        """The plan becomes the order it stands in."""
        if self.answer is not None and self.planning:
            self.store(partial(take, self.desk, self.unit, self.answer.placed, army=self.army))
        else:
            self.entry.below(words.NO_PLAN, "quiet")

    def action_fits(self) -> None:
        """The joint in hand fits."""
        self._found("fits")

    def action_clashes(self) -> None:
        """The joint in hand clashes by so many mm."""
        if self.hand is not None and self.answer is not None:
            question = words.ASK_CLASH.format(joint=words.joint_place(self.hand))
            self.ask(question, lambda said: self._found(said or "fits"))
        else:
            self.entry.below(words.NO_JOINT, "quiet")

    def _found(self, said: str) -> None:
        """Store it; the plan that follows has another joint in hand."""
        if self.hand is None:
            self.entry.below(words.NO_JOINT, "quiet")
            return
        self.store(partial(check_joint, self.desk, self.unit, self.hand, said, army=self.army))
        self.waiting = True
        self.draw()

    def action_say_joint(self) -> None:
        """What was found at any joint of the order that is shown."""
        if self.answer is not None:
            self.ask(words.ASK_JOINT, self._said_joint, words.joint_here(self.answer, self.grid.here))

    def _said_joint(self, text: str) -> None:
        if text:
            found, shown = words.said_joints(text), not self.planning
            self.store(partial(check_places, self.desk, self.unit, found, army=self.army, as_it_stands=shown))

    def action_next_joint(self) -> None:
        """Another joint first."""
        self.skipped += 1
        self._to_hand()
        self.draw()
