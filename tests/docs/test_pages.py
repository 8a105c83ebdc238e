"""The pages say what the program does, and lead where they say."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from tests.docs.make_pages import PAGES, is_stale, main
from tests.docs.places import DEVELOPERS, DOCS, README, ROOT, pages
from tests.docs.schema_page import schema_page
from tracker import __version__

DEMO = "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/lastcoat demo"
TESTS = "python3 -m venv .venv && .venv/bin/pip install -e '.[dev]' && .venv/bin/pytest"
LINK = re.compile(r"\[[^\]]+\]\(([^)\s]+)\)")


def text(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def anchors(page: Path) -> set[str]:
    titles = re.findall(r"(?m)^#+ (.*)$", text(page))
    return {re.sub(r"[^\w\- ]", "", title).strip().lower().replace(" ", "-") for title in titles}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_generated_page_is_up_to_date(page: Path) -> None:
    assert not is_stale(page), "run: python -m tests.docs.make_pages"


def test_the_generator_says_how_it_is_called(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--what"]) == 2
    assert "--check" in capsys.readouterr().err


def test_the_readme_opens_with_the_job_and_then_the_two_commands() -> None:
    title, job, see, demo, run, tests = text(README).split("\n\n")[:6]
    assert title == "# Lastcoat"
    assert job.startswith("Lastcoat is for the person who")
    assert (demo, tests) == (f"    {DEMO}", f"    {TESTS}")
    assert max(len(see), len(run)) < 80


def test_the_whole_check_runs_the_readmes_words() -> None:
    lines = text(ROOT / ".ci" / "run").splitlines()
    assert DEMO in lines
    assert TESTS in lines


@pytest.mark.parametrize("page", pages(), ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_somewhere(page: Path) -> None:
    for link in LINK.findall(text(page)):
        assert "://" not in link, "the pages need no network"
        path, _, anchor = link.partition("#")
        target = (page.parent / path).resolve() if path else page
        assert target.exists(), link
        if anchor:
            assert anchor in anchors(target), link


def test_every_page_is_in_the_index() -> None:
    listed = {(DOCS / link.partition("#")[0]).resolve() for link in LINK.findall(text(DOCS / "index.md"))}
    assert {page.resolve() for page in pages() if page.parent != ROOT} - {DOCS / "index.md"} <= listed


def test_every_table_has_its_sentence() -> None:
    assert "\n?\n" not in schema_page()


def test_the_changelog_knows_this_version() -> None:
    assert f"## {__version__}\n" in text(DOCS / "changelog.md")


def test_every_dependency_has_its_reason() -> None:
    project = tomllib.loads(text(ROOT / "pyproject.toml"))["project"]
    wanted = project["dependencies"] + project["optional-dependencies"]["dev"]
    lines = text(ROOT / "pyproject.toml").splitlines()
    for name in wanted:
        assert any(re.match(rf'\s*"{re.escape(name)}",\s+# \w', line) for line in lines), name


def test_the_house_is_described_room_by_room() -> None:
    rooms = {path.name for path in (ROOT / "tracker").iterdir() if (path / "__init__.py").exists()}
    described = set(re.findall(r"\| `tracker/(\w+)/`", text(DEVELOPERS)))
    assert rooms <= described


def test_no_line_of_a_page_that_is_written_by_hand_is_too_wide() -> None:
    for page in pages():
        for line in text(page).splitlines():
            assert len(line) <= 110 or line.startswith(("|", "    ", "<!--")), f"{page.name}: {line}"
