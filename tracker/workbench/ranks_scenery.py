"""The model of scenery that stands for a filler or a shared base in its unit's sheet, with its own steps."""

from __future__ import annotations

from datetime import date

from tracker.domain.records import Unit
from tracker.domain.routes import usual_route
from tracker.store.journal import Store
from tracker.store.models import delete_models, insert_mark, insert_model, is_spoken_of, next_number
from tracker.workbench.naming import shown

_SPARES = "Spares it made stay spares: lastcoat unit role brings them back."


def new_scenery(store: Store, unit: Unit, name: str, day: date) -> int:
    """A model of scenery in the unit that skips the steps scenery does not take; its id."""
    model = insert_model(store, unit.id, next_number(store, unit.id), day, kind="scenery")
    store.update("model", model, name=name)
    route = usual_route("scenery", unit.standard, unit.material)
    for step in unit.route:
        if step not in route:
            insert_mark(store, model, step, "skipped", day)
    return model


def drop_scenery(store: Store, unit: Unit, model: int) -> str:
    """The model goes where nothing is lost with it, else it stays; what became of it and of spares."""
    if is_spoken_of(store, model):
        return f"Its scenery stays in {shown(unit.name)}, since something was noted of it. {_SPARES}"
    delete_models(store, [model])
    return _SPARES
