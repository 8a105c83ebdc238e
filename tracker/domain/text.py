"""Text that people typed: kept as it is, made harmless only where it is shown."""

from __future__ import annotations

import unicodedata

NAME_LETTERS_MOST = 1000
_HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
_JOINERS = {"\u200c", "\u200d"}


def tidy(text: str) -> str:
    """The text without blanks at its ends; nothing inside it is changed."""
    return text.strip(" \t\r\n\u00a0")


def same_name(one: str, other: str) -> bool:
    """Whether two names are the same to a person: capitals and blanks at the ends do not count."""
    return tidy(one).casefold() == tidy(other).casefold()


def printable(text: str) -> str:
    r"""The text with every character that could steer a terminal spelled out (ESC as \x1b).

    Joiners inside emoji and scripts stay, since they only shape letters. Direction overrides are
    spelled out: they could make a line read as something it is not.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        _spelled(sign) if unicodedata.category(sign) in _HIDDEN and sign not in _JOINERS else sign
        for sign in text
    )


def _spelled(sign: str) -> str:
    code = ord(sign)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
