"""Files and the whole-data document: what cannot be read is said in one line."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from tracker.domain.problems import Problem
from tracker.sheets import files
from tracker.sheets.document import read_document, write_document
from tracker.sheets.files import read_text


def test_text_keeps_its_line_ends_and_loses_its_mark(tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_bytes(b"\xef\xbb\xbfa\r\nb\n\x00")
    assert read_text(path) == "a\r\nb\n\x00"


def test_dash_is_standard_input() -> None:
    assert read_text("-", io.BytesIO("größe".encode())) == "größe"


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        (b"a\nb\xe9c", "byte 3 (line 2) is 0xe9"),
        (b"\xef\xbb\xbfa\xff", "byte 4 (line 1) is 0xff"),
        (b"\xff\xfea\x00", "UTF-16"),
    ],
)
def test_not_utf8(tmp_path: Path, raw: bytes, what: str) -> None:
    path = tmp_path / "sheet.csv"
    path.write_bytes(raw)
    problem = read_text(path)
    assert isinstance(problem, Problem)
    assert (problem.where, what in problem.what, "UTF-8" in problem.mend) == (str(path), True, True)


def test_missing_folder_and_no_name(tmp_path: Path) -> None:
    for path, what in (
        (tmp_path / "no.csv", "no such file"),
        (tmp_path, "folder"),
        ("a\x00b", "no file name"),
    ):
        problem = read_text(path)
        assert isinstance(problem, Problem)
        assert what in problem.what


def test_not_allowed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    problem = read_text(tmp_path / "sheet.csv")
    assert isinstance(problem, Problem)
    assert problem.what == "it may not be read"


def test_other_trouble_keeps_the_system_s_words(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def refuse(*_: object) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "open", refuse)
    problem = read_text(tmp_path / "sheet.csv")
    assert isinstance(problem, Problem)
    assert problem.what == "input/output error"


def test_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "BYTES_MOST", 10)
    assert read_text("-", io.BytesIO(b"x" * 10)) == "x" * 10
    assert isinstance(read_text("-", io.BytesIO(b"x" * 11)), Problem)


def test_document_is_stable_and_exact() -> None:
    data = {"b": [1, 2.5, None, "\x00é🎨"], "a": {"deep": True}}
    text = write_document(data)
    assert text.isascii()
    assert text == write_document(dict(reversed(data.items())))
    assert read_document(text) == data


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "not JSON"),
        ("{", "not JSON"),
        ("[1]", "not ours"),
        ('{"data": {}}', "not ours"),
        ('{"lastcoat": true, "data": {}}', "not ours"),
        ('{"lastcoat": 99, "data": {}}', "newer version (form 99)"),
        ('{"lastcoat": 1}', "not whole"),
        ('{"lastcoat": 1, "data": NaN}', "number"),
        ('{"lastcoat": 1, "data": {"x": %s}}' % ("9" * 5000), "number"),
        ("[" * 200_000, "nested too deeply"),
        ('{"lastcoat": 1, "data": {"x": "\\ud800"}}', "half a letter"),
    ],
)
def test_documents_that_are_none(text: str, what: str) -> None:
    problem = read_document(text)
    assert isinstance(problem, Problem)
    assert what in problem.what
    assert problem.mend


def test_infinity_is_never_written() -> None:
    with pytest.raises(ValueError, match="JSON compliant"):
        write_document({"x": float("inf")})
    assert json.loads(write_document({})) == {"lastcoat": 1, "data": {}}
