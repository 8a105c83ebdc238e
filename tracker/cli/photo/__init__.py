"""`lastcoat photo`: pictures of work in progress; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every photo: of what, after which step, where its file lies."),
    "add": ("say", "Copy pictures beside the log, without what they say of the place."),
    "drop": ("say", "Forget a photo."),
    "out": ("files", "Write a photo's file somewhere else."),
    "tidy": ("files", "Remove files that nothing speaks of any more."),
    "pack": ("files", "All photo files as one archive."),
    "unpack": ("files", "Take in the files of such an archive."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "Pictures of work in progress. They are copied beside the log, smaller and without what the camera "
        "says of place and time; the file you name stays as it is.",
        "lastcoat photo add spears.jpg --unit Spears --step priming",
        "lastcoat photo show",
    ),
)
