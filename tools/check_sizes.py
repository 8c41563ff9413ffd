#!/usr/bin/env python3
"""Small pieces: caps on the length of files and functions, and names that say nothing.

A file over 450 lines and a function over 35 are warnings; over 700 and over 60 are faults. A folder of
more than 25 sources is a warning. A file or folder called utils, common, helpers or misc is a fault.
What is made from another file (.d.ts) is left out. The caps are raised only by a page in docs/decisions.

Usage: check_sizes.py [ROOT]
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from pathlib import Path
from typing import Iterator

from cpp_text import blanked
from faults import Fault, finish, root_from, sources_in

FOLDERS = ("src", "tests", "fuzz", "bench", "tools", "web/src")
SUFFIXES = (".h", ".cpp", ".py", ".ts", ".svelte")
FILE_WISH, FILE_CAP = 450, 700
FUNCTION_WISH, FUNCTION_CAP = 35, 60
FOLDER_WISH = 25
BANNED = {"utils", "util", "common", "helpers", "helper", "misc"}

# Lines of the preprocessor and access labels belong to no function.
NOT_FUNCTION = re.compile(r"^[ \t]*#(?:\\\n|[^\n])*|\b(?:public|private|protected)\s*:(?!:)", re.MULTILINE)
CONTAINER = re.compile(r"^(template\s*<.*>\s*)?(inline\s+)?(namespace|class|struct|union|enum|extern)\b", re.DOTALL)
MEMBER_INITIALISERS = re.compile(r"\)\s*(noexcept\s*)?:(?!:)")


def end_of_block(text: str, opening: int) -> int:
    """The index of the brace that closes the one at `opening` (the text's end when there is none)."""
    depth = 0
    for found in re.compile(r"[{}]").finditer(text, opening):
        depth += 1 if found.group() == "{" else -1
        if depth == 0:
            return found.start()
    return len(text) - 1


def is_member_initialiser(head: str) -> bool:
    """Whether the brace after `head` starts a member in a constructor's list, not the body."""
    return bool(MEMBER_INITIALISERS.search(head)) and bool(re.search(r"[\w>]$", head))


def blocks_in(text: str, start: int, end: int) -> Iterator[tuple[str, int, int]]:
    """(head, its index, closing index) of each block at the outer level of text[start:end]."""
    head_at = start
    i = start
    while i < end:
        if text[i] == "{":
            head = text[head_at:i].strip()
            close = end_of_block(text, i)
            if not is_member_initialiser(head):
                lead = len(text[head_at:i]) - len(text[head_at:i].lstrip())
                yield head, head_at + lead, close
                head_at = close + 1
            i = close
        elif text[i] in ";}":
            head_at = i + 1
        i += 1


def functions_in(text: str) -> Iterator[tuple[str, int, int]]:
    """(head, first line, number of lines) of each function of C++ text, methods too, lambdas not."""
    code = re.sub(NOT_FUNCTION, lambda m: re.sub(r"[^\n]", " ", m.group()), blanked(text))
    yield from functions_between(code, 0, len(code))


def functions_between(text: str, start: int, end: int) -> Iterator[tuple[str, int, int]]:
    """functions_in a part of code that has been blanked."""
    for head, at, close in blocks_in(text, start, end):
        if CONTAINER.match(head):
            if not re.search(r"\benum\b", head):
                yield from functions_between(text, text.index("{", at) + 1, close)
        elif "(" in head and not re.search(r"=\s*(\w[\w:<>]*)?$", head):
            first = text.count("\n", 0, at) + 1
            yield head, first, text.count("\n", at, close) + 1


def called(head: str) -> str:
    """The name of a function, for messages."""
    found = re.search(r"([\w:~]+)\s*\(([^()]*)", head)
    if not found:
        return head.split("\n")[0]
    name, inside = found.groups()
    return f"{name}({inside.strip()})" if name.startswith("TEST") or name == "RC_GTEST_PROP" else name


def judge_file(file: Path, root: Path, faults: list[Fault], warnings: list[Fault]) -> None:
    """Files what is too long in one file."""
    where = str(file.relative_to(root))
    text = file.read_text(encoding="utf-8")
    lines = text.count("\n")
    if lines > FILE_WISH:
        into = faults if lines > FILE_CAP else warnings
        into.append(Fault(where, 0, f"{lines} lines; {FILE_WISH} is the bar, {FILE_CAP} the cap"))
    if file.suffix not in (".h", ".cpp"):
        return
    for head, line, length in functions_in(text):
        if length > FUNCTION_WISH:
            into = faults if length > FUNCTION_CAP else warnings
            into.append(Fault(where, line, f"{called(head)} has {length} lines; "
                                           f"{FUNCTION_WISH} is the bar, {FUNCTION_CAP} the cap"))


def name_faults(files: list[Path], root: Path) -> list[Fault]:
    """Files and folders whose name says nothing."""
    faults = set()
    for file in files:
        parts = file.relative_to(root).parts
        for depth, part in enumerate(parts, start=1):
            if BANNED & set(re.split(r"[_\-.]", part.lower())):
                faults.add(Fault("/".join(parts[:depth]), 0, f"'{part}' does not say what is in it"))
    return sorted(faults)


def check(root: Path) -> tuple[int, list[Fault], list[Fault]]:
    """The number of files, the faults and the warnings."""
    files = [f for name in FOLDERS for f in sources_in(root / name, SUFFIXES) if not f.name.endswith(".d.ts")]
    faults = name_faults(files, root)
    warnings: list[Fault] = []
    for file in files:
        judge_file(file, root, faults, warnings)
    for folder, count in sorted(Counter(f.parent for f in files).items()):
        if count > FOLDER_WISH:
            where = str(folder.relative_to(root))
            warnings.append(Fault(where, 0, f"{count} sources in one folder; {FOLDER_WISH} is the bar"))
    return len(files), faults, warnings


def main() -> int:
    count, faults, warnings = check(root_from(sys.argv))
    return finish("sizes", f"{count} files", faults, warnings)


if __name__ == "__main__":
    sys.exit(main())
