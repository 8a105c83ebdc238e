"""Words in: sheets, the whole-data document and the one-line sentence become records, and go back.

Every reader returns what it understood together with the problems it met; nothing here opens the
database, and nothing heavy is imported, because the sentence stands in the way of a logged line.
"""
