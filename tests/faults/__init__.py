"""Faults on purpose: what was acknowledged stays, whatever happens next, and nothing is half stored.

Each of these prints what was done, which faults were injected and what was lost; with `--many` it does as
much as docs/reliability.md tells, without it what the suite does:

    python -m tests.faults.kills        kill -9 at random moments
    python -m tests.faults.power        power loss: only what was synchronised to the disk is left
    python -m tests.faults.writers      two and four writers at once, and readers all the while
    python -m tests.faults.full_disk    the disk is full at a random write
    python -m tests.faults.moments      migrations broken off at every statement
"""
