"""The whole-data document: everything as one JSON text (RFC 8259), and back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from tracker.domain.problems import Problem

FORM_NUMBER = 1
_OURS = "lastcoat"
_WHERE = "the document"
_EXPORTED = "Take a file that was written by the export of everything"


def write_document(data: Mapping[str, Any]) -> str:
    """The data as JSON: ASCII only, keys sorted, so that the same data gives the same bytes."""
    whole = {_OURS: FORM_NUMBER, "data": data}
    return json.dumps(whole, ensure_ascii=True, sort_keys=True, indent=1, allow_nan=False) + "\n"


def read_document(text: str) -> dict[str, Any] | Problem:
    """The data of a document, or what is wrong with it."""
    try:
        whole = json.loads(text.removeprefix("\ufeff"), parse_constant=_no_number)
        json.dumps(whole, ensure_ascii=False).encode()
    except json.JSONDecodeError as error:
        return Problem(f"line {error.lineno}", "this is not JSON", _EXPORTED)
    except UnicodeEncodeError:
        return Problem(_WHERE, "it holds half a letter (a lone surrogate)", _EXPORTED)
    except RecursionError:
        return Problem(_WHERE, "it is nested too deeply", _EXPORTED)
    except ValueError:
        return Problem(_WHERE, "it holds a number that cannot be read", _EXPORTED)
    return _unwrap(whole)


def _no_number(word: str) -> float:
    raise ValueError(word)


def _unwrap(whole: object) -> dict[str, Any] | Problem:
    number = whole.get(_OURS) if isinstance(whole, dict) else None
    if not isinstance(whole, dict) or not isinstance(number, int) or isinstance(number, bool):
        return Problem(_WHERE, "it is JSON, but not ours", _EXPORTED)
    if number > FORM_NUMBER:
        return Problem(_WHERE, f"it is of a newer version (form {number})", "Bring the program up to date")
    data = whole.get("data")
    if number < 1 or not isinstance(data, dict):
        return Problem(_WHERE, "it is not whole", _EXPORTED)
    return data
