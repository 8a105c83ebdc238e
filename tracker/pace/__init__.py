"""The pace: this person's minutes per task, learned from the log on top of the trade's beliefs."""
