"""What workers and widgets tell the screens."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Literal

from textual.message import Message

from tracker.domain.problems import Problem


class Answered(Message):
    """A verb answered; `then` is what the screen does with it, in its own thread."""

    def __init__(self, then: Callable[[Any], None], answer: Any) -> None:
        super().__init__()
        self.then = then
        self.answer = answer


class Refused(Message):
    """A verb refused: nothing was stored."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__()
        self.problems = problems


class Stored(Message):
    """Something was stored, taken back or brought back: what the screens show is old."""

    def __init__(self, sentence: str) -> None:
        super().__init__()
        self.sentence = sentence


class Typed(Message):
    """The entry line was changed by a key."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text


class Said(Message):
    """The entry line was sent off."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text


class Turned(Message):
    """Another reading of the entry is wanted: the next unit or step, or the one before."""

    def __init__(self, by: int, what: Literal["unit", "step"]) -> None:
        super().__init__()
        self.by = by
        self.what = what


class Left(Message):
    """The entry line was left; what it holds is kept."""


class CursorMoved(Message):
    """The cursor stands on another row."""


class Chosen(Message):
    """A row was chosen."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
