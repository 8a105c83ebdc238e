"""The photos of a unit in words: a row for each, and what was typed to add one."""

from __future__ import annotations

import re
from typing import NamedTuple

from tracker.domain.answers_photos import PhotosAnswer
from tracker.report.photo_words import photo_words
from tracker.report.plain import clip
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import PageLine, sentences

ASK_PHOTO = "Which file, and after which step? As in: pictures/spears.jpg after priming"
ASK_OUT = "Write it to which file?"
_NONE = "No photo of it yet. n adds one: a file, and the step it shows the end of."
_AFTER = re.compile(r"(?P<file>.+?)\s+after\s+(?P<step>[^/\\.]+)")


class SaidPhoto(NamedTuple):
    """A file and the step it shows the end of."""

    file: str
    step: str = ""


def photos_lines(answer: PhotosAnswer | None, width: int) -> list[PageLine]:
    """A row for every photo, the newest last."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not answer.photos:
        return sentences(_NONE, width, "quiet")
    return [
        PageLine(clip(f"{photo.number:>3}  {photo_words(photo)}", width), "row", str(photo.number))
        for photo in answer.photos
    ]


def read_photo(said: str) -> SaidPhoto:
    """The file and the step of "spears.jpg after priming"; quotes around a path do not count."""
    found = _AFTER.fullmatch(said.strip())
    file, step = (found["file"], found["step"].strip()) if found else (said.strip(), "")
    if len(file) > 1 and file[0] == file[-1] and file[0] in "'\"":
        file = file[1:-1]
    return SaidPhoto(file, step)
