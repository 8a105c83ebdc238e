"""Frozen records and pure rules in the hobbyist's words; standard library only.

Records are named tuples because a logged line has to be quick: building a data class at import
costs several times as much, and nothing here needs more than fields, defaults and equality.
"""
