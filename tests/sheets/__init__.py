"""Words in: sheets, document, sentence."""
