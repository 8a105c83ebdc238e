"""A unit's ranks in the terminal: the drawing, the words, whatever people are called."""

from __future__ import annotations

import json
import unicodedata

import pytest

from tests.report import ranks_samples as ranked
from tests.report import samples
from tracker.domain.answers_ranks import FillerAnswer, FitAnswer, Joint, RankAnswer, Swap
from tracker.domain.ranks import Block, Placed
from tracker.report import ranks_json, ranks_size_words, ranks_words
from tracker.report.plain import cells
from tracker.report.ranks_drawing import drawing, fits
from tracker.report.ranks_text import ranks_text


def test_the_drawing_at_80_columns() -> None:
    assert drawing(ranked.planned(), 80) == [
        "                                FRONT",
        "                           4",
        "    ┌──────────────┬───────┴──────┬──────────────┬──────────────┐",
        "    │ A1 ↑        6? B1 ↑         │ C1 ↑        3! D1 →         │",
        "    │ 1 Ostred     │ 2            │ 3 Wen        │ 4 the capta… │",
        "    ├──────────────┼──────────────┴──────────────┼──────────────┤",
        "    │ A2 ↑         │ B2                          │ D2 ↑         │",
        " 12 ┤ 6 Brannoch … │ well and cart               │ 5            ├ 3",
        "    ├───── 3? ─────┤                             ├──────────────┤",
        "    │ A3 ↓         │                             │ D3           │",
        "    │ 7            │                             │ · · · · · ·  │",
        "    └───────┬──────┴─────────────────────────────┴──────────────┘",
        "            2",
    ]


def test_with_ascii_signs_alone() -> None:
    lines = drawing(ranked.ranks(names=("Ostred",) * 10), 80, plain=True)
    assert lines[2:5] == [
        "    +--------------+-------+------+--------------+--------------+",
        "    | A1 ^        6? B1 ^         | C1 ^        3! D1 >         |",
        "    | 1 Ostred     | 2 Ostred     | 3 Ostred     | 4 Ostred     |",
    ]
    assert "\n".join(lines).isascii()


def test_ten_files_take_140_columns_and_a_table_80() -> None:
    wide = _wide(10, 2)
    assert not fits(wide, 80)
    assert "Place  Model" in ranks_text(wide, 80)
    assert fits(wide, 140)
    text = ranks_text(wide, 140)
    assert "Place  Model" not in text
    assert "│ J2 ↑" in text


def test_a_table_under_80_columns() -> None:
    lines = ranks_text(ranked.planned(), 60).splitlines()
    assert lines[2:13] == [
        "Place     Model                 Looks  Joints",
        "--------  --------------------  -----  ------",
        "A1        1 Ostred              front  B1 6?",
        "B1        2                     front  A1 6?",
        "C1        3 Wen                 front  D1 3!",
        "D1        4 the captain         right  C1 3!",
        "A2        6 Brannoch of the l…  front  A3 3?",
        "B2 to C3  well and cart",
        "D2        5                     front",
        "A3        7                     back   A2 3?",
        "D3        nobody",
    ]


@pytest.mark.parametrize("width", [40, 60, 80, 140])
@pytest.mark.parametrize("names", [ranked.NAMES, samples.HOSTILE], ids=["plain", "hostile"])
@pytest.mark.parametrize("plain", [False, True])
def test_no_line_is_wider_than_the_terminal_or_steers_it(
    width: int, names: tuple[str, ...], plain: bool
) -> None:
    for answer in (ranked.planned(), ranked.ranks(names, names[0]), _wide(10, 2), _wide(1, 20)):
        for line in ranks_text(answer, width, plain=plain).split("\n"):
            assert cells(line) <= width, line
            # C0 and C1 controls and direction overrides (Unicode 15, table 2-3: Cc, Cf) steer a terminal;
            # joiners (U+200C, U+200D) only shape letters.
            assert not any(
                unicodedata.category(sign) in ("Cc", "Cf") and sign not in "\u200c\u200d" for sign in line
            )


def test_all_lines_of_a_frame_are_equally_wide_whatever_people_are_called() -> None:
    for width in (80, 140):
        frame = [
            line
            for line in drawing(ranked.ranks(samples.HOSTILE), width)
            if line.endswith(("│", "┐", "┤", "┘"))
        ]
        assert len(frame) >= 8
        assert len({cells(line) for line in frame}) == 1


def test_stems_have_a_line_of_their_own() -> None:
    raised = ranked.ranks(placed=(Placed(1, 1, 1, stem_mm=15), Placed(2, 2, 1)))
    assert "│ +15 mm" in "\n".join(drawing(raised, 80))
    assert "+15 mm" in ranks_text(raised, 60)


