"""The first hundred bytes of a log: most have one value only. Source: sqlite.org/fileformat2.html, 1.3."""

from __future__ import annotations

from tracker.store.numbers import APPLICATION_ID

HEADER_BYTES = 100
_MAGIC = b"SQLite format 3\0"
_ID_AT = slice(68, 72)
_PAGE_BYTES = 4096
_FIXED = (
    (0, _MAGIC),
    (20, b"\x00\x40\x20\x20"),  # no bytes reserved; fractions that are always 64, 32, 32
    (44, (4).to_bytes(4)),  # the schema format
    (56, (1).to_bytes(4)),  # UTF-8
)


def carries_our_mark(head: bytes) -> bool:
    """Whether a file begins as a log does: our number stands in its place, whatever else is damaged."""
    return head[_ID_AT] == APPLICATION_ID.to_bytes(4)


def with_good_header(data: bytes) -> bytes:
    """The file with the bytes put right that are the same in every log."""
    if len(data) < HEADER_BYTES:
        return data
    head = bytearray(data[:HEADER_BYTES])
    for at, value in _FIXED:
        head[at : at + len(value)] = value
    page_bytes = int.from_bytes(head[16:18])
    if page_bytes != 1 and (page_bytes < 512 or page_bytes & (page_bytes - 1)):
        head[16:18] = _PAGE_BYTES.to_bytes(2)
    if head[18] not in (1, 2) or head[19] not in (1, 2):
        head[18:20] = b"\x02\x02"
    return bytes(head) + data[HEADER_BYTES:]
