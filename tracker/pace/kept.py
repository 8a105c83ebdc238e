"""A learned pace as bytes and back, so that an answer need not learn it again."""

from __future__ import annotations

import io
import json
import zlib
from tokenize import TokenError
from typing import Any
from zipfile import BadZipFile, ZipFile

import numpy as np

from tracker.pace.effects import Columns
from tracker.pace.guesses import GuessHabit
from tracker.pace.pace import Pace
from tracker.pace.priors import Priors, Spread
from tracker.pace.surprise import Heaps

VERSION = "5"
"""Of the model and of this form; a pace kept by another version is learned anew."""


def to_bytes(pace: Pace) -> bytes:
    """Everything of a pace: the arrays as they are, the rest as JSON beside them."""
    arrays: dict[str, np.ndarray[Any, Any]] = {
        "effects": pace.effects, "step_sd": pace.step_sd, "common_sd": pace.common_sd,
    }  # fmt: skip
    arrays |= {f"spread {name}": draws for name, draws in pace.spreads.items()}
    if pace.heaps:
        arrays |= {"heap minutes": pace.heaps.log_minutes, "heap weight": pace.heaps.weight}
    if pace.guess:
        arrays |= {f"guess {name}": getattr(pace.guess, name) for name in _GUESS_ARRAYS}
    if pace.best:
        arrays |= {f"best {i}": part for i, part in enumerate(pace.best)}
    arrays["rest"] = np.frombuffer(json.dumps(_rest(pace), sort_keys=True).encode(), dtype=np.uint8)
    out = io.BytesIO()
    np.savez(out, allow_pickle=False, **arrays)
    return out.getvalue()


_GUESS_ARRAYS = ("kept", "miss", "spread", "shared")


def _rest(pace: Pace) -> dict[str, Any]:
    guess = pace.guess
    return {
        "priors": pace.priors._asdict(),
        "columns": pace.columns,
        "noise_classes": pace.noise_classes,
        "upper": pace.upper,
        "guess": guess and [guess.guesses, guess.kept_share, guess.log_bias],
        "lines_of_step": pace.lines_of_step,
        "lines_of": pace.lines_of,
        "batch_of_step": pace.batch_of_step,
        "grain_minutes": pace.grain_minutes,
        "group_names": pace.group_names,
        "blocks": pace.blocks,
        "odd_evenings": pace.odd_evenings,
        "stretch": pace.stretch,
        "drift_memory": pace.drift_memory,
    }


def from_bytes(blob: bytes) -> Pace | None:
    """The pace that was kept; none when the bytes are not one (it is then learned anew)."""
    try:
        with ZipFile(io.BytesIO(blob)) as members:
            # An array that lost rows in its header is read without a look at its checksum.
            if members.testzip() is not None:
                return None
        with np.load(io.BytesIO(blob), allow_pickle=False) as arrays:
            return _read({name: arrays[name] for name in arrays.files})
    except _NOT_A_PACE:
        return None


_NOT_A_PACE = (
    ValueError, KeyError, TypeError, AttributeError, OSError, EOFError, BadZipFile,
    RuntimeError,  # an archive that says it is encrypted, or packed in a way nobody here packs
    SyntaxError, TokenError,  # an array's header that is no literal
    zlib.error,
)  # fmt: skip


def _read(arrays: dict[str, Any]) -> Pace:
    rest = json.loads(arrays["rest"].tobytes())
    guess = rest["guess"]
    return Pace(
        priors=_priors(rest["priors"]),
        columns=Columns(*rest["columns"]) if rest["columns"] else None,
        noise_classes=rest["noise_classes"],
        effects=arrays["effects"],
        spreads={name[7:]: draws for name, draws in arrays.items() if name.startswith("spread ")},
        step_sd=arrays["step_sd"],
        common_sd=arrays["common_sd"],
        upper=rest["upper"],
        heaps=Heaps(arrays["heap minutes"], arrays["heap weight"]) if "heap minutes" in arrays else None,
        guess=GuessHabit(*(arrays[f"guess {name}"] for name in _GUESS_ARRAYS), *guess) if guess else None,
        lines_of_step=rest["lines_of_step"],
        lines_of=rest["lines_of"],
        batch_of_step=rest["batch_of_step"],
        grain_minutes=rest["grain_minutes"],
        best=(arrays["best 0"], arrays["best 1"], arrays["best 2"]) if "best 0" in arrays else None,
        group_names=tuple(rest["group_names"]),
        blocks=rest["blocks"],
        odd_evenings=tuple((int(i), float(x)) for i, x in rest["odd_evenings"]),
        stretch=rest["stretch"],
        drift_memory=rest["drift_memory"],
    )


def _priors(said: dict[str, Any]) -> Priors:
    spreads = {name: Spread(*value) for name, value in said.items() if isinstance(value, list)}
    return Priors()._replace(**said | spreads)
