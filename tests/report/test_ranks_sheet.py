"""The printed plan: paper, ruler bar and bases measured on what a browser prints; names harmless."""

from __future__ import annotations

import asyncio
from html.parser import HTMLParser
from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pytest
from pypdf import PageObject, PdfReader

from tests.browser import browser
from tests.report import ranks_samples as ranked
from tests.report import samples
from tests.report.pdf_paths import Drawn, painted
from tracker.domain.answers_ranks import Overhang, RankAnswer, TraySize
from tracker.domain.ranks import Block, Placed, RankRules
from tracker.report.drawings.sheets import OVERLAP_MM, Paper, cuts, leaf_of
from tracker.report.ranks_sheet import ranks_sheet

# Points of a 72nd of an inch. A4: 210 x 297 mm (ISO 216). Letter: 8.5 x 11 in (ANSI/ASME Y14.1).
A4_POINTS = (210 / 25.4 * 72, 297 / 25.4 * 72)
LETTER_POINTS = (8.5 * 72, 11 * 72)


def printed(folder: Path, *pages: str) -> list[list[PageObject]]:
    """The sheets of each page as a browser prints it at the size it asks for."""

    async def run() -> list[bytes]:
        out = []
        async with browser(folder / "profile") as new_tab:
            for number, html in enumerate(pages):
                file = folder / f"sheet{number}.html"
                file.write_text(html, encoding="utf-8")
                tab = await new_tab()
                await tab.open(file.as_uri())
                out.append(await tab.print(own_size=True))
                assert set(tab.asked()) == {file.as_uri()}
                assert tab.complaints() == []
        return out

    return [list(PdfReader(BytesIO(pdf)).pages) for pdf in asyncio.run(run())]


def of_size(drawn: list[Drawn], width: float, height: float, within: float = 0.3) -> list[Drawn]:
    """Those of a size in mm; what is filled and then outlined is counted once."""
    found = [one for one in drawn if abs(one.width - width) < within and abs(one.height - height) < within]
    return list({(round(one.left, 2), round(one.bottom, 2)): one for one in found}.values())


