"""Recipes in a line: read, written, and the same again; one clear problem for each mistake."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.recipe_words import TECHNIQUE_WORDS, by_area
from tracker.domain.recipes import AREAS, CERTAINTIES, TECHNIQUES, RecipeStep
from tracker.domain.text import tidy
from tracker.sheets.recipe_text import read_recipe_text
from tracker.sheets.recipe_written import write_recipe_text

_WORDS = st.one_of(
    st.sampled_from(["dark red", "wash", "2:1", "edge", "matt", "thinned with", "a:b", '2" one', "sure?"]),
    st.sampled_from(sorted(TECHNIQUE_WORDS)),
    st.text(alphabet=st.characters(exclude_categories=["Cs"]), max_size=12),
).map(tidy)  # fmt: skip
_NEEDED = _WORDS.filter(bool)


@st.composite
def steps(draw: st.DrawFn) -> tuple[RecipeStep, ...]:
    """Steps of which the short form can tell everything."""
    out = []
    for place in range(1, draw(st.integers(1, 5)) + 1):
        technique = draw(st.sampled_from(["", *TECHNIQUES]) | _NEEDED)
        paint = draw(_WORDS) if technique else draw(_NEEDED)
        mix = draw(st.sampled_from(["", "2:1", "1:1:3", "1.5:1"]))
        medium = draw(_WORDS) if paint or mix else ""
        step = RecipeStep(
            0, 0, place, draw(st.sampled_from(AREAS) | _NEEDED), technique, paint, mix, medium,
            certainty=draw(st.sampled_from(CERTAINTIES)), swatch=draw(st.sampled_from(["", "#7a1f1f"])),
        )  # fmt: skip
        out.append(step)
    return tuple(out)


def in_order(said: tuple[RecipeStep, ...]) -> list[RecipeStep]:
    """Area by area, as the text tells them."""
    flat = [step._replace(area=area) for area, group in by_area(said) for step in group]
    return [step._replace(place=place) for place, step in enumerate(flat, start=1)]


@given(steps())
@settings(max_examples=40)
def test_what_is_written_is_read_again(said: tuple[RecipeStep, ...]) -> None:
    found = read_recipe_text(write_recipe_text(said))
    assert found.problems == ()
    assert list(found.steps) == [_known(step) for step in in_order(said)]


def _known(step: RecipeStep) -> RecipeStep:
    """A word for one of the trade's techniques is that technique."""
    if step.technique in TECHNIQUE_WORDS:
        return step._replace(technique=TECHNIQUE_WORDS[step.technique])
    return step


@given(st.text(max_size=60) | st.text(alphabet='ab:;,?"[]#2 \n', max_size=30))
@settings(max_examples=40)
def test_any_text_is_steps_or_a_problem(text: str) -> None:
    found = read_recipe_text(text)
    assert found.steps or found.problems
    assert all(step.area and (step.paint or step.technique) for step in found.steps)
    if not found.problems:
        assert read_recipe_text(write_recipe_text(found.steps)).problems == ()


def test_the_words_of_the_issue() -> None:
    found = read_recipe_text("cloth: dark red, wash, mid red 2:1 water, orange edge?\ntrim: gold??")
    assert found.problems == ()
    assert found.steps == (
        RecipeStep(0, 0, 1, "cloth", "", "dark red"),
        RecipeStep(0, 0, 2, "cloth", "wash"),
        RecipeStep(0, 0, 3, "cloth", "", "mid red", "2:1", "water"),
        RecipeStep(0, 0, 4, "cloth", "edge", "orange", certainty="probable"),
        RecipeStep(0, 0, 5, "trim", "", "gold", certainty="guess"),
    )
    again = "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold??"
    assert write_recipe_text(found.steps) == again


@pytest.mark.parametrize(
    ("text", "technique", "paint", "mix", "medium"),
    [
        ("a: drybrush bone", "drybrush", "bone", "", ""),
        ("a: dark red + black 2:1 wash", "wash", "dark red + black", "2:1", ""),
        ("a: mid red layer 2:1 water", "layer", "mid red", "2:1", "water"),
        ("a: brown thinned with water wash", "wash", "brown", "", "water"),
        ("a: orange edge highlight", "edge", "orange", "", ""),
        ('a: "dark red wash"', "", "dark red wash", "", ""),
        ("a: [mud in two coats] brown", "mud in two coats", "brown", "", ""),
        ("a: edge blue", "", "edge blue", "", ""),
        ("a: Base Coat", "base", "", "", ""),
    ],
)
def test_words_of_one_step(text: str, technique: str, paint: str, mix: str, medium: str) -> None:
    (step,) = read_recipe_text(text).steps
    assert step[4:8] == (technique, paint, mix, medium)


def test_a_varnish_knows_its_sheen_and_a_colour_its_code() -> None:
    one, two = read_recipe_text("all: matt varnish, red #7A1F1F?").steps
    assert (one.technique, one.paint, one.sheen) == ("varnish", "", "matt")
    assert (two.paint, two.swatch, two.certainty) == ("red", "#7a1f1f", "probable")
    assert write_recipe_text([one, two]) == "all: matt varnish, red #7a1f1f?"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "there are no steps in it"),
        ("dark red, wash", '"dark red, wash" names no area'),
        (": dark red", '": dark red" names no area'),
        ("cloth:", 'the area "cloth" has no steps'),
        ("cloth: 2:1 water", '"2:1 water" names no paint and no technique'),
        ("cloth: ?", '"?" names no paint and no technique'),
        ("cloth: red 2:1 1:1", '"red 2:1 1:1" has two mixes'),
        ("cloth: red 0:0", '"red 0:0" mixes nothing'),
        ("cloth: dark red trim: gold", '"dark red trim: gold" has a colon'),
        ("cloth: red???", '"red???" has too many question marks'),
        ('cloth: "dark red', 'the quotation marks of ""dark red" do not add up'),
        ("cloth: [mud brown", 'the brackets of "[mud brown" do not add up'),
        ("cloth: red #7a1", '"red #7a1" has a colour that cannot be read'),
    ],
)
def test_a_mistake_is_one_problem(text: str, what: str) -> None:
    (problem,) = read_recipe_text(text).problems
    assert problem.what == what
    assert problem.mend
