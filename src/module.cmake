# One library per folder of src. Flags live on the target ropeline_warnings, never in CMAKE_CXX_FLAGS.
set(ROPELINE_SANITIZE "" CACHE STRING "Sanitizers to build with, e.g. address,undefined")

add_library(ropeline_warnings INTERFACE)
target_compile_options(ropeline_warnings INTERFACE
  -Wall -Wextra -Wpedantic -Werror -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor -Wswitch -Wundef)
# GCC 12 warns of overlapping copies inside std::string that cannot happen (gcc.gnu.org/PR105651); fixed in GCC 13.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(ropeline_warnings INTERFACE -Wno-restrict)
endif()
if(ROPELINE_SANITIZE)
  add_compile_options(-fsanitize=${ROPELINE_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer -g1)
  add_link_options(-fsanitize=${ROPELINE_SANITIZE})
endif()

# ropeline_module(camera SOURCES a.cpp DEPENDS ropeline::rink PRIVATE_DEPENDS Eigen3::Eigen)
function(ropeline_module name)
  cmake_parse_arguments(arg "" "" "SOURCES;DEPENDS;PRIVATE_DEPENDS" ${ARGN})
  add_library(ropeline_${name} STATIC ${arg_SOURCES})
  add_library(ropeline::${name} ALIAS ropeline_${name})
  target_include_directories(ropeline_${name} PUBLIC ${PROJECT_SOURCE_DIR}/src)
  target_link_libraries(ropeline_${name} PUBLIC ${arg_DEPENDS} PRIVATE ${arg_PRIVATE_DEPENDS} ropeline_warnings)
endfunction()

# ropeline_test(camera SOURCES homography_test.cpp DEPENDS ropeline::camera): one doctest program, one ctest entry.
function(ropeline_test name)
  cmake_parse_arguments(arg "" "" "SOURCES;DEPENDS" ${ARGN})
  add_executable(${name}_tests ${arg_SOURCES} ${PROJECT_SOURCE_DIR}/tests/main.cpp)
  target_link_libraries(${name}_tests PRIVATE ${arg_DEPENDS} doctest::doctest ropeline_warnings)
  target_include_directories(${name}_tests PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_compile_definitions(${name}_tests PRIVATE
    ROPELINE_SOURCE_DIR="${PROJECT_SOURCE_DIR}" ROPELINE_PROGRAM="${CMAKE_RUNTIME_OUTPUT_DIRECTORY}/ropeline")
  add_test(NAME ${name} COMMAND ${name}_tests)
endfunction()
