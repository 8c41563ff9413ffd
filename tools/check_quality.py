#!/usr/bin/env python3
"""Whether the figures of a table are as good as those kept in bench/quality.

    check_quality.py KEPT NEW                 compares two files of rows
    check_quality.py KEPT -- PROGRAM ARG...   runs a table, which writes its rows to a file named
                                              in place of the word NEW, and compares the instances
                                              that it tried

A loss is: another cost where one was proved, a proof that did not come, and, where nothing was
proved, a worse plan or a weaker bound. Time is no loss; what takes three times as long and a second
more is told. Exit status 1 on a loss.
"""

import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple


class Row(NamedTuple):
    best: int
    bound: int
    proved: bool
    seconds: float


def read(path):
    """Rows by (class, instance)."""
    rows = {}
    for line in Path(path).read_text(encoding="utf-8").splitlines():
        cells = line.split("\t")
        if len(cells) < 6 or cells[0] == "class":
            continue
        rows[cells[0], cells[1]] = Row(int(cells[2]), int(cells[3]), cells[4] == "yes", float(cells[5]))
    return rows


def loss(old, new):
    """What is worse, in words, or None."""
    if old.proved:
        if new.best != old.best:
            return f"was proved {old.best}, now {new.best}"
        return None if new.proved else f"was proved {old.best}, now only bounded by {new.bound}"
    side = 1 if old.best >= old.bound else -1  # least money, or most worth
    if side * new.best > side * old.best:
        return f"was {old.best}, now {new.best}"
    if side * new.bound < side * old.bound:
        return f"was bounded by {old.bound}, now {new.bound}"
    return None


def compare(old, new):
    """How many instances are in both, the losses, and what got slow."""
    both = sorted(set(old) & set(new))
    losses = [(key, loss(old[key], new[key])) for key in both]
    losses = [f"{' '.join(key)}: {words}" for key, words in losses if words]
    slow = [
        f"{' '.join(key)}: {old[key].seconds} s, now {new[key].seconds} s"
        for key in both
        if new[key].seconds > 3 * old[key].seconds + 1
    ]
    return len(both), losses, slow


def run(command):
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "new.tsv"
        file.touch()
        done = subprocess.run([str(file) if word == "NEW" else word for word in command], check=False)
        return done.returncode, read(file)


def main(arguments):
    if len(arguments) < 2:
        print(__doc__)
        return 2
    code = 0
    if arguments[1] == "--":
        code, new = run(arguments[2:])
    else:
        new = read(arguments[1])
    count, losses, slow = compare(read(arguments[0]), new)
    for words in slow:
        print(f"slower: {words}")
    for words in losses:
        print(f"lost: {words}")
    print(f"quality: {count} instances, {len(losses)} worse than kept")
    return 1 if losses or code or not count else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
