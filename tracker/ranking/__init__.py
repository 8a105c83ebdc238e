"""Footprints, blocks and how a unit ranks up."""
