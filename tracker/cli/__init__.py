"""The command line: one file per command; parse, call a verb of the workbench, print."""
