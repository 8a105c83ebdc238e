"""What is fed with hostile bytes: every reader of what people bring, and what must hold of its answer.

A finding is any exception but a refusal of ours, a promise that does not hold (what was read comes out and
in again the same; a problem is one harmless line with a mend), or an answer that takes longer than five
seconds.
"""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from itertools import count
from pathlib import Path
from typing import Any

from tracker.domain.money import Money, read_amount, read_money
from tracker.domain.problems import LastcoatError, Problem
from tracker.domain.recipe_words import by_area
from tracker.domain.recipes import RecipeStep
from tracker.domain.steps import CATALOGUE
from tracker.domain.text import printable
from tracker.sheets import (
    document,
    evening_rule,
    evenings,
    planned,
    recipe_text,
    recipe_written,
    recipes,
    roles,
    roster,
    sentence,
    sources,
    spares,
    wishes,
)
from tracker.sheets.files import decode
from tracker.sheets.partly import read_partly
from tracker.sheets.pictures import clean
from tracker.sheets.sentence import UnitName
from tracker.workbench.desk import Desk

TODAY = date(2026, 3, 10)
UNITS = (
    UnitName("Spears", "host"),
    UnitName("Riders", "host"),
    UnitName("bow line", "host"),
    UnitName("Spears", "wild ones"),
    UnitName("9 axes", "x"),
)
STEPS = (*CATALOGUE, "freehand banner")

Run = Callable[[bytes], None]


def harmless(problems: Iterable[Problem]) -> None:
    """Every problem is one line that can be printed, and it says what and how to mend it."""
    for problem in problems:
        line = str(problem)
        if printable(line) != line or not (problem.where and problem.what and problem.mend):
            raise AssertionError(f"a problem steers the terminal or says nothing: {line!r}")
        if len(line) > 2000:
            raise AssertionError(f"a problem of {len(line)} letters")


def same(one: object, other: object) -> None:
    """What came out and in again is what it was."""
    if one != other:
        raise AssertionError(f"out and in again: {one!r:.2000} became {other!r:.2000}")


def text_of(data: bytes) -> str:
    """Bytes as a shell argument has them: what is no UTF-8 becomes lone surrogates (PEP 383)."""
    return data.decode("utf-8", "surrogateescape")


def sheet(read: Callable[..., Any], write: Callable[[Sequence[Any]], str] | None, **more: Any) -> Run:
    """A sheet: rows and problems, and the rows survive the way out and in again."""

    def run(data: bytes) -> None:
        text = decode(data, "the sheet")
        if isinstance(text, Problem):
            harmless([text])
            return
        found = read(text, **more)
        harmless(found.problems)
        # A column of somebody's own goes into the note, which no way back takes apart.
        if write is None or found.problems or found.notes:
            return
        again = read(write(found.rows), **more)
        harmless(again.problems)
        same([row._replace(row=0) for row in found.rows], [row._replace(row=0) for row in again.rows])

    return run


def recipe(data: bytes) -> None:
    """A recipe in a line."""
    found = recipe_text.read_recipe_text(text_of(data))
    harmless(found.problems)
    if not found.problems and len(found.steps) <= recipe_text.STEPS_MOST:
        again = recipe_text.read_recipe_text(recipe_written.write_recipe_text(found.steps))
        same(_by_area(found.steps), _by_area(again.steps))


def _by_area(steps: Iterable[RecipeStep]) -> list[tuple[str, list[RecipeStep]]]:
    """The short form tells a recipe area by area, each as it was first written."""
    return [(area, [step._replace(place=0, area="") for step in group]) for area, group in by_area(steps)]


def one_line(data: bytes) -> None:
    """The one-line entry, whole and partly."""
    text = text_of(data)
    whole = sentence.read_sentence(text, UNITS, STEPS, TODAY)
    if isinstance(whole, Problem):
        harmless([whole])
    elif printable(whole.words()) != whole.words():
        raise AssertionError(whole.words())
    read_partly(text, UNITS, STEPS, TODAY)


