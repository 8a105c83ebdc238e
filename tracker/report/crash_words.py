"""What is said when the program itself fails: where, and nothing that was logged."""

from __future__ import annotations

import os
from traceback import extract_tb


def crash_line(error: BaseException) -> str:
    """One line: the kind of the error and the place in the code; no message, since it may quote the log."""
    inner = getattr(error, "error", None)  # a worker's error comes wrapped
    cause = inner if isinstance(inner, BaseException) else error
    frames = extract_tb(cause.__traceback__)
    ours = [frame for frame in frames if f"{os.sep}tracker{os.sep}" in frame.filename] or list(frames)
    place = ""
    if ours:
        last = ours[-1]
        place = f" in {last.filename.rpartition(f'{os.sep}tracker{os.sep}')[2]}, line {last.lineno}"
    return (
        f"Lastcoat failed by a mistake of its own: {type(cause).__name__}{place}."
        " What was logged before is stored."
    )
