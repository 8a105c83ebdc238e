"""Tests of the same room of the tracker."""
