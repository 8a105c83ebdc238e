"""Any sequence of what a person can do keeps the log whole: progress, minutes, models, seals, undo.

A longer search than the suite's: HYPOTHESIS_EXAMPLES=500 pytest -n 0 tests/properties/test_log_machine.py
"""

from __future__ import annotations

import os
import tempfile
from collections import Counter
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from tests.properties.two_logs import Edit, a_common_log, edits
from tracker.domain.progress import progress_of
from tracker.domain.work import minute_shares, work_left
from tracker.workbench.check import check
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo, would_redo, would_undo
from tracker.workbench.whole import export_document

EXAMPLES = int(os.environ.get("HYPOTHESIS_EXAMPLES", "10"))


class LogMachine(RuleBasedStateMachine):
    """One log, and all that is done to it."""

    def __init__(self) -> None:
        super().__init__()
        self._folder = tempfile.TemporaryDirectory()
        self.desk: Desk = a_common_log(Path(self._folder.name))

    def teardown(self) -> None:
        """The log goes with its folder."""
        self._folder.cleanup()

    @rule(edit=edits)
    def something_is_done(self, edit: Edit) -> None:
        before = {model.id: model.left_on for model in self.desk.records().models}
        edit.do(self.desk)
        after = {model.id: model.left_on for model in self.desk.records().models}
        if edit.name in ("undo", "redo"):
            return
        # Models are added, and leave; whatever else is done, none is lost and none comes back by itself.
        assert before.keys() <= after.keys()
        assert all(after[model] == left_on for model, left_on in before.items() if left_on is not None)

    @rule()
    def a_step_back_and_forth_changes_nothing(self) -> None:
        if would_undo(self.desk) is None:
            return
        before = export_document(self.desk)
        undo(self.desk)
        redo(self.desk)
        assert export_document(self.desk) == before

    @rule()
    def a_step_forth_and_back_changes_nothing(self) -> None:
        if would_redo(self.desk) is None:
            return
        before = export_document(self.desk)
        redo(self.desk)
        undo(self.desk)
        assert export_document(self.desk) == before

    @invariant()
    def progress_stays_within_its_bounds(self) -> None:
        known = self.desk.records()
        progress = progress_of(known)
        alive = Counter(model.unit_id for model in known.models if model.left_on is None)
        for work in work_left(known, progress):
            there = alive[work.unit.id]
            assert 0 <= work.models_ready <= work.models == there
            for step in {line.step for line in work.lines}:
                left = sum(line.models for line in work.lines if line.step == step)
                assert 0 < left <= there
            assert all(0 <= line.in_hand <= line.models for line in work.lines)

    @invariant()
    def minutes_are_neither_made_nor_lost(self) -> None:
        """The shares of an evening's lines are its total, unless they were said to be longer than it."""
        known = self.desk.records()
        shares = minute_shares(known.lines, known.sessions)
        for session in known.sessions:
            lines = [line for line in known.lines if line.session_id == session.id]
            said = sum(line.minutes or 0.0 for line in lines)
            shared = sum(shares[line.id] or 0.0 for line in lines)
            untimed = any(line.minutes is None for line in lines)
            if session.minutes is not None and untimed:
                assert abs(shared - max(session.minutes, said)) < 1e-9
            else:
                assert abs(shared - said) < 1e-9

    @invariant()
    def every_model_is_somewhere_once(self) -> None:
        known = self.desk.records()
        numbers: Counter[Any] = Counter(
            (model.unit_id, model.number) for model in known.models if model.left_on is None
        )
        assert all(count == 1 for count in numbers.values())
        assert {model.unit_id for model in known.models} - {None} <= {unit.id for unit in known.units}

    @invariant()
    def the_log_finds_nothing_wrong_with_itself(self) -> None:
        """Foreign keys, seals, the journal, states that cannot be: what `lastcoat check` looks at."""
        assert check(self.desk).found == ()


def test_any_sequence_keeps_the_log_whole() -> None:
    run_state_machine_as_test(
        LogMachine, settings=settings(max_examples=EXAMPLES, stateful_step_count=12, deadline=None)
    )
