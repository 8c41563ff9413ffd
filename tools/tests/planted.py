"""A small tree on disk in which the tests of the checkers plant their faults."""

from __future__ import annotations

import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

LAYERS = "set(KW_LAYERS diag measure solid cli)\n"


class PlantedTree(unittest.TestCase):
    """Gives each test an empty tree with the order of the layers in it."""

    def setUp(self) -> None:
        folder = tempfile.TemporaryDirectory()
        self.addCleanup(folder.cleanup)
        self.root = Path(folder.name)
        self.plant("cmake/module.cmake", LAYERS)

    def plant(self, path: str, content: str) -> None:
        file = self.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(content, encoding="utf-8")

    def assert_only_fault(self, faults: list, path: str, line: int, words: str) -> None:
        self.assertEqual(1, len(faults), [str(f) for f in faults])
        self.assertEqual((path, line), (faults[0].path, faults[0].line))
        self.assertIn(words, faults[0].message)
