"""The pace."""