def wish(data: bytes) -> None:
    """What if."""
    found = wishes.read_wishes(text_of(data), UNITS, TODAY)
    if isinstance(found, Problem):
        harmless([found])


def rule(data: bytes) -> None:
    """Evenings that are meant to come, by words or by a rule of the calendar."""
    from tracker.forecast.evenings import declared_days

    found = evening_rule.read_rule(text_of(data))
    if isinstance(found, Problem):
        harmless([found])
        return
    evening_rule.rule_words(found)
    try:
        days = declared_days(found, TODAY, date(2028, 3, 20))
    except LastcoatError as refusal:
        harmless(refusal.problems)
    else:
        if len(set(days)) != len(days):
            raise AssertionError(f"{found} gives a day twice")


def money(data: bytes) -> None:
    """An amount and its currency."""
    text = text_of(data)
    for found in (read_money(text), read_amount(text)):
        if isinstance(found, Problem):
            harmless([found])
        elif isinstance(found, Money):
            same(found, read_money(f"{sources.plain_amount(found.amount)} {found.currency}"))


def photo(data: bytes) -> None:
    """A picture: written anew, or one problem."""
    found = clean(data, "the picture")
    if isinstance(found, Problem):
        harmless([found])
    elif b"Exif" in found.data[:64]:
        raise AssertionError("metadata came along")


def whole_log(data: bytes) -> None:
    """The text of a whole log, as far as it is JSON of ours."""
    text = decode(data, "the file")
    found = text if isinstance(text, Problem) else document.read_document(text)
    if isinstance(found, Problem):
        harmless([found])
    else:
        same(found, document.read_document(document.write_document(found)))


def desk_in(folder: Path) -> Desk:
    """A desk whose clock stands still."""
    numbers = count(1)
    return Desk(str(folder / "log.db"), lambda: datetime(2026, 3, 10, 21, 30), lambda: f"n{next(numbers)}")


def begin(folder: Path, kept: Path) -> None:
    """The log in the folder is the one that was kept."""
    for name in ("log.db-wal", "log.db-shm"):
        (folder / name).unlink(missing_ok=True)
    shutil.copy(kept, folder / "log.db")


