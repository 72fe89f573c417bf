# One library per folder of src. Flags live on the target ropeline_warnings, never in CMAKE_CXX_FLAGS.
set(ROPELINE_SANITIZE "" CACHE STRING "Sanitizers to build with, e.g. address,undefined")

add_library(ropeline_warnings INTERFACE)
target_compile_options(ropeline_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Werror -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor -Wswitch -Wundef)
# GCC 12 warns of copies inside std::string that cannot happen (gcc.gnu.org/PR105651); fixed in GCC 13. Where headers
# are compiled ahead it no longer takes the library's own for a system's, and warns of more of them.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(ropeline_warnings INTERFACE -Wno-restrict -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread -Wno-maybe-uninitialized)
endif()
# A header that was compiled ahead is taken only where these are the same as then.
target_compile_definitions(ropeline_warnings INTERFACE FMT_SHARED)
# A test spends its time in what it tests, so its own code is optimised lightly: that costs the compiler least. Undefined
# behaviour is looked for in the program, not in the tests' own assertions: it costs the compiler a quarter more.
add_library(ropeline_test_settings INTERFACE)
target_compile_options(ropeline_test_settings INTERFACE $<$<CONFIG:Release>:-O1>)
if(ROPELINE_SANITIZE MATCHES undefined)
  target_compile_options(ropeline_test_settings INTERFACE -fno-sanitize=undefined)
endif()

# Pointers that lead nowhere are AddressSanitizer's to find: asked a second time, they cost the compiler a third more.
if(ROPELINE_SANITIZE)
  add_compile_options(-fsanitize=${ROPELINE_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer -g1)
  if(ROPELINE_SANITIZE MATCHES undefined)
    add_compile_options(-fno-sanitize=null,alignment,vptr,object-size)
  endif()
  add_link_options(-fsanitize=${ROPELINE_SANITIZE})
endif()
find_program(LLD ld.lld)
if(LLD)
  add_link_options(-fuse-ld=lld)
endif()

# Sources of a module are compiled ten at a time where all of it is built anew (CI, a coach's build): what the headers
# bring is then compiled once for ten. The dev preset compiles each alone, which is quicker after a change of one.
option(ROPELINE_TOGETHER "Compile the sources of a module ten at a time" OFF)
# A compiler that comes and goes need not sweep up behind itself: a twelfth of its time where sources go together.
if(ROPELINE_TOGETHER AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  add_compile_options("SHELL:--param ggc-min-heapsize=1200000") # kilobytes
endif()

# Headers that most files of a kind include are compiled once. A file still names all that it uses: a build with
# -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON holds it to that.
function(ropeline_precompiled name)
  cmake_parse_arguments(arg "" "" "HEADERS;DEPENDS" ${ARGN})
  add_library(precompiled_${name} OBJECT ${PROJECT_SOURCE_DIR}/src/precompiled.cpp)
  target_link_libraries(precompiled_${name} PRIVATE ${arg_DEPENDS} fmt::fmt ropeline_warnings)
  target_precompile_headers(precompiled_${name} PRIVATE ${arg_HEADERS})
endfunction()
set(common_headers
  <algorithm> <array> <atomic> <charconv> <chrono> <cmath> <condition_variable> <cstdint> <filesystem> <fstream> <functional> <future>
  <map> <memory> <mutex> <numeric> <optional> <random> <set> <span> <sstream> <stdexcept> <string> <string_view> <thread> <variant>
  <vector> <fmt/core.h>)
ropeline_precompiled(common HEADERS ${common_headers})
ropeline_precompiled(matrices HEADERS ${common_headers} <Eigen/Core> <Eigen/LU> <Eigen/Geometry> <opencv2/core.hpp> <opencv2/imgproc.hpp>
  DEPENDS Eigen3::Eigen opencv_imgproc)
ropeline_precompiled(commands HEADERS ${common_headers} <CLI/CLI.hpp> <nlohmann/json.hpp> DEPENDS CLI11::CLI11 nlohmann_json::nlohmann_json)
ropeline_precompiled(tests HEADERS ${common_headers} <doctest/doctest.h> <nlohmann/json.hpp>
  DEPENDS ropeline_test_settings doctest::doctest nlohmann_json::nlohmann_json)

function(ropeline_together target)
  set_target_properties(${target} PROPERTIES UNITY_BUILD ${ROPELINE_TOGETHER} UNITY_BUILD_BATCH_SIZE 10)
endfunction()

# ropeline_module(camera SOURCES a.cpp DEPENDS ropeline::rink PRIVATE_DEPENDS Eigen3::Eigen PRECOMPILED matrices)
function(ropeline_module name)
  cmake_parse_arguments(arg "" "PRECOMPILED" "SOURCES;DEPENDS;PRIVATE_DEPENDS" ${ARGN})
  if(NOT arg_PRECOMPILED)
    set(arg_PRECOMPILED common)
  endif()
  add_library(ropeline_${name} STATIC ${arg_SOURCES})
  add_library(ropeline::${name} ALIAS ropeline_${name})
  target_include_directories(ropeline_${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  target_link_libraries(ropeline_${name} PUBLIC ${arg_DEPENDS} PRIVATE ${arg_PRIVATE_DEPENDS} ropeline_warnings)
  target_precompile_headers(ropeline_${name} REUSE_FROM precompiled_${arg_PRECOMPILED})
  ropeline_together(ropeline_${name})
endfunction()

# doctest itself, compiled once for all programs.
add_library(ropeline_test_main OBJECT ${PROJECT_SOURCE_DIR}/tests/main.cpp)
target_link_libraries(ropeline_test_main PRIVATE doctest::doctest ropeline_test_settings ropeline_warnings)

# ropeline_test(camera SOURCES homography_test.cpp DEPENDS ropeline::camera): one doctest program, one ctest entry.
# ARGUMENTS are the program's own, for an entry that runs a part of it. APART: files whose helpers share their names.
function(ropeline_test name)
  cmake_parse_arguments(arg "APART" "" "SOURCES;DEPENDS;ARGUMENTS" ${ARGN})
  add_executable(${name}_tests ${arg_SOURCES} $<TARGET_OBJECTS:ropeline_test_main>)
  target_link_libraries(${name}_tests PRIVATE ${arg_DEPENDS} doctest::doctest ropeline_test_settings ropeline_warnings)
  target_precompile_headers(${name}_tests REUSE_FROM precompiled_tests)
  if(NOT arg_APART)
    ropeline_together(${name}_tests)
  endif()
  target_include_directories(${name}_tests PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_compile_definitions(${name}_tests PRIVATE
    ROPELINE_SOURCE_DIR="${PROJECT_SOURCE_DIR}" ROPELINE_PROGRAM="${CMAKE_RUNTIME_OUTPUT_DIRECTORY}/ropeline")
  add_test(NAME ${name} COMMAND ${name}_tests ${arg_ARGUMENTS})
endfunction()