def test_a_joint_with_a_block_stands_on_the_blocks_edge() -> None:
    joint = Joint(6, "A2", "right", 99, "B2", "left", 4.0, checked=False)
    behind = Joint(3, "C1", "back", 99, "B2", "front", 1.0, checked=False, beside=False)
    lines = drawing(ranked.ranks(joints=(joint, behind)), 80)
    assert "4? B2" in lines[6]
    assert lines[5].index("1?") > lines[3].index("C1")
    assert ranks_words.joint_words(ranked.ranks(), joint) == (
        "A2-B2: 6 Brannoch of the long ro…'s right against well and cart's left, 4 mm"
    )


def test_of_two_marks_on_one_edge_the_worse_shows() -> None:
    far = Joint(1, "A1", "right", 3, "C1", "left", 2.0, checked=False)
    near = Joint(2, "B1", "right", 3, "C1", "left", 5.0, checked=False)
    lines = drawing(ranked.ranks(joints=(near, far)), 80)
    assert "5? C1" in lines[3]
    assert not any("2?" in line for line in lines)


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (ranked.clear(), "No clash at any of 13 joints, by what was measured and checked."),
        (
            ranked.planned(),
            (
                "The plan: of 13 joints 1 clashes, as you found by hand, and 2 may clash, by the ruler; 6 mm"
                " at the worst, 11.5 mm in all. It is the best found; by these figures no order has less than"
                " 4 mm"
                " in all."
            ),
        ),
        (
            ranked.ranks(joints=ranked.JOINTS[:1], status="proved best"),
            "The plan: of 13 joints 1 may clash, by the ruler; 6 mm. By these figures no order is better.",
        ),
        (
            ranked.ranks(joints=ranked.JOINTS[1:2], is_plan=False, at_least_mm=0.0),
            "As it stands: of 13 joints 1 clashes, as you found by hand; 2.5 mm.",
        ),
        (
            ranked.ranks(joints=(), models=()),
            "Nothing is measured yet, so nothing is known of 13 joints.",
        ),
    ],
)  # fmt: skip
def test_the_status_is_honest(answer: RankAnswer, words: str) -> None:
    assert ranks_words.status_words(answer) == words


def test_less_trust_in_claims_is_said() -> None:
    assert ranks_words.trust_words(ranked.ranks()) == ""
    assert "at 12 % of their mm" in ranks_words.trust_words(ranked.ranks(trust=0.12))


def test_at_most_eight_joints_are_listed() -> None:
    joints = tuple(Joint(1, "A1", "right", 2, "B1", "left", 20.0 - i, checked=False) for i in range(13))
    lines = ranks_text(ranked.ranks(joints=joints), 80).splitlines()
    assert "  and 5 more" in lines
    assert lines[lines.index("  and 5 more") - 1].endswith("13 mm")


@pytest.mark.parametrize(
    ("swap", "words"),
    [
        (Swap("swap", 1, "A1", "C1", 3), "1 Ostred (A1) and 3 Wen (C1) change places"),
        (Swap("swap", 8, "", "C1", 3), "8, from beside the unit, takes C1 from 3 Wen"),
        (Swap("swap", 3, "C1", "", 8), "8, from beside the unit, takes C1 from 3 Wen"),
        (Swap("move", 8, "", "C1"), "8 from beside the unit to C1"),
        (Swap("move", 8, "C1", ""), "8 from C1 out, beside the unit"),
        (Swap("turn", 4, "D1", turn=270), "4 the captain at D1: turn it, to look left"),
        (Swap("stem", 4, "D1", stem_mm=15), "4 the captain at D1: stem 15 mm higher than as measured"),
        (Swap("stem", 4, "D1"), "4 the captain at D1: stem as measured"),
    ],
)
def test_swaps_in_words(swap: Swap, words: str) -> None:
    assert ranks_words.swap_words(ranked.ranks(), swap) == words


def test_the_next_thing_to_type() -> None:
    def last(answer: RankAnswer) -> str:
        return " ".join(ranks_text(answer, 140).partition("\nNext: ")[2].split())

    assert last(ranked.planned()).startswith("lastcoat ranks check Spears A1-B1 fits (")
    assert "--as-it-stands" in last(ranked.ranks(is_plan=False))
    assert last(ranked.ranks(is_plan=False, joints=ranked.JOINTS[1:2])) == "lastcoat ranks plan Spears"
    assert last(ranked.clear()).startswith("lastcoat ranks sheet Spears")
    bare = tuple(model._replace(measured=False) for model in ranked.ranks().models)
    assert last(ranked.ranks(models=bare)).startswith('lastcoat ranks measure Spears 1 "6 -4 0 2"')