def wide_unit() -> RankAnswer:
    """10 x 4 on 25 mm squares, 1 mm apart: 259 x 103 mm, wider than upright paper."""
    placed = tuple(Placed(i, (i - 1) % 10 + 1, (i - 1) // 10 + 1) for i in range(1, 41))
    return ranked.ranks(
        files=10, ranks=4, cell_mm=(25.0, 25.0), base="25x25", blocks=(), placed=placed, joints=(),
        overhangs=(), rules=RankRules(gap_mm=1.0),
    )  # fmt: skip


def large_unit() -> RankAnswer:
    """400 x 320 mm: wider and deeper than any paper."""
    block = Block(1, "filler", 1, 1, 8, 8, name="lake")
    return wide_unit()._replace(
        files=10, ranks=8, cell_mm=(40.0, 40.0), base="40x40", rules=RankRules(), blocks=(block,), placed=()
    )


def test_paper_bar_and_bases_have_their_true_size(tmp_path: Path) -> None:
    size = ranked.SIZE
    on_a4, on_letter, wide, large = printed(
        tmp_path,
        ranks_sheet(ranked.planned(), size, "a4"),
        ranks_sheet(ranked.planned(), size, "letter"),
        ranks_sheet(wide_unit(), size, "a4"),
        ranks_sheet(large_unit(), size, "letter"),
    )
    for sheets, points in ((on_a4, A4_POINTS), (on_letter, LETTER_POINTS), (wide, A4_POINTS[::-1])):
        for sheet in sheets:
            assert [float(side) for side in sheet.mediabox[2:]] == pytest.approx(points, abs=1.0)
    for sheets, plans in ((on_a4, 1), (on_letter, 1), (wide, 1), (large, len(large) - 1)):
        for sheet in sheets[:plans]:
            # The bar: 100 mm, with five filled tenths of it.
            drawn = painted(sheet)
            (bar,) = of_size(drawn, 100, 3)
            assert bar.width == pytest.approx(100, abs=0.3)
            assert len(of_size(drawn, 10, 3)) == 5
    assert len(large) > 4
    for sheets, cell, count in ((on_a4, 20, 7), (on_letter, 20, 7), (wide, 25, 40)):
        bases = of_size([one for one in painted(sheets[0]) if one.corners == 4], cell, cell, 0.1)
        assert len(bases) == count
    # The tray's floor with the most play, and the filler's own cut line: a dashed line comes out as the
    # outline of its dashes, so that its thickness of 0.3 mm counts.
    assert len(of_size(painted(on_a4[0]), 83.6 + 0.3, 63.2 + 0.3)) == 1
    assert len(of_size(painted(on_a4[0]), 40 + 0.3, 40 + 0.3, 0.1)) == 1
    assert len(of_size(painted(on_a4[0]), 40, 40, 0.1)) == 1
    # The pitch of places 1 mm apart is 26 mm (files * base + gaps, shared definition of a footprint).
    cells = of_size(painted(wide[0]), 25, 25, 0.1)
    assert max(one.left for one in cells) - min(one.left for one in cells) == pytest.approx(9 * 26, abs=0.3)


def test_hostile_names_print_as_words_and_ask_for_nothing(tmp_path: Path) -> None:
    hostile = ranked.ranks(
        samples.HOSTILE, samples.HOSTILE[1], blocks=(ranked.FILLER._replace(name=samples.HOSTILE[0]),)
    )
    html = ranks_sheet(hostile, ranked.SIZE._replace(what=samples.HOSTILE[2]))
    tags = _Tags()
    tags.feed(html)
    assert not tags.seen & {"script", "img", "a", "iframe", "object", "link", "form", "image", "use"}
    assert not any(name.startswith("on") or name in ("href", "src", "xlink:href") for name in tags.attributes)
    (sheets,) = printed(tmp_path, html)
    assert "alert(1)" in "".join(sheet.extract_text() for sheet in sheets)


class _Tags(HTMLParser):
    """Which elements and attributes a page has."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()
        self.attributes: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        self.attributes |= {name for name, _ in attrs}


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("length", [50.0, 189.9, 190.1, 259.4, 400.0, 1234.5])
def test_strips_cover_the_whole_length_and_share_their_edges(paper: Paper, length: float) -> None:
    room = leaf_of(paper, lying=False).width_mm
    strips = cuts(length, room)
    assert strips[0][0] == 0
    assert strips[-1][1] == pytest.approx(length)
    assert all(end - start <= room + 1e-9 for start, end in strips)
    assert all(one[1] - two[0] == pytest.approx(OVERLAP_MM) for one, two in pairwise(strips))


def test_the_page_says_who_stands_where() -> None:
    html = ranks_sheet(ranked.planned(), ranked.SIZE)
    assert "default-src 'none'; style-src 'unsafe-inline'" in html
    assert '<td>A1</td><td class="under">Sp 1</td><td>1 Ostred</td><td>front</td>' in html
    assert '<td>B2</td><td class="under"></td><td>well and cart</td>' in html
    assert "Measure this bar: 100 mm. If it is not, print at 100 %, without fitting to the page." in html
    assert "3 models beside the unit: 8-10." in html
    assert "A1-B1: 1 Ostred&#39;s right against 2&#39;s left, 6 mm" in html
    assert "1 Ostred (A1) and 3 Wen (C1) change places." in html
    assert "impossible" not in html


def test_a_filler_wider_than_the_paper_is_said_and_not_cut() -> None:
    html = ranks_sheet(large_unit(), ranked.SIZE)
    assert "Too large for this paper: lake (A1): 320 mm by 320 mm." in html
    assert "Pieces to cut" not in html


def test_many_fillers_take_sheets_of_their_own() -> None:
    blocks = tuple(Block(i, "filler", 2 * i - 1, 1, 2, 2, name=f"filler {i}") for i in range(1, 6))
    answer = large_unit()._replace(blocks=blocks)
    html = ranks_sheet(answer, ranked.SIZE)
    assert html.count('aria-label="Pieces to cut"') == 2  # four to a sheet
    assert html.count("80 x 80 mm, at ") == 5


def test_the_floor_is_never_smaller_than_the_unit() -> None:
    small = ranked.SIZE._replace(tray=TraySize(((10, 10), (10, 10)), ((14, 14), (14, 14)), 2.0))
    assert "floor 80 mm by 60 mm" in ranks_sheet(ranked.planned(), small)


def test_what_reaches_far_past_an_edge_stays_on_the_sheet() -> None:
    far = ranked.ranks(overhangs=(Overhang("A1", "left", 60), Overhang("D1", "right", 50)))
    assert ranks_sheet(far, ranked.SIZE).count('aria-label="Sheet 1 of 1"') == 1
