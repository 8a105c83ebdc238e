"""The page and its figures: all answers as of one day, written as files."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.problems import Problem, UsageError
from tracker.workbench.answers import DRAWS, SEED, forecast_of, learn_pace, track_record
from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write, write_whole
from tracker.workbench.goals_ahead import goals_ahead
from tracker.workbench.photos_seen import before_and_after

if TYPE_CHECKING:
    from tracker.report.page import PageAnswers


_WEEKS_AHEAD = 8
"""How far planned evenings are shown."""


class Written(NamedTuple):
    """Where the page lies, and how many figures lie beside it."""

    page: Path
    folder: Path | None = None
    figures: int = 0

    def words(self) -> str:
        """As in "Wrote page.html and 8 figures in figures"."""
        more = f" and {self.figures} figures in {self.folder}" if self.folder else ""
        return f"Wrote {self.page}{more}"


def page_answers(
    desk: Desk, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> PageAnswers:
    """All answers at once; the pace is learned only once."""
    from tracker.forecast.backlog import backlog
    from tracker.forecast.evenings import evenings_of
    from tracker.forecast.steps_left import steps_left
    from tracker.pace.answer import pace_answer
    from tracker.report.calendar_evenings import planned_days
    from tracker.report.goal_rows import goal_rows
    from tracker.report.page import PageAnswers
    from tracker.report.sitting import Sitting

    day = as_of or desk.evening_day()
    known = desk.records().as_of(day)
    pace = learn_pace(desk, known)
    return PageAnswers(
        forecast_of(known, pace, day, seed, draws),
        backlog(known, pace, day, seed, draws),
        pace_answer(known, pace, day, seed),
        track_record(desk, day, seed=seed),
        tuple(Sitting(evening.date, evening.minutes) for evening in evenings_of(known)),
        steps_left(known, pace, day, seed, draws),
        goal_rows(
            goals_ahead(known, pace, day, seed, draws), {unit.id: unit.name for unit in known.units}, day
        ),
        planned_days(known.declared, day + timedelta(days=1), day + timedelta(weeks=_WEEKS_AHEAD)),
        before_and_after(desk, day),
    )


def write_report(
    desk: Desk,
    path: str,
    as_of: date | None = None,
    *,
    figures: str | None = None,
    live: bool = True,
    seed: int = SEED,
    draws: int = DRAWS,
) -> Written:
    """Writes the page, and its figures as SVG files into a folder where one is named.

    Without `live` the page holds no script, is small, and its figures do not answer to the pointer.
    """
    target = where_to_write(desk, path, "a page", (b"<!doctype html", b"<html"), "backlog.html")
    folder = None if figures is None else _folder(figures)
    answers = page_answers(desk, as_of, seed=seed, draws=draws)
    written = {} if folder is None else _figure_targets(desk, folder, answers)
    write_page(answers, target, live=live)
    for place, text in written.items():
        write_whole(place, text.encode())
    return Written(target, folder, len(written))


def write_page(answers: PageAnswers, target: Path, title: str = "", *, live: bool = True) -> None:
    """Writes the page, whole or not at all."""
    from tracker.report.page import TITLE, page_html

    write_whole(target, page_html(answers, title=title or TITLE, live=live).encode())


def _folder(path: str) -> Path:
    """The folder of the figures, made where it is missing (but not the folders above it)."""
    folder = Path(path)
    if "\0" in path:
        raise UsageError(Problem(path, "no folder can have this name", "Give another name"))
    if folder.exists() and not folder.is_dir():
        raise UsageError(Problem(path, "it is a file", "Name a folder for the figures"))
    folder.mkdir(exist_ok=True)
    return folder


def _figure_targets(desk: Desk, folder: Path, answers: PageAnswers) -> dict[Path, str]:
    from tracker.report.page import figure_files

    starts = (b"<?xml", b"<svg")
    return {
        where_to_write(desk, str(folder / name), "a figure", starts, "ready.svg"): text
        for name, text in figure_files(answers).items()
    }
