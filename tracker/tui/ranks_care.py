"""What is said of a unit's ranks under the cursor: measures, kept places, turns, exchanges, larger bases."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from tracker.domain.answers_ranks import RankAnswer, RankedModel, SizeAnswer
from tracker.domain.problems import DataError, Problem
from tracker.domain.ranks import place_name
from tracker.report.screens import ranks_page as words
from tracker.tui.unit_care import UnitCare
from tracker.tui.widgets.rank_grid import RankGrid
from tracker.workbench.ranks_blocks import add_filler, drop_block
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold, measure, pose, put
from tracker.workbench.ranks_size import size


class RanksCare(UnitCare):
    """A screen on which one unit stands shoulder to shoulder."""

    def __init__(self, unit: str, army: str) -> None:
        super().__init__()
        self.unit, self.army = unit, army
        self.answer: RankAnswer | None = None
        self.size_said: SizeAnswer | None = None
        self.planning = False
        """Whether the plan is shown, made anew after every change; else the order as it stands."""

    @property
    def grid(self) -> RankGrid:
        """The unit."""
        return self.query_one(RankGrid)

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """This one."""
        return self.army, self.unit

    @property
    def model_here(self) -> RankedModel | None:
        """The model under the cursor."""
        return self._model(self.grid.model_here)

    def _model(self, model_id: int | None) -> RankedModel | None:
        models = self.answer.models if self.answer else ()
        return next((one for one in models if one.model_id == model_id), None)

    def action_measure(self) -> None:
        """What a ruler says of the model under the cursor."""
        self._ask_model(words.ASK_MEASURE, self._measured, self.model_here.reach if self.model_here else "")

    def _measured(self, number: str, said: str) -> object:
        return measure(self.desk, self.unit, number, said, army=self.army)

    def action_hold(self) -> None:
        """The model under the cursor keeps a place, this one if no other is said; or is free again."""
        model = self.model_here
        if model is not None and model.held:
            self.store(partial(self._held, str(model.number), ""))
        else:
            self._ask_model(words.ASK_HOLD, self._held, place_name(*self.grid.here))

    def _held(self, number: str, said: str) -> object:
        return hold(self.desk, self.unit, number, said, army=self.army)

    def action_turns(self) -> None:
        """The next way in which the model under the cursor may be turned."""
        model = self.model_here
        if model is not None:
            turns = words.next_turns(model.turns)
            self.store(partial(pose, self.desk, self.unit, str(model.number), turns=turns, army=self.army))

    def _ask_model(self, question: str, verb: Callable[[str, str], object], text: str = "") -> None:
        model = self.model_here
        if model is not None:
            number = str(model.number)
            self.ask(f"{number}: {question}", lambda said: self.store(partial(verb, number, said)), text)

    def action_exchange(self) -> None:
        """Mark the model under the cursor; on another place they change places."""
        if self.planning and self.answer is not None and self.answer.swaps:
            self.entry.below(words.NOT_IN_A_PLAN, "quiet")
            return
        marked, here = self.grid.marked, (self.grid.rank, self.grid.file)
        self.grid.marked = None if marked else here
        if marked and marked != here:
            self._exchange(marked, here)
        self.grid.refresh()

    def _exchange(self, marked: tuple[int, int], here: tuple[int, int]) -> None:
        """One of the two may be empty."""
        for (rank, file), (to_rank, to_file) in ((marked, here), (here, marked)):
            mover = self._model(self.grid.rows.spots[rank][file].model_id)
            if mover is not None:
                self.planning = False
                place = place_name(to_file + 1, to_rank + 1)
                self.store(partial(put, self.desk, self.unit, str(mover.number), place, army=self.army))
                return

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
