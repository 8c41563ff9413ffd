"""check_quality.py sees every kind of loss, and takes nothing else for one."""

import contextlib
import io
import sys
import tempfile
import unittest
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from check_quality import Row, compare, loss, main

PROVED = Row(5, 5, True, 0.1)


class CheckQuality(unittest.TestCase):
    def test_finds_nothing_where_nothing_is_worse(self) -> None:
        self.assertIsNone(loss(PROVED, Row(5, 5, True, 90.0)))
        self.assertIsNone(loss(Row(9, 5, False, 60.0), Row(8, 6, False, 60.0)))
        self.assertIsNone(loss(Row(9, 5, False, 60.0), PROVED))
        self.assertIsNone(loss(Row(70, 80, False, 60.0), Row(75, 75, True, 1.0)))

    def test_finds_a_proof_that_did_not_come(self) -> None:
        self.assertIn("only bounded by 4", loss(PROVED, Row(5, 4, False, 60.0)))

    def test_finds_another_cost_than_the_one_proved(self) -> None:
        self.assertIn("now 4", loss(PROVED, Row(4, 4, True, 0.1)))
        self.assertIn("now 6", loss(PROVED, Row(6, 5, False, 60.0)))

    def test_finds_a_worse_plan_and_a_weaker_bound(self) -> None:
        least = Row(9, 5, False, 60.0)
        self.assertIn("now 10", loss(least, Row(10, 5, False, 60.0)))
        self.assertIn("bounded by 5", loss(least, Row(9, 4, False, 60.0)))
        most = Row(70, 80, False, 60.0)
        self.assertIn("now 69", loss(most, Row(69, 80, False, 60.0)))
        self.assertIn("bounded by 80", loss(most, Row(70, 81, False, 60.0)))

    def test_compares_only_what_both_have_and_tells_what_got_slow(self) -> None:
        old = {("a", "1"): PROVED, ("a", "2"): PROVED}
        new = {("a", "1"): Row(5, 5, True, 3.0)}
        count, losses, slow = compare(old, new)
        self.assertEqual((1, [], 1), (count, losses, len(slow)))

    def test_ends_with_1_on_a_loss_and_where_nothing_was_tried(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            kept, worse, none = (Path(folder) / name for name in ("kept", "worse", "none"))
            kept.write_text("class\tinstance\tbest\tbound\tproved\tseconds\nx\t1\t5\t5\tyes\t0.1\n")
            worse.write_text("x\t1\t6\t5\tno\t9.0\n")
            none.write_text("")
            with contextlib.redirect_stdout(io.StringIO()):
                self.assertEqual(0, main([str(kept), str(kept)]))
                self.assertEqual(1, main([str(kept), str(worse)]))
                self.assertEqual(1, main([str(kept), str(none)]))
                self.assertEqual(1, main([str(kept), "--", "cp", str(worse), "NEW"]))


if __name__ == "__main__":
    unittest.main()
