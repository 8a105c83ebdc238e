"""A look at the write-ahead log as it lies on the disk, before SQLite opens it.

SQLite drops without a word what stands in it from the first page on whose checksum does not hold: right
after a power cut, wrong after damage. So this is looked at first. Source: sqlite.org/fileformat2.html, 4.
"""

from __future__ import annotations

import struct
from pathlib import Path
from typing import NamedTuple

_HEADER_BYTES = 32
_FRAME_BYTES = 24
_MAGIC = (0x377F0682, 0x377F0683)
"""The last bit tells the byte order of the checksums."""


class WalLook(NamedTuple):
    """How much of a write-ahead log can be read."""

    good: int = 0
    """Pages that can be read, in front."""
    bad: int = 0
    """Pages behind them that belong to this log and cannot be read."""


def look_at_wal(log: str) -> WalLook:
    """Pages of the write-ahead log of `log` that SQLite would take, and those it would drop as unreadable.

    Pages left from before the log began anew are neither.
    """
    path = Path(f"{log}-wal")
    if not path.is_file():
        return WalLook()
    data = path.read_bytes()
    if len(data) < _HEADER_BYTES + _FRAME_BYTES:
        return WalLook()
    magic, _, page_bytes, _, *salts = struct.unpack(">6I", data[:24])
    frame_bytes = _FRAME_BYTES + page_bytes
    order = ">" if magic & 1 else "<"
    sums = _checksum(order, data[:24], (0, 0))
    if magic not in _MAGIC or sums != struct.unpack(">2I", data[24:32]) or not 512 <= page_bytes <= 65536:
        return WalLook(0, max(1, (len(data) - _HEADER_BYTES) // (_FRAME_BYTES + 4096)))
    good = bad = 0
    for at in range(_HEADER_BYTES, len(data) - frame_bytes + 1, frame_bytes):
        head = data[at : at + _FRAME_BYTES]
        its_salts = list(struct.unpack(">2I", head[8:16]))
        if not bad and its_salts == salts:
            sums = _checksum(order, head[:8], sums)
            sums = _checksum(order, data[at + _FRAME_BYTES : at + frame_bytes], sums)
            if sums == struct.unpack(">2I", head[16:24]):
                good += 1
                continue
        bad += any(mine == its for mine, its in zip(salts, its_salts, strict=True))
    return WalLook(good, bad)


def _checksum(order: str, data: bytes, start: tuple[int, int]) -> tuple[int, int]:
    """Running sums over pairs of 32-bit words, as the file format says."""
    first, second = start
    for one, two in struct.iter_unpack(f"{order}2I", data):
        first = (first + one + second) & 0xFFFFFFFF
        second = (second + two + first) & 0xFFFFFFFF
    return first, second
