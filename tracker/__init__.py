"""Lastcoat: log an evening at the painting desk, learn the pace, forecast the table-ready date."""

__version__ = "0.1.0"
