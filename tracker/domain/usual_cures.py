"""How long things usually cure, by the words people have for them.

Hours at about 20 degrees Celsius and in dry air: quickest, usual, slowest. Common practice of the trade,
no source; what the label says beats every row.
"""

from __future__ import annotations

import re

from tracker.domain.steps import CATALOGUE, Wait, find_step

_OF: dict[str, Wait] = {
    "putty": Wait(4, 16, 24),
    "epoxy putty": Wait(4, 16, 24),
    "epoxy glue": Wait(0.3, 4, 24),
    "epoxy": Wait(4, 16, 24),
    "super glue": Wait(0.1, 2, 24),
    "superglue": Wait(0.1, 2, 24),
    "cement": Wait(6, 12, 24),
    "plastic glue": Wait(6, 12, 24),
    "pva": Wait(1, 8, 24),
    "white glue": Wait(1, 8, 24),
    "wood glue": Wait(1, 8, 24),
    "sand": Wait(1, 8, 24),
    "paste": Wait(1, 4, 24),
    "texture paste": Wait(1, 4, 24),
    "clay": Wait(12, 36, 72),
    "plaster": Wait(12, 36, 72),
    "primer": Wait(0.5, 2, 24),
    "varnish": Wait(1, 4, 24),
    "gloss": Wait(1, 4, 24),
    "wash": Wait(0.3, 0.5, 2),
    "dip": Wait(24, 36, 72),
    "oils": Wait(12, 24, 72),
    "oil paint": Wait(12, 24, 72),
    "oil wash": Wait(12, 24, 72),
    "enamel": Wait(12, 24, 72),
    "transfer": Wait(2, 6, 24),
    "transfers": Wait(2, 6, 24),
    "decals": Wait(2, 6, 24),
    "tufts": Wait(1, 2, 12),
    "flock": Wait(1, 2, 12),
    "stripper": Wait(2, 24, 72),
}
_LONGEST_FIRST = sorted(_OF, key=len, reverse=True)
_ANY = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, _LONGEST_FIRST))})(?!\w)")


def cure_word(what: str) -> str:
    """The word by which a thing is known here ("putty on the captain": putty), or a step; empty = none."""
    text = " ".join(what.casefold().split())
    found = _ANY.search(text)
    if found:
        return found[0]
    step = find_step(text)
    if step is not None:
        return step.name
    called = [one.name for one in CATALOGUE.values() if text in one.words]
    return called[0] if len(called) == 1 else ""


def usual_cure(what: str) -> Wait | None:
    """The usual range of what was said; None for what nobody here knows, or what needs no wait."""
    word = cure_word(what)
    if word in _OF:
        return _OF[word]
    step = find_step(word)
    return step.wait if step is not None and step.wait.high_hours else None


def words_known() -> tuple[str, ...]:
    """The words that have a usual range."""
    return tuple(_OF)
