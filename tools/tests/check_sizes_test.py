"""check_sizes.py measures files and functions rightly and finds names that say nothing."""

import unittest

from planted import PlantedTree

from check_sizes import check, functions_in

LONG_BODY = "  step();\n"


def function(body_lines: int, head: str = "int work(int n)") -> str:
    """A function of body_lines + 2 lines."""
    return f"{head} {{\n{LONG_BODY * body_lines}}}\n"


class CheckSizes(PlantedTree):
    def test_finds_nothing_in_a_clean_tree(self) -> None:
        self.plant("src/diag/text.cpp", "#include <map>\n" * 30 + function(33) + "\n" + function(3))
        self.assertEqual((1, [], []), check(self.root))

    def test_a_file_at_the_cap_is_a_warning_and_over_it_a_fault(self) -> None:
        self.plant("src/diag/a.h", "// line\n" * 450)
        self.plant("src/diag/b.h", "// line\n" * 451)
        self.plant("src/diag/c.h", "// line\n" * 700)
        self.plant("src/diag/d.h", "// line\n" * 701)
        _, faults, warnings = check(self.root)
        self.assert_only_fault(faults, "src/diag/d.h", 0, "701 lines")
        self.assertEqual(["src/diag/b.h", "src/diag/c.h"], [w.path for w in warnings])

    def test_a_function_at_the_cap_is_a_warning_and_over_it_a_fault(self) -> None:
        self.plant("src/diag/a.cpp", "\n" + function(33) + function(34) + function(58) + function(59))
        _, faults, warnings = check(self.root)
        self.assert_only_fault(faults, "src/diag/a.cpp", 133, "work has 61 lines")
        self.assertEqual([(37, "work has 36 lines"), (73, "work has 60 lines")],
                         [(w.line, w.message.split(";")[0]) for w in warnings])

    def test_a_long_method_and_a_long_test_count_too(self) -> None:
        self.plant("src/diag/a.h", "namespace kw {\nclass A {\n public:\n" + function(60, "void go() const") + "};\n}\n")
        self.plant("src/diag/tests/a_test.cpp", function(60, "TEST(Length, AddsUp)"))
        _, faults, _ = check(self.root)
        self.assertEqual([("src/diag/a.h", 4, "go has 62 lines"),
                          ("src/diag/tests/a_test.cpp", 1, "TEST(Length, AddsUp) has 62 lines")],
                         [(f.path, f.line, f.message.split(";")[0]) for f in sorted(faults)])

    def test_a_long_constructor_with_member_initialisers_is_found(self) -> None:
        head = "Plan::Plan(int n) noexcept\n    : cost_{n}, bound_(n), parts_{}"
        self.plant("src/diag/a.cpp", function(60, head))
        self.assert_only_fault(check(self.root)[1], "src/diag/a.cpp", 1, "Plan::Plan has 63 lines")

    def test_a_long_table_or_type_is_no_function(self) -> None:
        table = "const std::map<int, int> rows = {\n" + "  {f(1), 2},\n" * 90 + "};\n"
        struct = "template <class T>\nstruct Rows {\n" + "  int x = g(0);\n" * 90 + "};\n"
        enum = "enum class Kind : std::uint8_t {\n" + "  a,\n" * 90 + "};\n"
        self.plant("src/diag/a.cpp", table + struct + enum)
        self.assertEqual([], check(self.root)[1])

    def test_braces_in_comments_and_literals_do_not_count(self) -> None:
        text = ('void a() {\n  f("}", \'{\', R"x(}})x");  // }\n  /* }\n } */ int n = 1\'000;\n}\n'
                "int b() {\n  return 'b';\n}\n")
        self.assertEqual([("void a()", 1, 5), ("int b()", 6, 3)],
                         list(functions_in(text)))

    def test_finds_a_name_that_says_nothing(self) -> None:
        self.plant("src/diag/string_utils.cpp", "")
        self.plant("src/common/a.cpp", "")
        self.plant("src/diag/uncommon.cpp", "")
        faults = check(self.root)[1]
        self.assertEqual(["src/common", "src/diag/string_utils.cpp"], [f.path for f in faults])

    def test_warns_of_a_crowded_folder(self) -> None:
        for i in range(26):
            self.plant(f"src/diag/f{i}.cpp", "")
        _, faults, warnings = check(self.root)
        self.assertEqual([], faults)
        self.assert_only_fault(warnings, "src/diag", 0, "26 sources")


if __name__ == "__main__":
    unittest.main()
