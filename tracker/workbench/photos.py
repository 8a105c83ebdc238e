"""Photos of work in progress: copied beside the log, tied to a unit or model and a step."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from hashlib import sha256
from typing import NamedTuple

from tracker.domain.answers_photos import PhotosAnswer, PhotoShown
from tracker.domain.photos import Photo
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.sheets.pictures import Picture, read_picture
from tracker.store.book import drop, every, keep
from tracker.store.journal import Store
from tracker.store.models import spare_models
from tracker.store.units import route_of
from tracker.workbench.desk import Desk
from tracker.workbench.lines import not_in_future
from tracker.workbench.models import said_models
from tracker.workbench.naming import good_text, the_step, the_unit
from tracker.workbench.photo_files import keep_file, photo_folder
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words, day_words

NOTE_LETTERS_MOST = 1000


class PhotoWish(NamedTuple):
    """What a photo shows; either a unit (with or without a model) or a spare."""

    unit: str = ""
    army: str | None = None
    model: str = ""
    spare: int | None = None
    step: str = ""
    note: str = ""
    day: date | None = None
    """None = what the picture says, or today."""


def add_photos(desk: Desk, files: Sequence[str], wish: PhotoWish) -> Changed:
    """Copy pictures beside the log, all of them or none; the copies carry no place and no camera.

    The files are written before the log speaks of them, so that it never names a picture that is not there.
    """
    if not wish.unit and wish.spare is None:
        raise UsageError(Problem("photo", "it is not said of what", "Say --unit Spears, or --spare 3"))
    if wish.day is not None:
        not_in_future(wish.day, desk.today())
    note = good_text("--note", wish.note).strip()
    if len(note) > NOTE_LETTERS_MOST:
        what = f"the note has {len(note)} letters"
        raise DataError(Problem("--note", what, f"Shorten it to {NOTE_LETTERS_MOST}"))
    pictures = _read(files)
    with desk.open() as store, store.change("photo") as change:
        unit_id, model_id, step, words = _meant(store, wish)
        for picture in pictures:
            photo = Photo(0, _kept(desk, picture), unit_id, model_id, step, note=note)
            keep(
                store,
                photo._replace(
                    width_pixels=picture.width_pixels,
                    height_pixels=picture.height_pixels,
                    taken_on=wish.day or _day_of(picture, desk.today()),
                ),
            )
        done = Changed(f"{count_words(len(pictures), 'photo')} of {words}")
        change.words = done.words()
    return done


def photos(desk: Desk, unit: str = "", *, army: str | None = None) -> PhotosAnswer:
    """Every photo, or those of one unit and its models, oldest first."""
    if not unit and not os.path.lexists(desk.path):
        return PhotosAnswer((), str(photo_folder(desk.path)), desk.today())
    with desk.open() as store, store.snapshot():
        only = the_unit(store, unit, army).id if unit else None
        found = [one for photo, one in all_photos(desk, store) if only is None or photo.unit_id == only]
    shown = sorted(found, key=lambda one: (one.taken_on, one.number))
    return PhotosAnswer(tuple(shown), str(photo_folder(desk.path)), desk.today())


def all_photos(desk: Desk, store: Store) -> list[tuple[Photo, PhotoShown]]:
    """Every photo and how it is shown, in the order they were added; one of a model is of its unit now."""
    folder = photo_folder(desk.path)
    units = {
        number: (army, name)
        for number, army, name in store.rows(
            "SELECT unit.id, army.name, unit.name FROM unit JOIN army ON army.id = army_id"
        )
    }
    models = {
        model: (unit, number, name)
        for model, unit, number, name in store.rows(
            "SELECT id, unit_id, number, name FROM model WHERE id IN (SELECT model_id FROM photo)"
        )
    }
    out = []
    for photo in every(store, Photo):
        of_model = models.get(photo.model_id or 0)
        unit_id = of_model[0] if of_model else photo.unit_id
        army, unit = units.get(unit_id or 0, ("", ""))
        path = folder / photo.file
        out.append((photo._replace(unit_id=unit_id), PhotoShown(
            photo.id, army, unit, of_model[1] if of_model else None, of_model[2] if of_model else "",
            photo.step, photo.note, photo.taken_on, photo.width_pixels, photo.height_pixels, str(path),
            path.is_file(),
        )))  # fmt: skip
    return out


def drop_photo(desk: Desk, number: int) -> Changed:
    """The log forgets a photo; its file stays until `tidy_photos`, so that undo brings it back."""
    with desk.open() as store, store.change("photo") as change:
        photo, shown = the_photo(desk, store, number)
        drop(store, photo)
        of = shown.unit or "a spare"
        done = Changed(f"photo {number} of {of} ({day_words(shown.taken_on, desk.today())}) is forgotten")
        change.words = done.words()
    return done


def the_photo(desk: Desk, store: Store, number: int) -> tuple[Photo, PhotoShown]:
    """The photo of that number; a `DataError` where there is none."""
    found = next((pair for pair in all_photos(desk, store) if pair[0].id == number), None)
    if found is None:
        raise DataError(Problem("photo", f"there is no photo {number}", "See them: lastcoat photo show"))
    return found


def _read(files: Sequence[str]) -> list[Picture]:
    """The pictures in the files; a `DataError` tells every file that has none."""
    found = [read_picture(file) for file in files]
    problems = [one for one in found if isinstance(one, Problem)]
    if problems:
        raise DataError(problems)
    return [one for one in found if isinstance(one, Picture)]


def _meant(store: Store, wish: PhotoWish) -> tuple[int | None, int | None, str, str]:
    """(unit, model, step, in words) of what the pictures show."""
    if wish.spare is not None:
        model = {number: model for model, number in spare_models(store)}.get(wish.spare)
        if wish.unit or wish.model or wish.step:
            what = "a spare has no unit and no step"
            raise UsageError(Problem("--spare", what, "Say either the unit or the spare"))
        if model is None:
            raise DataError(
                Problem("--spare", f"there is no spare {wish.spare}", "See them: lastcoat spare show")
            )
        return None, model, "", f"spare {wish.spare}"
    known = the_unit(store, wish.unit, wish.army)
    step = the_step(route_of(store, known.id), wish.step, known.name) if wish.step else ""
    words, model = known.name, None
    if wish.model:
        chosen = said_models(store, known.id, known.name, wish.model)
        if len(chosen) != 1:
            raise DataError(
                Problem("--model", "a photo shows one model or the unit", "Say one model, or none")
            )
        model, number = chosen[0]
        words += f" {number}"
    return known.id, model, step, words + (f" after {step}" if step else "")


def _kept(desk: Desk, picture: Picture) -> str:
    """Put the picture beside the log; the name of its file."""
    name = f"{sha256(picture.data).hexdigest()}.jpg"
    keep_file(desk.path, name, picture.data)
    return name


def _day_of(picture: Picture, today: date) -> date:
    """The day the picture says it was taken; a camera's clock that is ahead is not believed."""
    return picture.taken_on if picture.taken_on and picture.taken_on <= today else today
