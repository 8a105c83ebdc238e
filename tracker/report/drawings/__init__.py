"""Figures of the page, drawn as SVG by our own hand: no script, no request, the same in print."""
