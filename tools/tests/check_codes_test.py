"""check_codes.py finds codes without pages and pages without codes, and does not take other text for codes."""

import unittest

from planted import PlantedTree

from check_codes import check


class CheckCodes(PlantedTree):
    def setUp(self) -> None:
        super().setUp()
        self.plant("src/measure/text.cpp", 'return Diagnostic{.code = "measure.not-a-length"};\n')
        self.plant("docs/diagnostics/measure.not-a-length.md", "# measure.not-a-length\n")

    def test_finds_nothing_in_a_clean_tree(self) -> None:
        self.assertEqual((1, []), check(self.root))

    def test_finds_a_code_without_a_page(self) -> None:
        self.plant("src/solid/body.cpp", '\nDiagnostic d{.code =\n    "solid.no-wood"};\n')
        self.assert_only_fault(check(self.root)[1], "src/solid/body.cpp", 3, "solid.no-wood has no page")

    def test_finds_a_code_in_a_table_or_a_call(self) -> None:
        self.plant("src/solid/body.cpp", 'return fault("solid.no-wood", at, "no wood is left");\n')
        self.assert_only_fault(check(self.root)[1], "src/solid/body.cpp", 1, "solid.no-wood has no page")

    def test_finds_a_code_of_a_family_that_is_no_layer(self) -> None:
        self.plant("src/solid/edit.cpp", 'd.code = "edit.bad"; auto e = fault("edit.worse");\n')
        self.plant("docs/diagnostics/edit.bad.md", "# edit.bad\n")
        self.assert_only_fault(check(self.root)[1], "src/solid/edit.cpp", 1, "edit.worse has no page")

    def test_finds_a_page_without_a_code(self) -> None:
        self.plant("docs/diagnostics/measure.gone.md", "# measure.gone\n")
        self.assert_only_fault(check(self.root)[1], "docs/diagnostics/measure.gone.md", 0, "nothing below src")

    def test_a_code_in_a_comment_or_a_test_earns_no_page(self) -> None:
        self.plant("src/solid/body.cpp", '// "solid.gone"\nint x = 1;  /* "solid.gone" */\n')
        self.plant("src/solid/tests/body_test.cpp", 'EXPECT_EQ(d.code, "solid.gone");\n')
        self.plant("docs/diagnostics/solid.gone.md", "# solid.gone\n")
        self.assert_only_fault(check(self.root)[1], "docs/diagnostics/solid.gone.md", 0, "nothing below src")

    def test_finds_a_page_that_speaks_of_another_code(self) -> None:
        self.plant("docs/diagnostics/measure.not-a-length.md", "# measure.not-an-angle\n")
        self.assert_only_fault(check(self.root)[1], "docs/diagnostics/measure.not-a-length.md", 0, "does not name")

    def test_finds_a_code_out_of_shape(self) -> None:
        self.plant("src/solid/body.cpp", 'd.code = "solid.NoWood";\n')
        self.assert_only_fault(check(self.root)[1], "src/solid/body.cpp", 1, "is not a code")

    def test_file_names_and_other_text_are_no_codes(self) -> None:
        self.plant("src/solid/body.cpp", 'f("solid.toml"); g("a solid. no-wood"); h("size.height"); i("1.5");\n')
        self.assertEqual((1, []), check(self.root))


if __name__ == "__main__":
    unittest.main()
