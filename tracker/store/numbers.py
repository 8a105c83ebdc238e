"""The numbers that mark a file as ours, kept apart so that opening a log loads nothing else."""

from __future__ import annotations

APPLICATION_ID = 0x4C43_6F61
"""`PRAGMA application_id` of every log: "LCoa" in ASCII."""
NEWEST_SCHEMA = 6
"""`PRAGMA user_version` of the newest schema."""
BUSY_SECONDS = 20.0
"""How long to wait for another process that is writing."""
