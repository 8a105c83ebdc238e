"""The terminal UI: one calm page at a time, the lamp's line on top, the entry line at the bottom.

Workers call a verb of the workbench and post what it answered; only handlers change widgets. Words and
rounding stand in the report, keys and their help in one registry of actions.
"""
