# kw_tests_together(NAME PREFIX USES module... LIBRARY target... SOURCES file...)
# As kw_tests, but the cases of suites that begin with PREFIX/ are one ctest, NAME.PREFIX: what they share is
# made once.
function(kw_tests_together name prefix)
  cmake_parse_arguments(ARG "" "" "SOURCES;USES;LIBRARY" ${ARGN})
  if(NOT KW_TESTS)
    return()
  endif()
  list(TRANSFORM ARG_USES PREPEND kw_)
  add_executable(${name}_tests ${ARG_SOURCES})
  target_link_libraries(${name}_tests PRIVATE kw_settings ${ARG_USES} ${ARG_LIBRARY} GTest::gtest
                                              GTest::gtest_main ${KW_RAPIDCHECK})
  if(KW_SANITIZE)
    target_compile_options(${name}_tests PRIVATE -O0)
  endif()
  gtest_discover_tests(${name}_tests TEST_FILTER "-${prefix}/*" DISCOVERY_TIMEOUT 60 PROPERTIES LABELS ${name})
  add_test(NAME ${name}.${prefix} COMMAND ${name}_tests "--gtest_filter=${prefix}/*" --gtest_brief=1)
  set_tests_properties(${name}.${prefix} PROPERTIES LABELS ${name})
endfunction()
