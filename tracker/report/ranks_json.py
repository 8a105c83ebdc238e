"""A unit's ranks and sizes as JSON documents; the keys carry the quantities."""

from __future__ import annotations

from typing import Any

from tracker.domain.answers import Doubt
from tracker.domain.answers_ranks import Cures, FillerAnswer, FitAnswer, Joint, RankAnswer, SizeAnswer, Swap
from tracker.domain.bases import MM_PER_INCH
from tracker.domain.ranks import Block, place_name

Json = dict[str, Any]


def ranks_json(answer: RankAnswer) -> Json:
    """The order and what clashes in it; models by id and number, places like "B1", turns clockwise."""
    return {
        "army": answer.army,
        "unit": answer.unit,
        "is_plan": answer.is_plan,
        "seed": answer.seed,
        "files": answer.files,
        "ranks": answer.ranks,
        "base": answer.base,
        "place_width_mm": _mm(answer.cell_mm[0]),
        "place_depth_mm": _mm(answer.cell_mm[1]),
        "rules": _rules(answer),
        "status": answer.status,
        "joints_all": answer.all_joints,
        "worst_clash_mm": _mm(answer.worst_mm),
        "total_clash_mm": _mm(answer.total_mm),
        "total_clash_at_least_mm": _mm(answer.at_least_mm),
        "unchecked_claims_count_percent": round(100 * answer.trust, 2),
        "checked_pairs": answer.checks,
        "past_front_edge_mm": answer.front_mm,
        "past_edges": [{"place": one.place, "side": one.side, "past_mm": one.mm} for one in answer.overhangs],
        "models": _models(answer),
        "blocks": [_block(block) for block in answer.blocks],
        "joints": [_joint(joint) for joint in answer.joints],
        "swaps": [_swap(swap) for swap in answer.swaps],
        "cures": None if answer.cures is None else _cures(answer.cures),
        "doubts": _doubts(answer.doubts),
    }


def _mm(length: float) -> float:
    return round(length, 2) + 0.0


def _doubts(doubts: tuple[Doubt, ...]) -> list[Json]:
    return [{"code": doubt.code, "text": doubt.text} for doubt in doubts]


def _rules(answer: RankAnswer) -> Json:
    rules = answer.rules
    return {
        "bands_part_at_mm": list(rules.cuts_mm),
        "gap_mm": _mm(rules.gap_mm),
        "margin_mm": _mm(rules.margin_mm),
        "turns": rules.turns,
        "past_front_edge_most_mm": rules.front_most_mm,
        "least_models": rules.least_models,
        "least_percent": rules.least_percent,
    }


def _models(answer: RankAnswer) -> list[Json]:
    placed = {one.model_id: one for one in answer.placed}
    out = []
    for model in answer.models:
        at = placed.get(model.model_id)
        out.append(
            {
                "id": model.model_id,
                "number": model.number,
                "name": model.name,
                "is_measured": model.measured,
                "is_held": model.held,
                "place": at.place if at else None,
                "turn_degrees": at.turn if at else None,
                "stem_mm": at.stem_mm if at else None,
            }
        )
    return out


def _block(block: Block) -> Json:
    return {
        "kind": block.kind,
        "name": block.name,
        "place": place_name(block.file, block.rank),
        "files": block.files,
        "ranks": block.ranks,
        "models": block.models,
        "model_id": block.model_id,
    }


def _joint(joint: Joint) -> Json:
    def side(model_id: int, place: str, edge: str, stem_mm: int) -> Json:
        return {"model_id": model_id, "place": place, "own_edge": edge, "stem_mm": stem_mm}

    return {
        "first": side(joint.first, joint.first_place, joint.first_edge, joint.first_stem_mm),
        "second": side(joint.second, joint.second_place, joint.second_edge, joint.second_stem_mm),
        "is_beside": joint.beside,
        "clash_mm": _mm(joint.mm),
        "is_checked": joint.checked,
    }


def _swap(swap: Swap) -> Json:
    return {
        "act": swap.act,
        "model_id": swap.model_id,
        "place": swap.place or None,
        "to_place": swap.to_place or None,
        "other_model_id": swap.other_id,
        "turn_degrees": swap.turn,
        "stem_mm": swap.stem_mm,
    }


def _cures(cures: Cures) -> Json:
    return {
        "gap_at_every_joint_mm": _mm(cures.gap_mm),
        "tray_wider_mm": _mm(cures.wider_mm),
        "tray_deeper_mm": _mm(cures.deeper_mm),
        "tray_wider_if_ranks_slide_mm": _mm(cures.slid_wider_mm),
        "low_fillers": cures.calm_models,
        "low_fillers_for_model_ids": list(cures.calm_ids),
        "turns_free_it": cures.turns_help,
        "stem_mm": cures.stem_mm,
        "model_ids_in_the_way": list(cures.blockers),
    }


def _room(room_mm: tuple[float, float]) -> Json:
    width, depth = room_mm
    return {
        "width_mm": _mm(width),
        "depth_mm": _mm(depth),
        "width_inches": round(width / MM_PER_INCH, 3),
        "depth_inches": round(depth / MM_PER_INCH, 3),
    }


def size_json(answer: SizeAnswer) -> Json:
    """Footprint and tray, each as width and depth in mm and inches."""
    tray = answer.tray
    return {
        "what": answer.what,
        "files": answer.files,
        "ranks": answer.ranks,
        "base": answer.base,
        "models": answer.models,
        "models_in_last_rank": answer.last_rank,
        "footprint": _room(answer.footprint_mm),
        "staggered_footprint": None if answer.staggered_mm is None else _room(answer.staggered_mm),
        "tray_inside_least": _room(tray.inside_mm[0]),
        "tray_inside_most": _room(tray.inside_mm[1]),
        "tray_outside_least": _room(tray.outside_mm[0]),
        "tray_outside_most": _room(tray.outside_mm[1]),
        "tray_wall_mm": _mm(tray.wall_mm),
        "minimum_models": answer.min_models,
        "warnings": list(answer.warnings),
        "earlier_bases": [{"base": base, "until": day} for base, day in answer.earlier_bases],
    }


def fit_json(answer: FitAnswer) -> Json:
    """How many bases lie on a tray."""
    return {
        "tray": _room(answer.tray_mm),
        "base": answer.base,
        "files": answer.files,
        "ranks": answer.ranks,
        "bases": answer.files * answer.ranks,
        "spare": _room(answer.spare_mm),
        "is_turned": answer.turned,
    }


def fillers_json(answer: FillerAnswer) -> Json:
    """What fillers of one size do for a unit; hours by the percent of the forecast."""
    saved = answer.saved_hours
    return {
        "army": answer.army,
        "unit": answer.unit,
        "places": answer.cells,
        "filler_files": answer.block[0],
        "filler_ranks": answer.block[1],
        "fillers_most": answer.most_fillers,
        "models_then": answer.models_then,
        "minimum_models": answer.min_models,
        "one_filler_saves_hours": None
        if saved is None
        else {level: round(hours, 2) + 0.0 for level, hours in zip(("10", "50", "90"), saved, strict=True)},
        "one_filler_saves_days": answer.saved_days,
        "doubts": _doubts(answer.doubts),
    }