@pytest.mark.parametrize(
    ("name", "said"),
    [("Spears", "Spears"), ("the old guard", '"the old guard"'), ("$(reboot)", "UNIT"), ("`x`", "UNIT"),
     ('a"b', "UNIT"), ("-x", "UNIT"), ("\x1b[2J", "UNIT")],
)  # fmt: skip
def test_a_name_that_a_shell_takes_apart_is_not_offered_for_typing(name: str, said: str) -> None:
    assert ranks_words.typed(name) == said


def test_places_and_numbers() -> None:
    assert ranks_words.place_of("AB12") == (28, 12)
    assert [ranks_words.place_of(name) for name in ("", "B0", "1B", "b1")] == [None] * 4
    assert ranks_words.numbers_words([8, 3, 5, 6, 7]) == "3, 5-8"


def test_cures_in_words() -> None:
    text = ranks_text(ranked.planned(), 140)
    assert "A gap of 6 mm at every joint." in text
    assert "A tray 8.5 mm wider and 3 mm deeper; 6 mm wider if each rank may slide by itself." in text
    assert "2 low fillers of one place each, in place of 1 Ostred and 4 the captain." in text
    assert "In the way: 1 Ostred, 2 and 6 Brannoch" in text
    assert "Not measured, so nothing is claimed of them: 5, 8-9." in text
    assert "impossible" not in text


def test_sizes_in_words() -> None:
    text = ranks_size_words.size_text(ranked.SIZE)
    # 80 mm = 3.15 in and 60 mm = 2.36 in at 25.4 mm to the inch (ISO 80000-3).
    assert "80 x 60            3.15 x 2.36" in text
    assert "81-83.6 x 61-63.2" in text
    assert "The minimum you set: 9 models." in text
    assert "Bases before: 25x25 until 14 Mar 2026." in text
    assert "Mind: 50 mm does not fill" in text


def test_staggered_rounds_have_a_line() -> None:
    rounds = ranked.SIZE._replace(staggered_mm=(90.0, 54.6))
    assert "Staggered     90 x 54.6" in ranks_size_words.size_text(rounds)
    assert ranks_json.size_json(rounds)["staggered_footprint"]["depth_mm"] == 54.6
    assert "Staggered" not in ranks_size_words.size_text(ranked.SIZE)


def test_what_fits_on_a_tray() -> None:
    assert ranks_size_words.fit_text(ranked.FIT).startswith(
        "126 x 101 mm holds 20 bases of 25x25: 5 wide, 4 deep."
    )
    none = FitAnswer((10.0, 10.0), "25x25", 0, 0, (10.0, 10.0))
    assert ranks_size_words.fit_text(none) == "Not one base of 25x25 lies on 10 x 10 mm."


def test_what_fillers_save() -> None:
    assert "At most 2 fillers" in ranks_size_words.fillers_text(ranked.FILLERS)
    assert "table-ready 6 days sooner in the middle." in ranks_size_words.fillers_text(ranked.FILLERS, 200)
    lost = ranked.FILLERS._replace(saved_hours=(-3.0, -1.0, 2.0), saved_days=-2)
    assert "One filler costs about 1 h, its own steps counted (from 3 h lost to 2 h," in (
        ranks_size_words.fillers_text(lost, 200)
    )
    unknown = FillerAnswer("Spears", "", 20, (2, 2), 0, 20, 20, None, None)
    text = ranks_size_words.fillers_text(unknown, 200)
    assert "There is no room for one" in text
    assert "not known yet" in text


def test_json_is_plain_and_whole() -> None:
    for document in (
        ranks_json.ranks_json(ranked.planned()),
        ranks_json.size_json(ranked.SIZE),
        ranks_json.fit_json(ranked.FIT),
        ranks_json.fillers_json(ranked.FILLERS),
    ):
        assert json.loads(json.dumps(document, allow_nan=False)) == document
    answer = ranks_json.ranks_json(ranked.planned())
    assert answer["joints"][1]["clash_mm"] == 2.5
    assert answer["models"][3]["turn_degrees"] == 90
    assert answer["models"][8]["place"] is None
    # 83.6 / 25.4, worked by hand.
    assert ranks_json.size_json(ranked.SIZE)["tray_inside_most"]["width_inches"] == 3.291


def _wide(files: int, ranks: int) -> RankAnswer:
    placed = tuple(Placed(i, (i - 1) % files + 1, (i - 1) // files + 1) for i in range(1, files * ranks + 1))
    return ranked.ranks(files=files, ranks=ranks, placed=placed, blocks=(), joints=(), overhangs=())


def test_a_large_model_is_drawn_once_over_its_block() -> None:
    block = Block(1, "large model", 2, 2, 2, 2, 1, model_id=9, name="the wagon")
    text = "\n".join(drawing(ranked.ranks(blocks=(block,), placed=(Placed(9, 2, 2, 90),)), 80))
    assert "B2 →" in text
    assert "│ 9 " in text
