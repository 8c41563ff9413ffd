#!/usr/bin/env python3
"""Every diagnostic code has its page, and every page its code.

A code is a whole string literal of the code below src (tests apart) such as "piece.unknown-key": what
stands after `.code =`, and any literal of that form whose first word is a layer, or the first word of
another code or page, so that codes in tables and calls are found too.
Its page is docs/diagnostics/<code>.md, and the page names the code.

Usage: check_codes.py [ROOT]
"""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass
from pathlib import Path

from cpp_text import strings_in
from faults import Fault, finish, root_from, sources_in

SHAPE = re.compile(r"[a-z]+(\.[a-z0-9]+(-[a-z0-9]+)*)+")
NAMED = re.compile(r"\.code\s*=\s*$")
FILE_ENDINGS = {"toml", "json", "md", "pdf", "svg", "png", "html", "step", "stp", "glb", "csv", "txt", "db"}


def layers_of(root: Path) -> set[str]:
    """The names in KW_LAYERS."""
    text = (root / "cmake" / "module.cmake").read_text(encoding="utf-8")
    found = re.search(r"set\(KW_LAYERS\s+([^)]*)\)", text)
    return set(found.group(1).split()) if found else set()


@dataclass(frozen=True)
class Literal:
    """A string literal and its place; `is_named` when it stands after `.code =`."""

    text: str
    path: str
    line: int
    is_named: bool


def literals_in(root: Path) -> list[Literal]:
    """The string literals of the code below src, tests apart."""
    literals = []
    for file in sources_in(root / "src", (".h", ".cpp")):
        path = file.relative_to(root)
        if "tests" in path.parts:
            continue
        text = file.read_text(encoding="utf-8")
        for at, content in strings_in(text):
            is_named = NAMED.search(text, max(0, at - 40), at) is not None
            literals.append(Literal(content, str(path), text.count("\n", 0, at) + 1, is_named))
    return literals


def is_code(literal: str, families: set[str]) -> bool:
    """Whether a string literal is a diagnostic code rather than a file's name or other text."""
    if not SHAPE.fullmatch(literal):
        return False
    words = literal.split(".")
    return words[0] in families and words[-1] not in FILE_ENDINGS


def check(root: Path) -> tuple[int, list[Fault]]:
    """The number of codes and everything wrong."""
    pages = {p.stem: p for p in sorted((root / "docs" / "diagnostics").glob("*.md")) if p.stem != "README"}
    literals = literals_in(root)
    named = [literal for literal in literals if literal.is_named]
    shapeless = "is not a code: words in lower case, a dot, words joined by hyphens"
    faults = [Fault(x.path, x.line, f'"{x.text}" {shapeless}') for x in named if not SHAPE.fullmatch(x.text)]
    families = layers_of(root) | {x.text.split(".")[0] for x in named} | {name.split(".")[0] for name in pages}

    first_use: dict[str, Literal] = {}
    for literal in literals:
        if is_code(literal.text, families):
            first_use.setdefault(literal.text, literal)
    for code, use in first_use.items():
        if code not in pages:
            faults.append(Fault(use.path, use.line, f"{code} has no page docs/diagnostics/{code}.md"))
    for code, page in pages.items():
        where = str(page.relative_to(root))
        if code not in first_use:
            faults.append(Fault(where, 0, f"nothing below src gives {code}"))
        if code not in page.read_text(encoding="utf-8"):
            faults.append(Fault(where, 0, f"the page does not name its code {code}"))
    return len(first_use), faults


def main() -> int:
    count, faults = check(root_from(sys.argv))
    return finish("codes", f"{count} diagnostic codes", faults)


if __name__ == "__main__":
    sys.exit(main())
