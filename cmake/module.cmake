# The layers from the ground up. kw_module() refuses a module that uses one not above it here.
set(KW_LAYERS diag measure lumber cutting piece solid parts drawing checks trade planbook store
    wire workbench server cli)

# Layers whose work is little: under the sanitizers they are compiled without optimisation, in half the time.
set(KW_LIGHT_LAYERS trade store wire workbench server cli)

# kw_module(NAME USES module... HEADERS header... SOURCES file... LIBRARY target...)
# One static library kw_NAME. HEADERS are relative to include/kerfwright/NAME; LIBRARY stays private.
function(kw_module name)
  cmake_parse_arguments(ARG "" "" "USES;HEADERS;SOURCES;LIBRARY" ${ARGN})
  list(FIND KW_LAYERS ${name} own)
  if(own EQUAL -1)
    message(FATAL_ERROR "${name} is not a layer: add it to KW_LAYERS in cmake/module.cmake")
  endif()
  list(TRANSFORM ARG_HEADERS PREPEND "include/kerfwright/${name}/")
  if(ARG_SOURCES)
    add_library(kw_${name} STATIC ${ARG_SOURCES})
    set(scope PUBLIC)
    target_link_libraries(kw_${name} PRIVATE kw_settings ${ARG_LIBRARY})
    if(KW_SANITIZE AND name IN_LIST KW_LIGHT_LAYERS)
      target_compile_options(kw_${name} PRIVATE -O0)
    endif()
  else()
    add_library(kw_${name} INTERFACE)
    set(scope INTERFACE)
  endif()
  target_sources(kw_${name} ${scope} FILE_SET HEADERS BASE_DIRS include FILES ${ARG_HEADERS})
  set_target_properties(kw_${name} PROPERTIES VERIFY_INTERFACE_HEADER_SETS ON)
  foreach(used IN LISTS ARG_USES)
    list(FIND KW_LAYERS ${used} below)
    if(below EQUAL -1 OR NOT below LESS own)
      message(FATAL_ERROR "${name} may not use ${used}: it does not lie below ${name} "
                          "(cmake/module.cmake has the order)")
    endif()
    target_link_libraries(kw_${name} ${scope} kw_${used})
  endforeach()
endfunction()

# What nearly every test includes, parsed once: clang takes it well, g++ gains nothing by it.
if(KW_TESTS AND KW_SANITIZE)
  file(WRITE "${CMAKE_BINARY_DIR}/test_headers.cpp" "")
  add_library(kw_test_headers OBJECT "${CMAKE_BINARY_DIR}/test_headers.cpp")
  target_link_libraries(kw_test_headers PRIVATE kw_settings GTest::gtest ${KW_RAPIDCHECK} fmt::fmt)
  target_compile_definitions(kw_test_headers PRIVATE KW_SOURCE_DIR="${CMAKE_SOURCE_DIR}" KW_SANITIZED)
  target_compile_options(kw_test_headers PRIVATE -O0 -fpch-instantiate-templates "SHELL:-Xclang -fno-pch-timestamp")
  target_precompile_headers(kw_test_headers PRIVATE
    <algorithm> <cmath> <functional> <map> <optional> <string> <vector> <fmt/format.h> <gtest/gtest.h>
    <rapidcheck.h> <rapidcheck/gtest.h>)
endif()

# kw_tests(NAME [SLOW] [TOGETHER PREFIX] SOURCES file... USES module... LIBRARY target...)
# One GoogleTest program NAME_tests, each case a ctest labelled NAME. Cases that take seconds each stand in
# a program of their own marked SLOW: their label is `slow`, ./test quick leaves them out, and
# sanitizers do not build them. The cases of suites that begin with PREFIX/ are one ctest, NAME.PREFIX: what
# they share is made once.
function(kw_tests name)
  cmake_parse_arguments(ARG "SLOW" "TOGETHER" "SOURCES;USES;LIBRARY" ${ARGN})
  if(NOT KW_TESTS OR (ARG_SLOW AND KW_SANITIZE))
    return()
  endif()
  list(TRANSFORM ARG_USES PREPEND kw_)
  set(label ${name})
  if(ARG_SLOW)
    set(label slow)
  endif()
  add_executable(${name}_tests ${ARG_SOURCES})
  target_link_libraries(${name}_tests PRIVATE kw_settings ${ARG_USES} ${ARG_LIBRARY} GTest::gtest
                                              GTest::gtest_main ${KW_RAPIDCHECK})
  target_compile_definitions(${name}_tests PRIVATE KW_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  if(KW_SANITIZE)
    # Half the time to compile; the code under test keeps its own optimisation.
    target_compile_options(${name}_tests PRIVATE -O0)
    target_compile_definitions(${name}_tests PRIVATE KW_SANITIZED)
    target_link_libraries(${name}_tests PRIVATE fmt::fmt)
    target_precompile_headers(${name}_tests REUSE_FROM kw_test_headers)
  else()
    target_compile_options(${name}_tests PRIVATE -O1)
  endif()
  set(alone)
  if(ARG_TOGETHER)
    set(alone TEST_FILTER "-${ARG_TOGETHER}/*")
    add_test(NAME ${name}.${ARG_TOGETHER}
      COMMAND ${name}_tests "--gtest_filter=${ARG_TOGETHER}/*" --gtest_brief=1)
    set_tests_properties(${name}.${ARG_TOGETHER} PROPERTIES LABELS ${label} COST 100)
  endif()
  gtest_discover_tests(${name}_tests ${alone} DISCOVERY_TIMEOUT 60 PROPERTIES LABELS ${label})
endfunction()
include(GoogleTest)
