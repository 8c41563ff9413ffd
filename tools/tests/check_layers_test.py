"""check_layers.py finds each kind of fault planted in a small tree, and nothing in a clean one."""

import unittest

from planted import PlantedTree

from check_layers import check


class CheckLayers(PlantedTree):
    def setUp(self) -> None:
        super().setUp()
        self.plant("src/diag/CMakeLists.txt", "kw_module(diag HEADERS text.h SOURCES text.cpp LIBRARY fmt::fmt)\n")
        self.plant("src/diag/include/kerfwright/diag/text.h", "#include <string>\n#include <cstdint>\n")
        self.plant("src/diag/text.cpp", '#include "kerfwright/diag/text.h"\n#include <fmt/core.h>\n')
        self.plant("src/measure/CMakeLists.txt",
                   "# kw_module(solid)\nkw_module(measure USES diag HEADERS length.h SOURCES length.cpp)\n"
                   "kw_tests(measure USES measure SOURCES tests/length_test.cpp)\n")
        self.plant("src/measure/include/kerfwright/measure/length.h", '#include "kerfwright/diag/text.h"\n')
        self.plant("src/measure/length.cpp", '#include "round.h"\n#include <cmath>\n')
        self.plant("src/measure/round.h", "#include <vector>\n")
        self.plant("src/measure/tests/length_test.cpp", "#include <gtest/gtest.h>\n#include <Eigen/Dense>\n")
        self.plant("src/solid/CMakeLists.txt",
                   "kw_module(solid USES diag HEADERS body.h SOURCES body.cpp LIBRARY Eigen3::Eigen)\n")
        self.plant("src/solid/include/kerfwright/solid/body.h", "#include <optional>\n")
        self.plant("src/solid/body.cpp", "#include <Eigen/Dense>\n#include <limits>\n")

    def test_finds_nothing_in_a_clean_tree(self) -> None:
        count, faults = check(self.root)
        self.assertEqual((3, []), (count, faults))

    def test_finds_a_module_that_is_not_in_uses(self) -> None:
        self.plant("src/solid/body.cpp", '\n#include "kerfwright/measure/length.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/solid/body.cpp", 2, "measure is not in its USES")

    def test_finds_a_low_module_that_reaches_up(self) -> None:
        self.plant("src/diag/text.cpp", '#include "kerfwright/solid/body.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/diag/text.cpp", 1, "may not include kerfwright/solid/")

    def test_finds_a_test_that_reaches_past_what_it_uses(self) -> None:
        self.plant("src/measure/tests/length_test.cpp", '#include "kerfwright/solid/body.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/measure/tests/length_test.cpp", 1, "not in its USES")

    def test_finds_a_library_far_from_home(self) -> None:
        self.plant("src/measure/length.cpp", "#include <toml++/toml.h>\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/length.cpp", 1, "whose home is lumber, piece")

    def test_finds_a_library_far_from_home_in_quotes(self) -> None:
        self.plant("src/measure/length.cpp", '#  include "sqlite3.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/measure/length.cpp", 1, "whose home is store")

    def test_finds_a_third_party_header_in_a_public_header(self) -> None:
        self.plant("src/solid/include/kerfwright/solid/body.h", "#include <Eigen/Core>\n")
        self.assert_only_fault(check(self.root)[1], "src/solid/include/kerfwright/solid/body.h", 1,
                               "stays out of public headers")

    def test_finds_a_library_at_home_that_is_not_linked(self) -> None:
        self.plant("src/solid/body.cpp", "#include <polyclipping/clipper.hpp>\n")
        self.assert_only_fault(check(self.root)[1], "src/solid/body.cpp", 1, "LIBRARY does not link")

    def test_finds_a_kernel_header_below_solid(self) -> None:
        self.plant("src/measure/length.cpp", "#include <gp_Pnt.hxx>\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/length.cpp", 1, "whose home is solid")

    def test_finds_a_header_of_no_known_library(self) -> None:
        self.plant("src/measure/length.cpp", "#include <surprise/all.hpp>\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/length.cpp", 1, "no library")

    def test_finds_a_linked_library_far_from_home(self) -> None:
        self.plant("src/measure/CMakeLists.txt",
                   "kw_module(measure USES diag HEADERS length.h SOURCES length.cpp LIBRARY Eigen3::Eigen)\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/CMakeLists.txt", 0, "the home of Eigen")

    def test_finds_a_linked_library_that_nobody_knows(self) -> None:
        self.plant("src/measure/CMakeLists.txt",
                   "kw_module(measure USES diag HEADERS length.h SOURCES length.cpp)\n"
                   "target_link_libraries(kw_measure PRIVATE Surprise::all)\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/CMakeLists.txt", 0, "links Surprise::all")

    def test_takes_a_library_that_a_part_of_the_module_links(self) -> None:
        self.plant("src/solid/kernel/CMakeLists.txt", "target_link_libraries(kw_kernel PRIVATE kw_solid TKBRep)\n")
        self.plant("src/solid/kernel/body.cpp", "#include <TopoDS.hxx>\n")
        self.assertEqual([], check(self.root)[1])

    def test_finds_a_path_that_climbs(self) -> None:
        self.plant("src/measure/length.cpp", '#include "../diag/text.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/measure/length.cpp", 1, "../")

    def test_finds_a_path_that_climbs_outside_the_modules(self) -> None:
        self.plant("fuzz/length_fuzz.cpp", '#include "../src/measure/round.h"\n')
        self.assert_only_fault(check(self.root)[1], "fuzz/length_fuzz.cpp", 1, "../")

    def test_finds_a_public_header_that_no_one_lists(self) -> None:
        self.plant("src/measure/include/kerfwright/measure/angle.h", "#include <compare>\n")
        self.assert_only_fault(check(self.root)[1], "src/measure/include/kerfwright/measure/angle.h", 0,
                               "does not list")

    def test_a_program_may_include_the_modules_that_it_links(self) -> None:
        self.plant("src/cli/CMakeLists.txt",
                   "add_executable(kerf main.cpp)\ntarget_link_libraries(kerf PRIVATE kw_settings kw_measure)\n")
        self.plant("src/cli/main.cpp",
                   '#include "kerfwright/measure/length.h"\n#include "kerfwright/solid/body.h"\n')
        self.assert_only_fault(check(self.root)[1], "src/cli/main.cpp", 2, "solid is not in its USES")

    def test_finds_a_folder_that_declares_another_module(self) -> None:
        self.plant("src/cli/CMakeLists.txt", "kw_module(measure)\n")
        self.assert_only_fault(check(self.root)[1], "src/cli/CMakeLists.txt", 0, "named cli")


if __name__ == "__main__":
    unittest.main()
