# Language, warnings and options shared by every target.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_RUNTIME_OUTPUT_DIRECTORY "${CMAKE_BINARY_DIR}/bin")
if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE RelWithDebInfo)
endif()

# The program as shipped is compiled as the one that is tested and timed, but for -g. (At -O3, g++ 12 takes
# some sums of strings for an overlapping copy, -Wrestrict, which they are not.)
set(CMAKE_CXX_FLAGS_RELEASE "-O2 -DNDEBUG")

option(KW_TESTS "Build the tests" ON)
option(KW_BENCH "Build the benchmarks" ON)
option(KW_FUZZ "Build the fuzz targets with libFuzzer (clang only)" OFF)
set(KW_SANITIZE "" CACHE STRING "Sanitizers, as -fsanitize= takes them")

find_program(KW_CCACHE ccache)
if(KW_CCACHE AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
  # What one checkout compiled serves the next: paths below the tree count from its top.
  set(CMAKE_CXX_COMPILER_LAUNCHER "${CMAKE_COMMAND}" -E env "CCACHE_BASEDIR=${CMAKE_SOURCE_DIR}"
      CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros "${KW_CCACHE}")
endif()

add_library(kw_settings INTERFACE)
target_compile_options(kw_settings INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror -ffp-contract=off)
if(KW_SANITIZE)
  target_compile_options(kw_settings INTERFACE
    -fsanitize=${KW_SANITIZE} -fno-omit-frame-pointer -fno-sanitize-recover=all)
  target_link_options(kw_settings INTERFACE -fsanitize=${KW_SANITIZE})
  target_compile_definitions(kw_settings INTERFACE _GLIBCXX_ASSERTIONS)
endif()

find_package(PkgConfig REQUIRED)
find_package(fmt REQUIRED)
if(KW_TESTS)
  enable_testing()
  find_package(GTest REQUIRED)
  find_library(KW_RAPIDCHECK rapidcheck REQUIRED)
endif()
