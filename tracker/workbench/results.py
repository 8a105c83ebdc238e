"""What an import did, in numbers and words."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.workbench.words import count_words


class Imported(NamedTuple):
    """What an import did, or would do."""

    what: str
    """What is counted: "line", "unit", "recipe" …"""
    added: int = 0
    changed: int = 0
    """Evenings, units … that were there and are different now."""
    unchanged: int = 0
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()
    """Rows that were left out; only when the good ones were to be kept."""
    dry_run: bool = False

    def sentence(self) -> str:
        """The one line that says what was stored."""
        if not self.added and not self.changed:
            known = f" ({count_words(self.unchanged, self.what)} known already)" if self.unchanged else ""
            return f"Nothing to store: nothing is new{known}."
        verb = "Would store" if self.dry_run else "Stored"
        return f"{verb}: {self.words()}."

    def words(self) -> str:
        """As in "12 lines new, 1 evening changed, 40 lines known already"."""
        parts = [f"{count_words(self.added, self.what)} new"] if self.added else []
        if self.changed:
            parts.append(
                f"{count_words(self.changed, 'evening' if self.what == 'line' else self.what)} changed"
            )
        if self.unchanged:
            parts.append(f"{count_words(self.unchanged, self.what)} known already")
        return ", ".join(parts)
