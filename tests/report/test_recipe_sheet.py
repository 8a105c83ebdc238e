"""The printed recipe: one sheet of the paper asked for, names harmless, swatches in their colours."""

from __future__ import annotations

import asyncio
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PageObject, PdfReader

from tests.browser import browser
from tests.report import samples
from tests.report.test_ranks_sheet import A4_POINTS, LETTER_POINTS, _Tags
from tracker.domain.answers_recipes import LikeVersion, RecipeLook, UsedBy
from tracker.domain.recipes import Recipe, RecipeStep, RecipeVersion
from tracker.report.recipe_sheet import recipe_sheet
from tracker.report.recipe_words import recipe_text

DAY = date(2026, 3, 1)


def a_look(steps: int = 6, name: str = "Red cloaks", words: str = "dark red") -> RecipeLook:
    """A recipe with so many steps, a third of them with a reminder."""
    version = RecipeVersion(2, 1, 2, None, words, words, DAY)
    return RecipeLook(
        Recipe(1, name, name.casefold(), words, DAY),
        version,
        tuple(
            RecipeStep(
                i, 2, i, f"area {i // 4}" if words == "dark red" else words, "wash", words, "2:1", "water",
                "big brush", "matt", "probable", "#7a1f1f" if i % 2 else "", words if i % 3 == 0 else "",
            )
            for i in range(1, steps + 1)
        ),
        (version._replace(number=1), version),
        (UsedBy("Host", words, 2, DAY), UsedBy("Host", "", 1, DAY)),
        LikeVersion(words, 1),
        (words,),
        ((words, words),),
    )  # fmt: skip


def printed(folder: Path, *pages: str) -> list[list[PageObject]]:
    """Each page as a browser prints it at the size it asks for; nothing else is asked for."""

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


def test_it_prints_on_one_sheet_and_names_are_words(tmp_path: Path) -> None:
    hostile = a_look(4, samples.HOSTILE[0], samples.HOSTILE[1])
    html = recipe_sheet(hostile)
    sheets = printed(
        tmp_path, recipe_sheet(a_look(18)), recipe_sheet(a_look(40), "letter"), recipe_sheet(a_look(45)), html
    )
    for (sheet, *more), points in zip(sheets, (A4_POINTS, LETTER_POINTS, A4_POINTS, A4_POINTS), strict=True):
        assert more == []
        # A4: 210 x 297 mm (ISO 216). Letter: 8.5 x 11 in (ANSI/ASME Y14.1).
        assert [float(side) for side in sheet.mediabox[2:]] == pytest.approx(points, abs=1.0)
    tags = _Tags()
    tags.feed(html)
    assert not tags.seen & {"script", "img", "a", "iframe", "object", "link", "form", "image", "use"}
    assert not any(name.startswith("on") or name in ("href", "src") for name in tags.attributes)
    words = sheets[0][0].extract_text()
    assert "Red cloaks, version 2 of 2, 1 Mar 2026" in words
    assert "#7a1f1f" in words


def test_swatches_have_their_colour_and_their_code() -> None:
    html = recipe_sheet(a_look(1))
    assert 'fill="#7a1f1f"' in html
    assert 'aria-label="colour #7a1f1f"' in html
    assert "dark red 2:1 water?" in html
    assert "default-src 'none'" in html
    assert "No steps yet." in recipe_sheet(a_look(0))


@pytest.mark.parametrize("width", [60, 80, 140])
def test_text_fits_and_is_harmless(width: int) -> None:
    for look in (a_look(12), a_look(4, samples.HOSTILE[0], samples.HOSTILE[1])):
        lines = recipe_text(look, width).split("\n")
        assert all(line.isprintable() for line in lines)
        assert max(map(len, lines)) <= width
