"""When it will be ready: the rhythm of evenings, the simulated work, the dates and the backlog.

Conventions of this room. Days are whole calendar days; day 0 of a simulation is its first future
day. Minutes are hands-on minutes. `paths` counts simulated futures, always the first axis.
"""
