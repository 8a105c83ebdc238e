"""Matching rows to columns: the cheapest of exactly so many pairs, and the largest that is allowed.

The cheapest full matching is found by shortest augmenting paths with potentials, the Hungarian method (Kuhn
1955; Jonker and Volgenant 1987). Exactly k pairs of a table with r rows and c columns are a full matching of
one with c - k rows and r - k columns more, which cost nothing and never meet each other. The largest matching
is found by alternating paths; where a row finds none, the rows met on the way have too few columns between
them (Hall 1935).
"""

from __future__ import annotations

from collections.abc import Sequence

Costs = Sequence[Sequence[int | None]]
"""Cost of a row with a column, 0 or more; None = they cannot be a pair."""


def cheapest_pairs(costs: Costs, pairs: int) -> int | None:
    """The least total cost of exactly so many pairs, each row and column at most once; None = impossible."""
    rows, columns = len(costs), len(costs[0]) if costs else 0
    if pairs <= 0:
        return 0
    if pairs > min(rows, columns):
        return None
    never = 1 + sum(max((cost for cost in row if cost is not None), default=0) for row in costs)
    wide = [[never if cost is None else cost for cost in row] + [0] * (rows - pairs) for row in costs]
    wide += [[0] * columns + [never] * (rows - pairs) for _ in range(columns - pairs)]
    total = _cheapest_full(wide)
    return None if total >= never else total


def _cheapest_full(costs: Sequence[Sequence[int]]) -> int:
    """The least total of a square table; one row is added at a time. Column 0 stands for none."""
    size = len(costs)
    row_height, column_height = [0] * (size + 1), [0] * (size + 1)
    row_of = [0] * (size + 1)
    for row in range(1, size + 1):
        row_of[0] = row
        came = _shortest_path(costs, row_of, row_height, column_height)
        column = came.pop()
        while column:
            row_of[column] = row_of[came[column]]
            column = came[column]
    return sum(costs[row_of[column] - 1][column - 1] for column in range(1, size + 1))


def _shortest_path(
    costs: Sequence[Sequence[int]], row_of: Sequence[int], row_height: list[int], column_height: list[int]
) -> list[int]:
    """From the row at column 0 to a free column: per column the one before it, and last the free one."""
    size = len(costs)
    far = 1 + sum(map(max, costs)) + max(map(abs, (*row_height, *column_height)))
    slack, came, done = [far] * (size + 1), [0] * (size + 1), [False] * (size + 1)
    column = 0
    while True:
        done[column] = True
        row, least, nearest = row_of[column], far + 1, 0
        mine, height = costs[row - 1], row_height[row]
        for other in range(1, size + 1):
            if not done[other]:
                here = mine[other - 1] - height - column_height[other]
                if here < slack[other]:
                    slack[other], came[other] = here, column
                if slack[other] < least:
                    least, nearest = slack[other], other
        for other in range(size + 1):
            if done[other]:
                row_height[row_of[other]] += least
                column_height[other] -= least
            else:
                slack[other] -= least
        column = nearest
        if not row_of[column]:
            return [*came, column]


def largest(allowed: Sequence[Sequence[bool]]) -> tuple[int, frozenset[int]]:
    """(pairs of the largest matching, rows of which all columns together are too few; none if all match)."""
    columns = len(allowed[0]) if allowed else 0
    row_of: list[int] = [-1] * columns
    pairs, short = 0, set[int]()
    for row in range(len(allowed)):
        seen = [False] * columns
        if _try(allowed, row, row_of, seen):
            pairs += 1
        else:
            short |= {row, *(row_of[column] for column in range(columns) if seen[column])}
    return pairs, frozenset(short)


def _try(allowed: Sequence[Sequence[bool]], row: int, row_of: list[int], seen: list[bool]) -> bool:
    """Find the row a column, asking rows that have one to take another."""
    came: dict[int, tuple[int, int]] = {}
    waiting = [row]
    while waiting:
        asking = waiting.pop()
        for column, may in enumerate(allowed[asking]):
            if may and not seen[column]:
                seen[column] = True
                came[column] = (asking, -1)
                if row_of[column] < 0:
                    _shift(column, came, row_of, row)
                    return True
                waiting.append(row_of[column])
    return False


def _shift(column: int, came: dict[int, tuple[int, int]], row_of: list[int], start: int) -> None:
    """Along the path back to the row that asked first, every row takes the column it found."""
    held = {row: at for at, row in enumerate(row_of) if row >= 0}
    while True:
        asking = came[column][0]
        before = held.get(asking)
        row_of[column] = asking
        if asking == start or before is None:
            return
        column = before
