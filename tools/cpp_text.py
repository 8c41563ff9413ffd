"""Reads C++ text no deeper than the checkers need: what is comment, what is literal, what is code."""

from __future__ import annotations

import re
from typing import Iterator

# Comments, raw strings, strings and characters. An apostrophe between digits is a separator.
_LEXEME = re.compile(
    r"""(?P<comment>//[^\n]*|/\*.*?\*/)
      | R"(?P<fence>[^()\\\s]{0,16})\(.*?\)(?P=fence)"
      | "(?P<string>(?:[^"\\\n]|\\.)*)"
      | (?<![0-9a-fA-F])'(?:[^'\\\n]|\\.)+'""",
    re.DOTALL | re.VERBOSE)


def blanked(text: str) -> str:
    """The text with comments and literals replaced by spaces; lines and places are kept."""
    return _LEXEME.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), text)


def strings_in(text: str) -> Iterator[tuple[int, str]]:
    """(index of the opening quote, content) of each ordinary string literal outside comments."""
    for found in _LEXEME.finditer(text):
        if found.group("string") is not None:
            yield found.start(), found.group("string")
