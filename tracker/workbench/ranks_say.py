"""What a plan of ranks goes by: measures, turns, places that are kept, the order as it stands."""

from __future__ import annotations

import re
from collections.abc import Sequence

from tracker.domain.bases import parse_base
from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean
from tracker.domain.ranks import (
    TURNS,
    Placed,
    RankModel,
    RankNotes,
    Reach,
    place_name,
)
from tracker.domain.text import tidy
from tracker.ranking.holds import read_hold
from tracker.ranking.reach import off_base, reach_text, read_reach
from tracker.store.ranks import rank_notes, set_places, set_rank_model
from tracker.store.read import one_unit
from tracker.workbench.desk import Desk
from tracker.workbench.models import number_ranges, said_models
from tracker.workbench.naming import shown, the_unit
from tracker.workbench.ranks import Seen, see
from tracker.workbench.ranks_places import (
    STEM_MOST_MM,
    refuse_on_larger_bases,
    refuse_pose,
    refuse_unfit,
    single_place,
    stored_order,
)
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words


def measure(desk: Desk, unit: str, models: str, said: str, *, army: str | None = None) -> Changed:
    """Note what a ruler says of models, on the base they have now; "" takes it away."""
    reach = None
    if tidy(said):
        read = read_reach(said)
        if isinstance(read, Problem):
            raise DataError(read)
        reach = read
    with desk.open() as store, store.change("ranks") as change:
        known = the_unit(store, unit, army)
        base, notes = one_unit(store, known.id).base, rank_notes(store, known.id)
        if reach is not None and not base:
            mend = f"Say it: lastcoat ranks set {shown(known.name)} --base 20x20"
            raise DataError(Problem("ranks", f"{shown(known.name)} has no base", mend))
        cuts: tuple[int, ...] = ()
        if reach is not None and len(reach.front) > 1:
            cuts = notes.rules.cuts_mm
            if len(reach.front) != len(cuts) + 1:
                what = f"{len(reach.front)} height bands are said, the unit has {len(cuts) + 1}"
                mend = "Say one number for each edge, or as many, or set others: lastcoat ranks set --bands"
                raise DataError(Problem("reach", what, mend))
        chosen = said_models(store, known.id, known.name, models)
        large = {block.model_id for block in notes.blocks}
        for model, _ in chosen:
            if reach is not None and model not in large:
                _refuse_off_base(reach, base)
            before = _note_of(notes, model)
            set_rank_model(
                store,
                before._replace(
                    reach=reach, base=base if reach else "", cuts_mm=cuts,
                    measured_on=desk.evening_day() if reach else None,
                ),
            )  # fmt: skip
        what = reach_text(reach) if reach else "not measured"
        done = Changed(f"{known.name} {_numbers(chosen)}: reach {what}")
        change.words = done.words()
    return done


def _refuse_off_base(reach: Reach, said: str) -> None:
    base = parse_base(said)
    problem = base if isinstance(base, Problem) else off_base(reach, base)
    if problem:
        raise DataError(problem)


def _note_of(notes: RankNotes, model: int) -> RankModel:
    return next((one for one in notes.models if one.model_id == model), RankModel(model))


def _numbers(chosen: Sequence[tuple[int, int]]) -> str:
    return number_ranges([number for _, number in chosen])


def pose(
    desk: Desk, unit: str, models: str, *, turns: str | None = None, stems: str | None = None,
    army: str | None = None,
) -> Changed:  # fmt: skip
    """Say how models may be turned, and how high their stems may be; "" = as the unit's, no choice."""
    if turns is None and stems is None:
        raise UsageError(Problem("turns", "nothing is said", "Say front, half or any, or --stems"))
    if turns and turns not in TURNS:
        mend = did_you_mean(turns, list(TURNS), f"One of: {', '.join(TURNS)}")
        raise DataError(Problem("turns", f"{shown(turns)} is no way to turn", mend))
    heights = None if stems is None else read_stems(stems)
    with desk.open() as store, store.change("ranks") as change:
        known = the_unit(store, unit, army)
        notes = rank_notes(store, known.id)
        chosen = said_models(store, known.id, known.name, models)
        for model, _ in chosen:
            after = _note_of(notes, model)
            after = after if turns is None else after._replace(turns=turns)
            set_rank_model(store, after if heights is None else after._replace(stems_mm=heights))
        parts = [] if turns is None else [f"turns {turns or 'as the unit'}"]
        if heights is not None:
            parts.append(f"stems {', '.join(map(str, heights))} mm" if heights else "one stem")
        done = Changed(f"{known.name} {_numbers(chosen)}: {', '.join(parts)}")
        change.words = done.words()
    return done


