"""The demo: an invented army in a folder of its own, answered like a person's."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time
from pathlib import Path
from tempfile import TemporaryDirectory, mkdtemp
from typing import TYPE_CHECKING, TypeVar

from tracker.domain.problems import DataError, Problem
from tracker.store.folders import make_own_folder
from tracker.workbench.answers import tonight_list
from tracker.workbench.desk import Desk
from tracker.workbench.report_out import page_answers, write_page

if TYPE_CHECKING:
    from tracker.report.page import PageAnswers

NAME = "demo.db"
PAGE = "demo.html"
_MINUTES = 40.0
_MODELS_MOST = 5
Row = TypeVar("Row")


def make_demo(folder: Path | None) -> Desk:
    """A desk with the invented army's two years in its log; the folder is made if it is missing.

    Without a folder a fresh temporary one is taken. A folder that holds a demo already is refused.
    The desk's clock stands at the evening on which the history ends.
    """
    from demo_db.army import LAST_DAY

    folder = Path(mkdtemp(prefix="lastcoat-demo-")) if folder is None else folder
    path = folder / NAME
    if path.exists():
        raise DataError(Problem(str(path), "a demo is there already", "Name another folder, or remove it"))
    make_own_folder(str(folder))
    desk = Desk(str(path), now=lambda: datetime.combine(LAST_DAY, time(20, 0)))
    _fill(desk._replace(backs_up=False))
    return desk


def _fill(desk: Desk) -> None:
    from demo_db.sheets import HERE, read_extra
    from tracker.sheets.evenings import read_evenings
    from tracker.sheets.roster import read_roster
    from tracker.workbench.adding import add_unit
    from tracker.workbench.evenings_in import import_evenings
    from tracker.workbench.models import leave
    from tracker.workbench.ranks_say import measure
    from tracker.workbench.roster_in import import_roster

    extra = read_extra((HERE / "extra.json").read_text(encoding="utf-8"))
    roster = read_roster((HERE / "roster.csv").read_text(encoding="utf-8"), today=desk.today())
    lines = read_evenings((HERE / "evenings.csv").read_text(encoding="utf-8"), today=desk.today())
    part_done = {word.unit: word.up_to for word in extra.already}
    import_roster(desk, [row for row in _whole(roster.rows, roster.problems) if row.unit not in part_done])
    for row in roster.rows:
        if row.unit in part_done:
            add_unit(desk, row, already=part_done[row.unit])
    for one in extra.measured:
        measure(desk, one.unit, str(one.model), one.reach, army=one.army)
    import_evenings(desk, _whole(lines.rows, lines.problems))
    for gone in extra.departures:
        leave(desk, gone.unit, f"{gone.first}-{gone.last}", gone.how, army=gone.army, day=gone.date)
    _fill_book(desk)


def _fill_book(desk: Desk) -> None:
    """Recipes, spares and roles, deals and a target, two pictures, and putty that cures."""
    from demo_db.army import MUSTER
    from demo_db.deals import TARGET_POINTS
    from demo_db.sheets import HERE
    from tracker.workbench.book_sheets import import_book_sheet, read_book_sheet
    from tracker.workbench.curing import begin
    from tracker.workbench.points import set_target

    for what in ("spares", "roles", "recipes", "sources"):
        text = (HERE / f"{what}.csv").read_text(encoding="utf-8")
        read = read_book_sheet(what, text, today=desk.today())
        import_book_sheet(desk, what, _whole(read.rows, read.problems))
    set_target(desk, TARGET_POINTS, MUSTER)
    begin(desk, "putty in its jaw", unit="Old Pondback", at="19:10")
    _add_pictures(desk)


def _add_pictures(desk: Desk) -> None:
    from demo_db.pictures import drawn
    from tracker.workbench.photos import PhotoWish, add_photos

    with TemporaryDirectory() as folder:
        for number, one in enumerate(drawn()):
            file = Path(folder) / f"{number}.png"
            file.write_bytes(one.png)
            add_photos(desk, [str(file)], PhotoWish(one.unit, one.army, step=one.step, day=one.day))


def _whole(rows: Sequence[Row], problems: Sequence[Problem]) -> Sequence[Row]:
    if problems:
        raise DataError(problems)
    return rows


def log_demo_evening(desk: Desk) -> str:
    """Logs one more evening on what is ready first; returns it in words."""
    from tracker.workbench.lines import Entry, log_line

    first = tonight_list(desk).ready[0]
    models = min(first.models, _MODELS_MOST)
    return log_line(
        desk, Entry(first.unit, first.step, army=first.army, models=models, minutes=_MINUTES)
    ).words()


def answer_demo(desk: Desk) -> tuple[PageAnswers, Path]:
    """All answers of the demo, and its page written beside its log."""
    answers = page_answers(desk)
    page = Path(desk.path).with_name(PAGE)
    write_page(answers, page, title="The Barleywick Muster: from the desk to the table")
    return answers, page
