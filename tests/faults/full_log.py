"""A log with something in every part of it, every free text of it the one that is given.

Filled through the same commands that a person types, so a text that a command refuses is refused here too.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

Run = Callable[..., object]
"""Runs one command, its words as a shell gives them."""

PLANTED = "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold"


def fill(run: Run, text: str, photo: Path) -> None:
    """Units, evenings, spares, roles, recipes, paints, sources, points, plans, goals, timers, photos."""
    fill_units(run, text)
    fill_book(run, text)
    fill_plans(run, text)
    run("photo", "add", str(photo), f"--unit={text}", f"--note={text} seen", "--step=priming")


def fill_units(run: Run, text: str) -> None:
    """Two units of the army, their steps, models and evenings."""
    run(
        "add", f"--unit={text}", f"--army={text}", "--models=6", "--base=20x20", "--files=3", "--ranks=2",
        f"--named={text}", f"--goal={text}", "--goal-date=2026-09-01", f"--source={text}", f"--cost={text}",
        f"--note={text}", "--points=60", "--added=2026-02-01", "--material=metal",
    )  # fmt: skip
    run(
        "add", f"--unit={text} two", f"--army={text}", "--models=3", f"--kind={text}", f"--material={text}",
        f"--standard={text}", "--added=2026-02-01",
    )  # fmt: skip
    run("route", f"--unit={text}", f"--add={text}", "--after=priming")
    run("unit", "model", "--models=2", f"--name={text} b", f"--note={text}", f"--part={text}", "--", text)
    for day, step, models in (("03", "cleaning", 6), ("05", "priming", 4), ("06", text, 2)):
        run(
            "log", f"--unit={text}", f"--step={step}", f"--models={models}", "--minutes=30", "--add-step",
            f"--date=2026-03-{day}", f"--note={text}",
        )  # fmt: skip
    run("log", f"--unit={text} two", "--step=cleaning", "--models=1", f"--note={text}", "--not-finished")
    run("evening", "--minutes=90", "--date=2026-03-04", f"--evening={text}")


def fill_book(run: Run, text: str) -> None:
    """The bench book: spares, roles, recipes, paints, deals, timers."""
    run(
        "spare", "add", "2", f"--name={text}", f"--kind={text}", f"--part={text}", "--base=20x20",
        f"--material={text}", f"--place={text}", f"--note={text}", "--tag=spear", f"--tag={text}",
    )  # fmt: skip
    run("role", "add", f"--tag={text}", f"--kind={text}", "--", text, text)
    run("role", "add", f"--army={text}", "--", text, f"{text} open")
    run("role", "fill", f"--unit={text}", "--stand-in", "--", text, "1")
    run("recipe", "add", f"--primer={text}", f"--note={text}", "--", text, PLANTED)
    run(
        "recipe", "step", f"--area={text}", f"--technique={text}", f"--paint={text}", f"--medium={text}",
        f"--tool={text}", f"--reminder={text}", f"--note={text}", "--", text,
    )  # fmt: skip
    run("recipe", "use", f"--unit={text}", "--", text)
    run("paint", "out", f"--use={text} b", "--", text)
    run(
        "source", "add", "bought", f"--unit={text}", f"--army={text}", f"--from={text}", "--cost=12.50 EUR",
        f"--given={text}", f"--note={text}",
    )  # fmt: skip
    run("curing", "begin", "--hours=8760", f"--unit={text}", "--", text)


def fill_plans(run: Run, text: str) -> None:
    """What is meant to come: evenings, days away, goals, points, a filler among the ranks."""
    run("plan", "evenings", "FREQ=WEEKLY;BYDAY=TU,TH", f"--note={text}")
    run("plan", "once", "2026-04-11", "--minutes=240", f"--note={text}")
    run("plan", "away", "2026-04-20", "2026-04-22", f"--note={text}")
    run("goal", "add", f"--unit={text}", "--", text, "2026-10-01")
    run("points", f"--army={text}", "--target=1000")
    run("unit", "skip", "--models=3", "--step=tufts", "--", text)


ANSWERS: tuple[tuple[str, ...], ...] = (
    ("tonight",), ("tonight", "45"), ("ready",), ("lamp",), ("army",), ("forecast", "--draws=100"),
    ("backlog", "--draws=100"), ("pace",), ("order", "--draws=100"), ("goal", "show", "--draws=100"),
    ("goal", "pick", "2026-10-01", "--draws=100"), ("points", "--draws=100"), ("source", "show"),
    ("source", "costs"), ("source", "months"), ("spare", "show"), ("spare", "find", "--base=20x20"),
    ("role", "show"), ("role", "match"), ("recipe", "list"), ("paint", "list"),
    ("paint", "needs", "--draws=100"), ("curing",), ("caution",), ("plan", "show"), ("photo", "show"),
    ("unit", "spares"), ("whatif", "one more evening a week"),
)  # fmt: skip
"""Every answering command that needs no name, all of them with --json too."""
NAMED: tuple[tuple[str, ...], ...] = (
    ("unit", "show"), ("unit", "show", "--each"), ("recipe", "show"), ("paint", "needs", "--draws=100"),
    ("caution",), ("ranks", "show"), ("ranks", "plan"), ("ranks", "size"),
    ("goal", "cut", "--draws=100"),
)  # fmt: skip
"""Those that take a name."""
SHEETS = ("roster", "evenings", "recipes", "spares", "roles", "sources")
