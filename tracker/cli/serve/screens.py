"""The screens as a process of their own between two pipes; `lastcoat serve` starts one for each page."""

from __future__ import annotations

import sys
from collections.abc import Sequence

DRIVER = "tracker.cli.serve.driver:PipeDriver"


def started(path: str) -> tuple[str, ...]:
    """The words that start it on the log of that path."""
    # -P: what lies in the folder one happens to be in is no part of the program.
    return (sys.executable, "-P", "-m", "tracker.cli.serve.screens", path)


def main(words: Sequence[str]) -> int:
    """Run the screens on the log that was said until they are closed; their exit status."""
    from tracker.tui.start import run
    from tracker.workbench.desk import Desk

    return run(Desk(words[1]))


if __name__ == "__main__":
    sys.exit(main(sys.argv))
