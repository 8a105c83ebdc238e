"""A unit's ranks as a drawing at true scale: whole in itself, in millimetres, names harmless."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from tests.report import ranks_samples as ranked
from tests.report import samples
from tracker.domain.answers_ranks import RankAnswer
from tracker.domain.ranks import Block, Placed, RankRules
from tracker.report.drawings.mm import n
from tracker.report.drawings.ranks import ranks_svg, under_base

SVG = "{http://www.w3.org/2000/svg}"


def parsed(answer: RankAnswer) -> ET.Element:
    return ET.fromstring(ranks_svg(answer))  # noqa: S314 - our own file


def of(root: ET.Element, tag: str, kind: str) -> list[ET.Element]:
    return [one for one in root.iter(SVG + tag) if kind in one.get("class", "").split()]


HOSTILE_FILLER = ranked.FILLER._replace(name=samples.HOSTILE[2])


@pytest.mark.parametrize(
    "answer",
    [
        ranked.planned(),
        ranked.clear(),
        ranked.ranks(is_plan=False),
        ranked.ranks(samples.HOSTILE, samples.HOSTILE[1], blocks=(HOSTILE_FILLER,)),
    ],
)
def test_it_is_xml_that_runs_nothing_and_leads_nowhere(answer: RankAnswer) -> None:
    # SVG 1.1: script (18.2), a (17.1), image (5.7), use (5.6), foreignObject (23.3), xlink:href.
    root = parsed(answer)
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "style", "rect", "line", "circle", "polygon", "text", "ellipse"}
    assert not any("href" in name or name.startswith("on") for one in root.iter() for name in one.attrib)
    assert "url(" not in ranks_svg(answer)


def test_one_unit_is_one_millimetre() -> None:
    # SVG 1.1, 7.2 and 7.7: a viewBox as wide as the width in mm makes a user unit a millimetre.
    root = parsed(ranked.planned())
    _, _, width, height = (float(one) for one in root.get("viewBox", "").split())
    assert root.get("width") == f"{n(width)}mm"
    assert root.get("height") == f"{n(height)}mm"
    bases = of(root, "rect", "base")
    assert len(bases) == 7
    assert {(one.get("width"), one.get("height")) for one in bases} == {("20", "20")}
    (block,) = of(root, "rect", "block")
    assert (block.get("x"), block.get("y"), block.get("width"), block.get("height")) == (
        "20",
        "20",
        "40",
        "40",
    )


def test_gaps_stand_between_places() -> None:
    # 5 x 4 of 20 mm with 2 mm gaps = 108 x 86 mm (files * base + (files - 1) * gap).
    placed = tuple(Placed(i, (i - 1) % 5 + 1, (i - 1) // 5 + 1) for i in range(1, 21))
    gapped = ranked.ranks(files=5, ranks=4, blocks=(), placed=placed, joints=(), rules=RankRules(gap_mm=2.0))
    bases = of(parsed(gapped), "rect", "base")
    assert max(float(one.get("x", "")) + 20 for one in bases) == 108
    assert max(float(one.get("y", "")) + 20 for one in bases) == 86


def test_round_and_oval_bases_are_drawn_as_they_are() -> None:
    for base, cell in (("25 round", (25.0, 25.0)), ("60x35 oval", (60.0, 35.0))):
        root = parsed(ranked.ranks(base=base, cell_mm=cell))
        ellipses = of(root, "ellipse", "base")
        assert {(float(e.get("rx", "")) * 2, float(e.get("ry", "")) * 2) for e in ellipses} == {cell}


def test_a_clash_and_a_claim_differ_by_more_than_colour() -> None:
    root = parsed(ranked.planned())
    assert len(of(root, "circle", "claim")) == 2
    assert len(of(root, "polygon", "clash")) == 1
    words = [one.text for one in root.iter(f"{SVG}text")]
    assert {"6?", "3?", "3!", "FRONT", "Sp 4", "B2"} <= set(words)


def test_what_reaches_past_the_edge_is_as_long_as_it_is() -> None:
    lengths = set()
    for one in of(parsed(ranked.planned()), "line", "past"):
        x1, y1, x2, y2 = (float(one.get(name, "")) for name in ("x1", "y1", "x2", "y2"))
        lengths.add(abs(x2 - x1) + abs(y2 - y1))
    assert lengths == {4, 12, 3, 2}


@pytest.mark.parametrize(
    ("turn", "corner"), [(0, "10,0.4"), (90, "19.6,10"), (180, "10,19.6"), (270, "0.4,10")]
)
def test_the_wedge_points_where_the_model_looks(turn: int, corner: str) -> None:
    # Turns are clockwise as seen from above: by 90, the front looks to the right.
    answer = ranked.ranks(placed=(Placed(1, 1, 1, turn),), blocks=())
    (wedge,) = of(parsed(answer), "polygon", "looks")
    assert wedge.get("points", "").split()[0] == corner


def test_it_says_in_words_what_it_shows() -> None:
    desc = parsed(ranked.planned()).findtext(f"{SVG}desc") or ""
    assert "2 may clash, by the ruler" in desc
    assert "Rank 1: A1 1 Ostred, B1 2, C1 3 Wen, D1 4 the captain looking right." in desc


def test_a_large_model_stands_on_its_block() -> None:
    block = Block(1, "large model", 2, 2, 2, 2, 1, model_id=9)
    root = parsed(ranked.ranks(blocks=(block,), placed=(Placed(9, 2, 2),)))
    assert "Sp 9" in [one.text for one in root.iter(f"{SVG}text")]


def test_what_stands_under_a_base() -> None:
    assert under_base(ranked.ranks(unit="the old guard"), 4) == "Th 4"
    assert under_base(ranked.ranks(unit="???"), 4) == "4"
    assert under_base(ranked.ranks(), 404) == ""
