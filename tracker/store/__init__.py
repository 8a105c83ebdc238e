"""The log on disk: one SQLite file. The only room that speaks SQL."""
