"""The demo's screens, driven by keys and drawn: python -m tests.docs.screens_drawn FOLDER [NAME ..].

It runs in a process of its own, so that neither the terminal, the colours, the time zone nor the settings
of whoever starts it are seen in a picture.
"""

from __future__ import annotations

import asyncio
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from shutil import copytree

from tests.docs.places import ROOT
from tests.docs.running import environment
from tests.docs.screens import SCREENS, Screen

CLOCK = datetime(2026, 10, 31, 20, 30)
"""The evening on which the demo's history ends."""
_LATER = datetime(2026, 10, 31, 21, 15)
"""When the lamp that was lit at the clock's time is looked at."""


class Drawn(dict[str, tuple[str, str]]):
    """Name of a screen -> (its SVG, its lines as plain text)."""


def drawn(*names: str) -> Drawn:
    """The screens of these names; without a name all of them."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        clean = environment(folder) | {
            "TERM": "xterm-256color",
            "COLORTERM": "truecolor",
            "TZ": "UTC",
            "OPENBLAS_NUM_THREADS": "1",
            "LASTCOAT_CONFIG": str(folder / "none.toml"),
        }
        subprocess.run(
            [sys.executable, "-m", "tests.docs.screens_drawn", str(folder), *names],
            cwd=ROOT,
            env=clean,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            check=True,
        )
        out = Drawn()
        for svg in sorted(folder.glob("*.svg")):
            out[svg.stem] = (svg.read_text("utf-8"), svg.with_suffix(".txt").read_text("utf-8"))
        return out


def draw(folder: Path, names: Sequence[str]) -> None:
    """Write NAME.svg and NAME.txt of these screens into the folder."""
    from tracker.workbench.answers import backlog, forecast, pace_answer
    from tracker.workbench.demo import make_demo
    from tracker.workbench.desk import Desk

    with tempfile.TemporaryDirectory() as place:
        demo = Path(place) / "demo"
        desk = Desk(make_demo(demo).path, now=lambda: CLOCK)
        for answer in (forecast, backlog, pace_answer):
            answer(desk)
        for screen in SCREENS:
            if screen.name in names or not names:
                log = copytree(demo, Path(place) / screen.name)
                asyncio.run(_draw(screen, log, folder))


async def _draw(screen: Screen, log: Path, folder: Path) -> None:
    """Open, press, wait until all is at rest, and write what stands there."""
    from tests.docs.screens_svg import svg
    from tests.tui.driving import opened
    from tracker.workbench.desk import Desk
    from tracker.workbench.settings import Settings

    hour = [CLOCK]
    desk = Desk(str(log / ("empty.db" if screen.on_empty_log else "demo.db")), now=lambda: hour[0])
    async with opened(desk, screen.size, settings=Settings(theme=screen.look)) as it:
        await it.press(*screen.keys)
        if screen.later is not None:
            hour[0] = _LATER
            await it.press(*screen.later)
        page = it.app.page
        if page is not None:
            page.entry.line.cursor_blink = False
            page.tick()
        await it.settle()
        lines = [list(strip) for strip in it.app.screen._compositor.render_strips()]
        text = "\n".join(it.shown())
    (folder / f"{screen.name}.svg").write_text(svg(lines, screen.title), encoding="utf-8")
    (folder / f"{screen.name}.txt").write_text(text.rstrip() + "\n", encoding="utf-8")


if __name__ == "__main__":
    draw(Path(sys.argv[1]), sys.argv[2:])
