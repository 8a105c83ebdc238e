"""How a unit ranks up: planned, dry-fitted joint by joint, taken; measures, kept places, larger bases."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from tracker.domain.answers_ranks import Joint, RankAnswer, SizeAnswer
from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import place_name
from tracker.report.screens import ranks_page as words
from tracker.report.screens.line import PageLine
from tracker.tui.actions import own_bindings
from tracker.tui.messages import Refused
from tracker.tui.unit_care import UnitCare
from tracker.tui.widgets.entry import Entry
from tracker.tui.widgets.grid import GridMoved
from tracker.tui.widgets.hints import Hints
from tracker.tui.widgets.lamp_line import LampLine
from tracker.tui.widgets.rank_grid import RankGrid
from tracker.tui.widgets.rows import Rows
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.ranks_blocks import add_filler, drop_block
from tracker.workbench.ranks_check import check_joint
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold, measure, pose, put, take
from tracker.workbench.ranks_size import size


class Ranks(UnitCare):
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
        super().__init__()
        self.unit, self.army = unit, army
        self.answer: RankAnswer | None = None
        self.size_said: SizeAnswer | None = None
        self.planning = False
        """Whether the plan is shown, made anew after every change; else the order as it stands."""
        self.skipped = 0
        """Joints to check that were passed over."""

    def compose(self) -> ComposeResult:
        """The unit over the lines."""
        yield LampLine()
        yield RankGrid()
        yield Rows(id="page")
        yield Entry()
        yield Hints()

    @property
    def grid(self) -> RankGrid:
        """The unit."""
        return self.query_one(RankGrid)

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """This one."""
        return self.army, self.unit

    @property
    def hand(self) -> Joint | None:
        """The joint to dry-fit now."""
        joints = self.answer.to_check if self.answer else ()
        return joints[self.skipped % len(joints)] if joints else None

    def focus_page(self) -> None:
        """Keys go to the unit."""
        self.grid.focus()

    def read(self) -> None:
        """The order as it stands, or the plan, in a worker."""
        verb = partial(plan_ranks if self.planning else ranks, self.desk, self.unit, army=self.army)
        self.ask_verb(verb, self.show, "reading")

    def show(self, answer: RankAnswer) -> None:
        """The answer arrived; in a plan the cursor goes to the joint in hand."""
        self.answer, self.skipped = answer, 0
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
        if self.answer is None and self.question is None:
            self.action_set_ranks()

    def draw(self, at: str = "") -> None:
        """The unit as well."""
        if self.answer is not None and self.is_mounted:
            self.grid.show(words.rank_rows(self.answer, max(self.size.width - 2, 20)))
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
        self.read_then_clear()

    def read_then_clear(self) -> None:
        """Read anew; what is said below goes once it is there."""
        verb = partial(plan_ranks if self.planning else ranks, self.desk, self.unit, army=self.army)
        self.ask_verb(verb, self._planned, "reading")

    def _planned(self, answer: RankAnswer) -> None:
        self.entry.below("")
        self.show(answer)

    def action_keep(self) -> None:
        """The plan becomes the order it stands in."""
        if self.answer is not None and self.planning:
            self.store(partial(take, self.desk, self.unit, self.answer.placed, army=self.army))

    def action_fits(self) -> None:
        """The joint in hand fits."""
        self._found("fits")

    def action_clashes(self) -> None:
        """The joint in hand clashes by so many mm."""
        if self.hand is not None and self.answer is not None:
            question = words.ASK_CLASH.format(joint=words.joint_place(self.hand))
            self.ask(question, lambda said: self._found(said or "fits"))

    def _found(self, said: str) -> None:
        if self.hand is not None:
            self.store(partial(check_joint, self.desk, self.unit, self.hand, said, army=self.army))

    def action_next_joint(self) -> None:
        """Another joint first."""
        self.skipped += 1
        self._to_hand()
        self.draw()

    def action_measure(self) -> None:
        """What a ruler says of the model under the cursor."""
        models = self.answer.models if self.answer else ()
        reach = next((one.reach for one in models if one.model_id == self.grid.model_here), "")
        self._ask_model(words.ASK_MEASURE, self._measured, reach)

    def _measured(self, number: str, said: str) -> object:
        return measure(self.desk, self.unit, number, said, army=self.army)

    def action_hold(self) -> None:
        """A place that the model under the cursor keeps."""
        self._ask_model(words.ASK_HOLD, self._held)

    def _held(self, number: str, said: str) -> object:
        return hold(self.desk, self.unit, number, said, army=self.army)

    def action_turns(self) -> None:
        """How the model under the cursor may be turned."""
        self._ask_model(words.ASK_TURNS, self._turned)

    def _turned(self, number: str, said: str) -> object:
        return pose(self.desk, self.unit, number, turns=said, army=self.army)

    def _ask_model(self, question: str, verb: Callable[[str, str], object], text: str = "") -> None:
        number = self._number(self.grid.model_here)
        if number:
            self.ask(f"{number}: {question}", lambda said: self.store(partial(verb, number, said)), text)

    def _number(self, model_id: int | None) -> str:
        models = self.answer.models if self.answer else ()
        return next((str(one.number) for one in models if one.model_id == model_id), "")

    def action_exchange(self) -> None:
        """Mark the model under the cursor; on another place they change places."""
        marked, here = self.grid.marked, (self.grid.rank, self.grid.file)
        self.grid.marked = None if marked else here
        if marked and marked != here:
            mover = self._number(self.grid.rows.spots[marked[0]][marked[1]].model_id)
            if mover:
                place = place_name(*self.grid.here)
                self.planning = False
                self.store(partial(put, self.desk, self.unit, mover, place, army=self.army))
        self.grid.refresh()

    def action_filler(self) -> None:
        """Scenery on a larger base, its front left corner under the cursor."""
        place = place_name(*self.grid.here)

        def then(said: str) -> None:
            if said:
                self.store(partial(add_filler, self.desk, self.unit, said, place, army=self.army))

        self.ask(words.ASK_FILLER.format(place=place), then)

    def action_clear(self) -> None:
        """The larger base under the cursor goes."""
        place = place_name(*self.grid.here)
        self.store(partial(drop_block, self.desk, self.unit, place, army=self.army))

    def action_set_ranks(self) -> None:
        """Files, ranks and base."""
        self.ask(words.ASK_RANKS, self._set_ranks)

    def _set_ranks(self, text: str) -> None:
        if text:
            self.store(partial(self._stored_ranks, text))

    def _stored_ranks(self, text: str) -> object:
        said = words.read_ranks_line(text)
        if isinstance(said, Problem):
            raise DataError(said)
        return set_ranks(self.desk, self.unit, RankWish(*said), army=self.army)

    def action_sizes(self) -> None:
        """The room the unit and its tray take."""
        if self.size_said is not None:
            self.size_said = None
            self.draw()
        else:
            self.ask_verb(partial(size, self.desk, self.unit, army=self.army), self._sized, "size")

    def _sized(self, answer: SizeAnswer) -> None:
        self.size_said = answer
        self.draw()
