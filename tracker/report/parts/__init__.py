"""The parts of the page: for each some words, a figure, and the figure's numbers as a table."""
