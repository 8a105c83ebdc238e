"""The only room that words and rounds: text tables, JSON, text charts, and the page for the browser."""
