"""Photos in words and as JSON."""

from __future__ import annotations

from pathlib import PurePath
from typing import Any

from tracker.domain.answers_photos import PhotosAnswer, PhotoShown
from tracker.report.plain import clip, count_words, date_words

NONE_YET = "There are no photos yet. Add one: lastcoat photo add FILE --unit Spears"
MISSING = "its file is missing"


def photos_text(answer: PhotosAnswer, width: int) -> str:
    """Two lines for every photo, the second on its file, and where the files lie."""
    if not answer.photos:
        return NONE_YET
    lines = []
    for photo in answer.photos:
        size = f"{photo.width_pixels:,} x {photo.height_pixels:,} pixels"
        lines += [
            clip(f"{photo.number:>3}  {photo_words(photo)}", width),
            f"     {size}, {PurePath(photo.path).name[:8]}….jpg",
        ]
    lines += ["", f"{count_words(len(answer.photos), 'photo')} in {answer.folder}"]
    return "\n".join(lines)


def photo_words(photo: PhotoShown) -> str:
    """As in "3 Mar 2026  Spears 3, after priming: the first one"."""
    words = f"{date_words(photo.taken_on)}  {of_what(photo)}"
    words += f", after {photo.step}" if photo.step else ""
    words += f": {photo.note}" if photo.note else ""
    return words + ("" if photo.is_there else f" ({MISSING})")


def of_what(photo: PhotoShown) -> str:
    """The unit, model or spare that a photo shows."""
    name = f" {photo.model_name}" if photo.model_name else ""
    if not photo.unit:
        return f"spare {photo.model}{name}"
    return photo.unit + (f" {photo.model}{name}" if photo.model is not None else "")


def photos_json(answer: PhotosAnswer) -> dict[str, Any]:
    """All of it for scripts; the path is where the file lies on this machine."""
    return {
        "as_of": answer.as_of.isoformat(),
        "doubts": [],
        "folder": answer.folder,
        "photos": [
            {
                "photo": photo.number,
                "army": photo.army or None,
                "unit": photo.unit or None,
                "model": photo.model,
                "step": photo.step or None,
                "note": photo.note,
                "date": photo.taken_on.isoformat(),
                "width_pixels": photo.width_pixels,
                "height_pixels": photo.height_pixels,
                "file": photo.path,
                "missing": not photo.is_there,
            }
            for photo in answer.photos
        ],
    }
