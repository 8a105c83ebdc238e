"""Photos of work in progress: copied beside the log, tied to a unit or model and a step."""

from __future__ import annotations

import os
from collections.abc import Sequence
from datetime import date
from hashlib import sha256
from pathlib import Path
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
    note = good_text("--note", wish.note).strip()[:NOTE_LETTERS_MOST]
    pictures = [_read(file) for file in files]
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
    with desk.open() as store, store.snapshot():
        only = the_unit(store, unit, army).id if unit else None
        found = [
            photo for photo in all_photos(desk, store) if only is None or _unit_of(store, photo[0]) == only
        ]
    shown = sorted((one for _, one in found), key=lambda one: (one.taken_on, one.number))
    return PhotosAnswer(tuple(shown), str(photo_folder(desk.path)), desk.today())


def all_photos(desk: Desk, store: Store) -> list[tuple[Photo, PhotoShown]]:
    """Every photo and how it is shown, in the order they were added."""
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
        army, unit = units.get((of_model[0] if of_model else photo.unit_id) or 0, ("", ""))
        path = folder / photo.file
        out.append((photo, PhotoShown(
            photo.id, army, unit, of_model[1] if of_model else None, of_model[2] if of_model else "",
            photo.step, photo.note, photo.taken_on, photo.width_pixels, photo.height_pixels, str(path),
            path.is_file(),
        )))  # fmt: skip
    return out


def drop_photo(desk: Desk, number: int) -> Changed:
    """The log forgets a photo; its file stays until `tidy_photos`, so that undo brings it back."""
    with desk.open() as store, store.change("photo") as change:
        photo, shown = _the_photo(desk, store, number)
        drop(store, photo)
        of = shown.unit or "a spare"
        done = Changed(f"photo {number} of {of} ({day_words(shown.taken_on, desk.today())}) is forgotten")
        change.words = done.words()
    return done


def copy_out(desk: Desk, number: int, target: str) -> str:
    """Write a photo's file somewhere else; never over something that is there."""
    with desk.open() as store:
        photo, shown = _the_photo(desk, store, number)
    if not shown.is_there:
        raise DataError(Problem(f"photo {number}", f"its file {photo.file} is missing", _GONE))
    data = Path(shown.path).read_bytes()
    try:
        with Path(target).open("xb") as out:
            out.write(data)
    except FileExistsError:
        raise UsageError(Problem(target, "a file is there already", "Give another name")) from None
    except ValueError:
        raise UsageError(Problem(target, "no file can have this name", "Give another name")) from None
    return f"Written: {target}"


_GONE = "Put it back from a backup of the photo folder, or forget the photo: lastcoat photo drop"


def _the_photo(desk: Desk, store: Store, number: int) -> tuple[Photo, PhotoShown]:
    found = next((pair for pair in all_photos(desk, store) if pair[0].id == number), None)
    if found is None:
        raise DataError(Problem("photo", f"there is no photo {number}", "See them: lastcoat photo show"))
    return found


def _read(file: str) -> Picture:
    found = read_picture(file)
    if isinstance(found, Problem):
        raise DataError(found)
    return found


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


def _unit_of(store: Store, photo: Photo) -> int | None:
    """The unit it belongs to now: its model's, where it shows one."""
    if photo.model_id is None:
        return photo.unit_id
    found = store.rows("SELECT unit_id FROM model WHERE id = ?", (photo.model_id,))
    return found[0][0] if found else None


def is_ours(name: str) -> bool:
    """Whether a file's name is one this program gives to pictures."""
    stem, dot, kind = name.partition(".")
    return dot == "." and kind == "jpg" and len(stem) == 64 and set(stem) <= set("0123456789abcdef")


def tidy_photos(desk: Desk) -> str:
    """Remove the files that neither the log nor its undo speaks of."""
    folder = photo_folder(desk.path)
    with desk.open() as store, store.change("photo") as change:
        # The open change keeps others from adding one while files go; it stores nothing.
        change.kept = False
        spoken = {photo.file for photo in every(store, Photo)}
        spoken |= {str(row[0]) for row in store.rows("SELECT v2 FROM change_row WHERE table_name = 'photo'")}
        gone = [one for one in _files(folder) if is_ours(one.name) and one.name not in spoken]
        freed = sum(one.stat().st_size for one in gone)
        for one in gone:
            one.unlink()
    if not gone:
        return "Nothing to remove: the log or its undo speaks of every file."
    return f"Removed: {count_words(len(gone), 'file')}, {freed / 1_000_000:.1f} MB."


def _files(folder: Path) -> list[Path]:
    return [folder / name for name in sorted(os.listdir(folder))] if folder.is_dir() else []  # noqa: PTH208
