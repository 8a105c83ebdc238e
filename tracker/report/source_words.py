"""Deals, costs and months in words and as JSON. Money is rounded only where it is shared by models."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from tracker.domain.answers_sources import (
    CostRow,
    CostsAnswer,
    DealTold,
    MonthsAnswer,
    NotCounted,
    Purse,
    SourcesAnswer,
)
from tracker.domain.money import plain
from tracker.domain.sources import WAYS_IN
from tracker.report.plain import (
    COLUMNS,
    Column,
    clip,
    count_words,
    date_words,
    doubt_lines,
    minutes_words,
    month_words,
    table,
    wrapped,
)

NO_DEAL = 'No deal is noted. Note one: lastcoat source add bought --unit "Spears" --cost "12.50 EUR"'
NO_COSTS = "Nothing is on the desk yet. Put a unit on it: lastcoat add --unit Spears --models 20"
MONTHS_HEAD = "Month by month: models in and out"
NO_MONTHS = "Nothing came in or went out yet."
_NAME_MOST = 40
_TEXT_MOST = 200
_CENT = Decimal("0.01")
_WHOLE = "All of it"
_ALL_COLUMNS = 70
"""Below, what a single model cost is left out of the table."""


def money_words(amount: Decimal, currency: str) -> str:
    """As in "12.50 EUR", "1,200 EUR"."""
    return f"{plain(amount):,} {currency}"


def purse_words(purse: Purse) -> list[str]:
    """Each currency by itself, by its letters."""
    return [money_words(purse[currency], currency) for currency in sorted(purse)]


def number_words(numbers: Sequence[int]) -> str:
    """Rising numbers in short: "1-5, 8"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(f"{a}" if a == b else f"{a}-{b}" for a, b in runs)


def sources_text(answer: SourcesAnswer, width: int = COLUMNS) -> str:
    """Every deal as a sentence."""
    if not answer.deals:
        out = wrapped(_none_words(answer), width)
    else:
        of = f" about {clip(answer.unit, _NAME_MOST)}" if answer.unit else ""
        out = [*wrapped(f"Deals{of}, the newest first", width), ""]
        for told in answer.deals:
            out += wrapped(deal_sentence(told), width, more="    ")
    if answer.noted:
        out += wrapped(f"The unit's own plan says: {clip(answer.noted, _TEXT_MOST)}", width, more="  ")
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _none_words(answer: SourcesAnswer) -> str:
    if not answer.unit:
        return NO_DEAL
    return f"No deal is noted about {clip(answer.unit, _NAME_MOST)}."


def deal_sentence(told: DealTold) -> str:
    """As in "3. 10 Mar 2026, bought: Spears 1-10, from a club table, for 12.50 EUR and 3 EUR postage."."""
    deal = told.deal
    out = f"{deal.id}. {date_words(deal.day)}, {deal.how}: {about_words(told)}"
    if deal.whom:
        out += f", {'from' if deal.how in WAYS_IN else 'to'} {clip(deal.whom, _TEXT_MOST)}"
    money = [] if deal.amount is None else [money_words(deal.amount, deal.currency)]
    money += [] if deal.postage is None else [f"{money_words(deal.postage, deal.currency)} postage"]
    money += [clip(deal.exchange, _TEXT_MOST)] if deal.exchange else []
    out += f", for {' and '.join(money)}" if money else ""
    return f"{out} ({clip(deal.note, _TEXT_MOST)})." if deal.note else f"{out}."


def about_words(told: DealTold) -> str:
    """As in "Spears 1-10 and spares 3-7", or "for the desk"."""
    parts = [f"{clip(part.unit, _NAME_MOST)} {number_words(part.numbers)}" for part in told.parts]
    parts += [f"spares {number_words(told.spares)}"] if told.spares else []
    return " and ".join(parts) or "for the desk"


