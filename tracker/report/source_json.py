"""Deals, costs and months as JSON. Amounts are text, so that no reader makes a binary fraction of them."""

from __future__ import annotations

from decimal import Decimal

from tracker.domain.answers_sources import CostRow, CostsAnswer, DealTold, MonthsAnswer, Purse, SourcesAnswer
from tracker.report.answers import Json

_CENT = Decimal("0.01")


def sources_json(answer: SourcesAnswer) -> Json:
    """Every deal with what it was about."""
    return {
        "as_of": answer.as_of.isoformat(),
        "unit": answer.unit,
        "source": answer.noted,
        "doubts": [],
        "deals": [_deal_json(told) for told in answer.deals],
    }


def _deal_json(told: DealTold) -> Json:
    deal = told.deal
    return {
        "deal": deal.id,
        "date": deal.day.isoformat(),
        "how": deal.how,
        "models": [
            {"army": part.army, "unit": part.unit, "numbers": list(part.numbers)} for part in told.parts
        ],
        "spares": list(told.spares),
        "whom": deal.whom,
        "amount": _text(deal.amount),
        "currency": deal.currency,
        "postage": _text(deal.postage),
        "exchange": deal.exchange,
        "note": deal.note,
    }


def costs_json(answer: CostsAnswer) -> Json:
    """Units, armies, spares, the desk and all of it; null where there is nothing to say."""
    return {
        "as_of": answer.as_of.isoformat(),
        "doubts": [],
        "units": [cost_json(row) for row in answer.units],
        "armies": [cost_json(row) for row in answer.armies],
        "spares": None if answer.spares is None else cost_json(answer.spares),
        "desk": None if answer.desk is None else cost_json(answer.desk),
        "total": None if answer.total is None else cost_json(answer.total),
        "not_counted": [note._asdict() for note in answer.not_counted],
    }


def cost_json(row: CostRow) -> Json:
    """One row; amounts are exact but for those per model, which are rounded to 0.01."""
    ready = row.minutes_a_ready_model
    return {
        "army": row.army,
        "unit": row.unit,
        "models": row.models,
        "paid": purse_json(row.paid),
        "got": purse_json(row.got),
        "paid_per_model": purse_json({c: amount.quantize(_CENT) for c, amount in row.paid_a_model.items()}),
        "minutes": round(row.minutes, 2),
        "untimed_lines": row.untimed_lines,
        "models_table_ready": row.ready_models,
        "minutes_per_table_ready_model": None if ready is None else round(ready, 2),
    }


def months_json(answer: MonthsAnswer) -> Json:
    """Months, the newest first."""
    return {
        "as_of": answer.as_of.isoformat(),
        "doubts": [],
        "months": [
            {
                "month": f"{month.first:%Y-%m}",
                "models_in": month.models_in,
                "models_out": month.models_out,
                "paid": purse_json(month.paid),
                "got": purse_json(month.got),
                "swaps": month.swaps,
                "gifts": month.gifts,
            }
            for month in answer.months
        ],
    }


def purse_json(purse: Purse) -> Json:
    """Amounts as text by currency."""
    return {currency: _text(purse[currency]) for currency in sorted(purse)}


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else f"{amount:f}"
