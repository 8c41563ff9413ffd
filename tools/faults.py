"""What the checkers of this folder have in common: a fault with its place, and how a run ends."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Iterable


@dataclass(frozen=True, order=True)
class Fault:
    """Something wrong at a line of a file; `path` is relative to the root, line 0 is the whole file."""

    path: str
    line: int
    message: str

    def __str__(self) -> str:
        place = f"{self.path}:{self.line}" if self.line else self.path
        return f"{place}: {self.message}"


def root_from(arguments: list[str]) -> Path:
    """The tree to check: the first argument, or the tree that this file stands in."""
    return Path(arguments[1]).resolve() if len(arguments) > 1 else Path(__file__).resolve().parent.parent


def sources_in(folder: Path, suffixes: Iterable[str]) -> list[Path]:
    """Files below `folder` with one of the suffixes, in the order of their names."""
    wanted = set(suffixes)
    return sorted(p for p in folder.rglob("*") if p.suffix in wanted and p.is_file())


def finish(name: str, summary: str, faults: list[Fault], warnings: list[Fault] | None = None) -> int:
    """Prints what was found and gives the exit code."""
    for warning in sorted(warnings or []):
        print(f"{warning} (warning)")
    for fault in sorted(faults):
        print(fault, file=sys.stderr)
    verdict = f"{len(faults)} faults" if faults else "no fault"
    print(f"{name}: {summary}, {verdict}")
    return 1 if faults else 0
