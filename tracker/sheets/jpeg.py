"""What a JPEG file is made of, told from its markers alone (ITU-T T.81, annex B); nothing is decoded."""

from __future__ import annotations

import re
from collections.abc import Iterator

START = b"\xff\xd8"
SCAN, COMMENT, APPLICATION = 0xDA, 0xFE, range(0xE0, 0xF0)
"""Start of a scan, a comment, and what programs write beside the picture (APP0 is JFIF's head)."""
_END, _ALONE = 0xD9, {0x01, *range(0xD0, 0xD9)}
_NEXT = re.compile(rb"\xff[^\x00\x01\xd0-\xd7\xff]")
"""A marker within the data of a scan: neither a stuffed byte nor a restart."""


def markers(raw: bytes) -> Iterator[int]:
    """The markers of a file in their order, to its end or to where it is damaged; none if it is no JPEG."""
    place = 2 if raw.startswith(START) else len(raw)
    while place + 4 <= len(raw) and raw[place] == 0xFF:
        marker = raw[place + 1]
        if marker == _END:
            return
        if marker == 0xFF or marker in _ALONE:
            place += 1 if marker == 0xFF else 2
            continue
        yield marker
        place += 2 + int.from_bytes(raw[place + 2 : place + 4], "big")
        if marker == SCAN:
            found = _NEXT.search(raw, place)
            place = found.start() if found else len(raw)


def says_more(raw: bytes) -> bool:
    """Whether a JPEG file carries anything beside its picture: notes of a camera, a place, a comment."""
    return any(marker == COMMENT or marker in APPLICATION[1:] for marker in markers(raw))