class Restored:
    """A whole log with hostile cells, put into an empty one, and then asked everything."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._empty = folder / "empty.db"
        with desk_in(folder).open(create=True):
            pass
        shutil.copy(folder / "log.db", self._empty)
        seed = Path(__file__).parent.parent / "fuzz_corpus" / "whole_log_1.json"
        found = document.read_document(seed.read_text(encoding="utf-8"))
        if isinstance(found, Problem):
            raise TypeError(found)
        self._good = found

    def __call__(self, data: bytes) -> None:
        """Each four bytes and more put one value into one cell of one row of one table."""
        import copy

        hostile = copy.deepcopy(self._good)
        for change in data.split(b"\n")[:8]:
            _spoil(hostile, change)
        self._restore(hostile)

    def _restore(self, hostile: dict[str, Any]) -> None:
        from tracker.workbench.whole import export_document, import_document

        self._begin_anew()
        desk = desk_in(self._folder)
        try:
            import_document(desk, hostile)
        except LastcoatError as refusal:
            harmless(refusal.problems)
            if desk.records().units:
                raise AssertionError("refused, and yet stored") from None
            return
        ask_everything(desk)
        came_out = export_document(desk)
        self._begin_anew()
        import_document(desk, came_out)
        same(came_out, export_document(desk))

    def _begin_anew(self) -> None:
        begin(self._folder, self._empty)


def _spoil(whole: dict[str, Any], change: bytes) -> None:
    if len(change) < 4:
        return
    table = sorted(name for name in whole if isinstance(whole[name], dict))[change[0] % len(whole) % 20]
    rows = whole[table]["rows"]
    if not rows:
        return
    row = rows[change[1] % len(rows)]
    row[change[2] % len(row)] = _value(change[3], change[4:])


def _value(sort: int, data: bytes) -> object:
    text = data.decode("utf-8", "replace")
    with contextlib.suppress(ValueError, OverflowError):
        return (
            lambda: None, lambda: text, lambda: int(text or "0"), lambda: float(text or "0"),
            lambda: -len(data), lambda: 2**63 - 1, lambda: 1e308, lambda: [text],
            lambda: "", lambda: True, lambda: 2**70, lambda: float("inf"),
        )[sort % 12]()  # fmt: skip
    return text


def ask_everything(desk: Desk) -> None:
    """Answers over the whole log; a refusal is an answer."""
    from tracker.workbench import recipes_known, sources_answers, spares_sheet, whole

    for ask in (
        desk.records,
        lambda: whole.export_evenings(desk),
        lambda: whole.export_roster(desk),
        lambda: recipes_known.list_recipes(desk),
        lambda: sources_answers.sources(desk),
        lambda: sources_answers.costs(desk),
        lambda: sources_answers.months(desk),
        lambda: spares_sheet.export_spares(desk),
    ):
        try:
            ask()
        except LastcoatError as refusal:
            harmless(refusal.problems)


class Imported:
    """A sheet put into a log: what was stored goes out and comes in again without a change."""

    def __init__(self, folder: Path) -> None:
        from tracker.domain.rows import RosterRow
        from tracker.workbench.adding import add_unit

        self._folder = folder
        self._begun = folder / "begun.db"
        desk = desk_in(folder)
        add_unit(desk, RosterRow("Spears", 5, "host", added=date(2026, 3, 1)))
        shutil.copy(folder / "log.db", self._begun)

    def __call__(self, data: bytes) -> None:
        """The first letter says which sheet it is."""
        text = decode(data[1:], "the sheet")
        what = ("evenings", "roster", "recipes", "spares", "roles", "sources")[(data or b"\0")[0] % 6]
        if isinstance(text, Problem):
            return
        begin(self._folder, self._begun)
        desk = desk_in(self._folder)
        try:
            _import(desk, what, text)
            again = _import(desk, what, text)
            if again.added:
                raise AssertionError(f"the same {what} twice: {again.added} more")
            ask_everything(desk)
        except LastcoatError as refusal:
            harmless(refusal.problems)


def _import(desk: Desk, what: str, text: str) -> Any:
    from tracker.workbench.book_sheets import import_book_sheet, read_book_sheet
    from tracker.workbench.evenings_in import import_evenings
    from tracker.workbench.roster_in import import_roster

    reads: dict[str, Callable[..., Any]] = {
        "evenings": evenings.read_evenings, "roster": roster.read_roster,
    }  # fmt: skip
    if what in reads:
        read = reads[what](text, today=desk.today())
    else:
        read = read_book_sheet(what, text, today=desk.today())
    if read.problems:
        from tracker.domain.problems import DataError

        raise DataError(read.problems)
    if what == "evenings":
        return import_evenings(desk, read.rows)
    if what == "roster":
        return import_roster(desk, read.rows, columns=read.columns)
    return import_book_sheet(desk, what, read.rows)


LOGS: dict[str, Callable[[Path], Run]] = {"restored": Restored, "imported": Imported}
"""Targets that need a log of their own."""


def targets(folder: Path, only: str = "") -> dict[str, Run]:
    """Every target by its name, or only one; those with a log keep it in the folder."""
    dated = {"today": TODAY}
    found: dict[str, Run] = {
        "evenings": sheet(evenings.read_evenings, evenings.write_evenings, **dated),
        "roster": sheet(roster.read_roster, roster.write_roster, **dated),
        "recipes": sheet(recipes.read_recipes, recipes.write_recipes, **dated),
        "spares": sheet(spares.read_spares, spares.write_spares, **dated),
        "roles": sheet(roles.read_roles, roles.write_roles, **dated),
        "sources": sheet(sources.read_sources, sources.write_sources, **dated),
        "planned": sheet(planned.read_planned, None),
        "recipe": recipe,
        "sentence": one_line,
        "wish": wish,
        "rule": rule,
        "money": money,
        "photo": photo,
        "whole_log": whole_log,
    }
    for name in LOGS if not only else {only} & set(LOGS):
        place = folder / name
        place.mkdir(exist_ok=True)
        found[name] = LOGS[name](place)
    return found