def costs_text(answer: CostsAnswer, width: int = COLUMNS) -> str:
    """Army by army a table of units; then the spares, the desk, all of it; then what is in no sum."""
    if (not answer.units and answer.total is None) or not (answer.units or answer.spares or answer.desk):
        return "\n".join(wrapped(NO_COSTS, width))
    out = [f"What it cost, as of {date_words(answer.as_of)}", ""]
    out += cost_table(answer, width)
    out += ["", *wrapped(" ".join(cost_notes(answer)), width)]
    out += [line for words in not_counted_words(answer.not_counted) for line in wrapped(words, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def cost_table(answer: CostsAnswer, width: int) -> list[str]:
    """A row for every unit, the army's name over its units where there are several; a currency a line."""
    rows: list[CostRow] = []
    for army in answer.armies:
        mine = [row for row in answer.units if row.army == army.army]
        rows += [*([army] if len(mine) != 1 else []), *mine]
    loose = [(row, name) for row, name in ((answer.spares, "Spares"), (answer.desk, "For the desk")) if row]
    named = [(row, f"  {row.unit}" if row.unit else row.army) for row in rows] + loose
    if answer.total is not None and len(named) > 1:
        named.append((answer.total, _WHOLE))
    has_got = any(row.got for row, _ in named)
    narrow = width < _ALL_COLUMNS
    columns = (
        Column("Unit", gives=True), Column("Models", right=True), Column("Paid", right=True),
        Column("A model", right=True), Column("Got", right=True), Column("Hours", right=True),
        Column("A ready one", right=True),
    )  # fmt: skip
    left_out = {3, 6} if narrow else set()
    left_out |= set() if has_got else {4}
    shown = [i for i in range(len(columns)) if i not in left_out]
    lines = [line for row, name in named for line in _cost_lines(row, name)]
    return table([columns[i] for i in shown], [[line[i] for i in shown] for line in lines], width)


def _cost_lines(row: CostRow, name: str) -> list[tuple[str, ...]]:
    """The row, and one more for each further currency."""
    each = row.paid_a_model
    currencies = sorted({*row.paid, *row.got}) or [""]
    out: list[tuple[str, ...]] = []
    for place, currency in enumerate(currencies):
        first = place == 0
        paid = money_words(row.paid[currency], currency) if currency in row.paid else ""
        share = money_words(each[currency].quantize(_CENT), currency) if currency in each else ""
        got = money_words(row.got[currency], currency) if currency in row.got else ""
        ready = row.minutes_a_ready_model
        out.append((
            name if first else "",
            f"{row.models:,}" if first and row.models else "",
            paid, share, got,
            minutes_words(row.minutes) if first and row.minutes else "",
            minutes_words(ready) if first and ready else "",
        ))  # fmt: skip
    return out


def cost_notes(answer: CostsAnswer) -> list[str]:
    """What the figures are made of, and which time is in none of them."""
    out = ["Money and hours stay with each model, also when it joins another unit or leaves."]
    told = [row for row in (*answer.armies, answer.spares, answer.desk) if row]
    if len({currency for row in told for currency in (*row.paid, *row.got)}) > 1:
        out.append("Each currency stands by itself.")
    untimed = [(row.unit, row.untimed_lines) for row in answer.units if row.untimed_lines]
    if untimed:
        many = sum(count for _, count in untimed)
        names = ", ".join(f"{clip(unit, _NAME_MOST)} {count:,}" for unit, count in untimed)
        out.append(f"{count_words(many, 'line')} without minutes {_are(many)} in no figure: {names}.")
    return out


def _are(count: int) -> str:
    return "is" if count == 1 else "are"


def not_counted_words(notes: Iterable[NotCounted]) -> list[str]:
    """Units whose own note of their cost is in no sum, and why."""
    out = []
    for note in notes:
        said = f'{clip(note.unit, _NAME_MOST)} has the cost "{clip(note.text, _NAME_MOST)}" in its plan'
        if note.why == "deal":
            out.append(f"{said}; a deal tells what it cost, so that is not counted.")
        else:
            out.append(f'{said}, not counted: it is not written like "12.50 EUR".')
    return out


def months_text(answer: MonthsAnswer, width: int = COLUMNS) -> str:
    """A table of months, the newest first."""
    if not answer.months:
        return "\n".join(wrapped(NO_MONTHS, width))
    out = [f"{MONTHS_HEAD}, the newest first", "", *month_table(answer, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def month_table(answer: MonthsAnswer, width: int) -> list[str]:
    """A row a month, and one more for each further currency."""
    columns = (
        Column("Month"), Column("In", right=True), Column("Out", right=True),
        Column("Paid", right=True), Column("Got", right=True),
        Column("Swaps", right=True), Column("Gifts", right=True),
    )  # fmt: skip
    rows: list[tuple[str, ...]] = []
    for month in answer.months:
        for place, currency in enumerate(sorted({*month.paid, *month.got}) or [""]):
            counts = (month.models_in, month.models_out, month.swaps, month.gifts)
            came, went, swaps, gifts = (f"{n:,}" if n and not place else "" for n in counts)
            paid, got = (
                money_words(purse[currency], currency) if currency in purse else ""
                for purse in (month.paid, month.got)
            )
            rows.append((month_words(month.first) if not place else "", came, went, paid, got, swaps, gifts))
    return table(columns, rows, width)