def read_stems(text: str) -> tuple[int, ...]:
    """Heights from "0,15,30", rising, each once; "" = none."""
    parts = [part.strip() for part in text.split(",")] if tidy(text) else []
    if any(not re.fullmatch(r"\d{1,3}", part) or int(part) > STEM_MOST_MM for part in parts):
        what = f"{shown(text)} are no stem heights"
        raise DataError(Problem("--stems", what, f'Say whole mm up to {STEM_MOST_MM}, like "0,15,30"'))
    return tuple(sorted({int(part) for part in parts}))


def hold(desk: Desk, unit: str, models: str, place: str, *, army: str | None = None) -> Changed:
    """Models keep a place ("B1") or a rank ("rank 2", "front", "back") in every plan; "" frees them."""
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        chosen = said_models(store, it.unit.id, it.unit.name, models)
        word = _hold_word(it, place, len(chosen))
        if word:
            refuse_on_larger_bases(it, chosen)
        for model, _ in chosen:
            set_rank_model(store, _note_of(it.notes, model)._replace(place=word))
        if word:  # Holds that contradict each other are refused; freeing one is how they are mended.
            see(store, it.unit.name, it.army).board()
        what = f"keeps {word}" if len(chosen) == 1 else f"keep {word}"
        done = Changed(f"{it.unit.name} {_numbers(chosen)}: {what if word else 'free to go anywhere'}")
        change.words = done.words()
    return done


def _hold_word(it: Seen, place: str, many: int) -> str:
    if not tidy(place):
        return ""
    read = read_hold(place, it.files, it.ranks)
    if isinstance(read, Problem):
        raise DataError(read)
    file, rank = read
    if file is not None and many > 1:
        raise DataError(
            Problem("place", "one place for several models", "Hold them one at a time, or a rank")
        )
    return place_name(file, rank) if file is not None else f"rank {rank}"


def put(
    desk: Desk, unit: str, models: str, place: str, *, turn: int | None = None, stem: int | None = None,
    army: str | None = None,
) -> Changed:  # fmt: skip
    """One model stands at a place from now on; the one that stood there takes the place it had."""
    refuse_pose(turn, stem)
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        chosen = said_models(store, it.unit.id, it.unit.name, models)
        if len(chosen) != 1:
            raise DataError(Problem("models", "one place for several models", "Put them one at a time"))
        refuse_on_larger_bases(it, chosen)
        model, number = chosen[0]
        file, rank = single_place(it, place)
        now = {one.model_id: one for one in it.now}
        before = now.get(model)
        there = next((one for one in it.now if (one.file, one.rank) == (file, rank)), None)
        if there is not None and there.model_id != model:
            now.pop(there.model_id)
            if before is not None:
                now[there.model_id] = there._replace(file=before.file, rank=before.rank)
        after = (before or Placed(model, file, rank))._replace(file=file, rank=rank)
        after = after if turn is None else after._replace(turn=turn)
        now[model] = after if stem is None else after._replace(stem_mm=stem)
        set_places(store, it.unit.id, stored_order(it, now.values()))
        turned = f", turned by {turn}" if turn else ""
        done = Changed(f"{it.unit.name} {number}: stands at {place_name(file, rank)}{turned}")
        change.words = done.words()
    return done


def take(desk: Desk, unit: str, placed: Sequence[Placed], *, army: str | None = None) -> Changed:
    """The unit stands like this from now on."""
    with desk.open() as store, store.change("ranks") as change:
        it = see(store, unit, army)
        mine = set(it.model_ids)
        kept = [one for one in stored_order(it, placed) if one.model_id in mine]
        if not kept:
            raise DataError(
                Problem("ranks", "the plan places no model", "Plan it again: lastcoat ranks plan")
            )
        refuse_unfit(it, kept)
        set_places(store, it.unit.id, kept)
        stand = "stands" if len(kept) == 1 else "stand"
        done = Changed(f"{it.unit.name}: {count_words(len(kept), 'model')} {stand} as planned")
        change.words = done.words()
    return done
