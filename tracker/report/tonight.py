"""What is ready to work on, in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from tracker.domain.caution_rules import hazards_of_material, hazards_of_step
from tracker.domain.cautions import CAUTIONS
from tracker.domain.ready import ReadyAnswer, ReadyLine
from tracker.domain.steps import find_step
from tracker.report.plain import COLUMNS, Column, clip, count_words, date_words, table, wrapped
from tracker.report.words import NOTHING_PLANNED

_SHOWN_MOST = 12
_CAUTIONS_OF = 3
"""Cautions are told for the first rows only: a page of warnings is read by nobody."""
_CAUTIONS_MOST = 4


def ready_text(answer: ReadyAnswer, width: int = COLUMNS) -> str:
    """What can be taken up now, first things first, and what is still drying."""
    if not answer.has_units:
        return NOTHING_PLANNED
    if not answer.models_left:
        return "Nothing left to do: everything on the desk is table-ready."
    shown = answer.ready[:_SHOWN_MOST]
    out = (
        _ready_table(shown, width)
        if shown
        else ["Nothing is ready this moment: it all waits for something to dry."]
    )
    if len(answer.ready) > len(shown):
        out.append(f"… and {len(answer.ready) - len(shown)} more.")
    if answer.drying:
        out.append("")
        out += [line for one in answer.drying[:_SHOWN_MOST] for line in _drying_lines(one, answer.now, width)]
    cautions = _cautions(shown[:_CAUTIONS_OF])
    return "\n".join([*out, *([""] if cautions else []), *cautions])


def ready_answer_text(
    ready: Sequence[ReadyLine],
    weather: Sequence[ReadyLine],
    drying: Sequence[ReadyLine],
    now: datetime,
    width: int = COLUMNS,
    *,
    cures: Sequence[str] = (),
) -> list[str]:
    """What can be taken up now, what waits for dry weather, what is drying, and the cautions for it.

    `cures` are lines about what cures and holds no step up.
    """
    shown = [*ready, *weather][:_SHOWN_MOST]
    out = _ready_table(shown, width) if shown else ["Nothing is ready this moment."]
    out += [line for one in drying[:_SHOWN_MOST] for line in _drying_lines(one, now, width)]
    return [*out, *cures, *_cautions(shown[:_CAUTIONS_OF])]


def _ready_table(lines: Sequence[ReadyLine], width: int) -> list[str]:
    columns = (
        Column("Ready to work on", gives=True),
        Column("Step", gives=True),
        Column("Models", right=True),
        Column("Note"),
    )
    return table(columns, [(one.unit, one.step, f"{one.models:,}", _remark(one)) for one in lines], width)


def _remark(line: ReadyLine) -> str:
    begun = f"{line.in_hand:,} in hand" if line.in_hand else ""
    needs = f"needs {line.gate}" if line.gate else ""
    return ", ".join(part for part in (begun, needs) if part)


def _drying_lines(line: ReadyLine, now: datetime, width: int) -> list[str]:
    if line.until is None:
        return []
    hour = f"{line.until:%H:%M}"
    day = "" if line.until.date() == now.date() else f" on {date_words(line.until.date())}"
    models = count_words(line.models, "model")
    words = f"Drying: {clip(line.unit, 30)}, {clip(line.step, 20)} of {models} from {hour}{day}."
    return wrapped(words, width, more="  ")


def _cautions(lines: Sequence[ReadyLine]) -> list[str]:
    """One line for the hazards of what is shown, each once; never cut, so it may be long.

    Materials and the main hazard of each step come first; of many the rest is one command away.
    """
    main: dict[str, None] = {}
    more: dict[str, None] = {}
    for line in lines:
        step = find_step(line.step)
        hazards = hazards_of_step(line.step)
        main.update(dict.fromkeys(hazards[:1]))
        more.update(dict.fromkeys(hazards[1:]))
        if step and step.family == "build":
            main.update(dict.fromkeys(hazards_of_material(line.material, lead_free=line.lead_free)))
    names = list(main | more)
    shown = names[:_CAUTIONS_MOST]
    out = [said for name in shown for said in wrapped(CAUTIONS[name].line, COLUMNS, "Care: ", "      ")]
    return out + (["More to mind: lastcoat caution"] if len(names) > len(shown) else [])


def ready_json(answer: ReadyAnswer) -> dict[str, object]:
    """What is ready and what is drying."""
    return {
        "as_of": answer.now.date().isoformat(),
        "doubts": [],
        "models_left": answer.models_left,
        "ready": [ready_line_json(line) for line in answer.ready],
        "drying": [ready_line_json(line) for line in answer.drying],
    }


def ready_line_json(line: ReadyLine) -> dict[str, object]:
    """One step that is ready or drying."""
    return {
        "army": line.army,
        "unit": line.unit,
        "step": line.step,
        "models": line.models,
        "in_hand": line.in_hand,
        "needs": line.gate,
        "dry_at": line.until.isoformat(timespec="minutes") if line.until else None,
    }
