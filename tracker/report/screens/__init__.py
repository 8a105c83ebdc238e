"""The screens of the terminal UI in words: pure functions from answers to lines, without any widget."""
