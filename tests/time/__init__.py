"""Clocks that are changed, set back or carried along; days that are rare."""
