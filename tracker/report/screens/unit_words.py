"""What the care of units asks in the entry line, and how its answers are read."""

from __future__ import annotations

import re
from datetime import date

from tracker.domain.problems import Problem, did_you_mean
from tracker.domain.records import DEFAULT_ARMY, DEPARTURES, KINDS, MATERIALS, STANDARDS
from tracker.domain.rows import RosterRow

ASK_NEW = 'What comes on the desk? As in "20 Spears" or "5 Riders, cavalry, metal, good"'
ASK_MORE = 'How many models came in for "{unit}"?'
ASK_GONE = 'What became of "{unit}"? As in "sold", or "1-5 broken", or "3 given away"'
ASK_IN = "Which file? A roster sheet, an evening sheet or a whole log"
ASK_NAME = 'Another name for "{unit}"?'
ASK_GOAL = 'When is "{unit}" wanted? As in "2026-05-01 spring game"; "none" takes it away'
ASK_SPLIT = 'Which models of "{unit}" become what? As in "1-5 Old Guard" or "last 8 Second Rank"'
ASK_INTO = '"{unit}" joins which unit?'
ASK_MODEL = "A name for the model? Nothing takes it away"
ASK_PART = "Which part is it? As in rider or mount; nothing takes it away"
ASK_NOTE = "What should be remembered of it?"
ASK_STEP = "Which step comes on the route of these models? Others go without"
_SPLIT = re.compile(r"(?P<models>last\s+\d+|[\d,\s-]*\d)\s+(?P<name>\S.*)", re.IGNORECASE | re.DOTALL)
_GOAL = re.compile(r"(?P<day>\d{4}-\d\d-\d\d)\s*(?P<goal>.*)", re.DOTALL)
_NEW = re.compile(r"(?P<count>\d{1,5})\s*(?:x\s+)?(?P<name>\S.*)", re.DOTALL)


def read_new_unit(text: str, army: str = "") -> RosterRow | Problem:
    """A unit from "20 Spears", with its kind, material and standard behind commas."""
    first, *rest = (part.strip() for part in text.split(","))
    said = _NEW.fullmatch(first)
    if not said:
        return Problem("the unit", "how many and its name are needed", 'Say it like "20 Spears"')
    row = RosterRow(said["name"], int(said["count"]), army or DEFAULT_ARMY)
    for word in filter(None, rest):
        folded = word.casefold()
        if folded in KINDS:
            row = row._replace(kind=folded)
        elif folded in MATERIALS:
            row = row._replace(material=folded)
        elif folded in STANDARDS:
            row = row._replace(standard=folded)
        else:
            known = (*KINDS, *MATERIALS, *STANDARDS)
            mend = did_you_mean(word, known, f"Say one of: {', '.join(known)}")
            return Problem("the unit", f'"{word}" is no kind, material or standard', mend)
    return row


def read_retired(text: str) -> tuple[str, str] | Problem:
    """(which models, how they left) from "1-5 broken"; without numbers all of them."""
    folded = " ".join(text.casefold().split())
    for how in DEPARTURES:
        if folded.endswith(how):
            return folded[: -len(how)].strip() or "all", how
    return Problem("the unit", f'"{text}" is no way to leave', f"Say one of: {', '.join(DEPARTURES)}")


def read_split(text: str) -> tuple[str, str] | Problem:
    """(models, name of the new unit) from "1-5 Old Guard"."""
    said = _SPLIT.fullmatch(text.strip())
    if not said:
        return Problem("the unit", "numbers and a new name are needed", 'Say it like "1-5 Old Guard"')
    return said["models"].strip(), said["name"]


def read_goal(text: str) -> dict[str, object] | Problem:
    """Fields of the plan from "2026-05-01 spring game"; "none" takes the goal away."""
    if text.strip().casefold() == "none":
        return {"goal_date": None, "goal": ""}
    said = _GOAL.fullmatch(text.strip())
    try:
        day = date.fromisoformat(said["day"]) if said else None
    except ValueError:
        day = None
    if said is None or day is None:
        return Problem("the goal", f'"{text}" begins with no day', 'Write one like "2026-05-01 spring game"')
    return {"goal_date": day, "goal": said["goal"].strip()}
