"""Tests of the workbench room."""
