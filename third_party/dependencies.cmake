# How each dependency is found. Versions, licences and reasons: third_party/README.md. Packages: third_party/install.sh.
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)

pkg_check_modules(libav REQUIRED IMPORTED_TARGET
  libavformat>=59 libavcodec>=59 libavutil>=57 libswscale>=6)
pkg_check_modules(libpqxx REQUIRED IMPORTED_TARGET libpqxx>=6.4 libpq>=14)
pkg_check_modules(fontconfig REQUIRED IMPORTED_TARGET fontconfig)
pkg_check_modules(imgui REQUIRED IMPORTED_TARGET imgui>=1.86)
pkg_check_modules(freetype REQUIRED IMPORTED_TARGET freetype2)
pkg_check_modules(pangocairo REQUIRED IMPORTED_TARGET pangocairo>=1.50 cairo-svg>=1.16)
set_property(TARGET PkgConfig::pangocairo PROPERTY INTERFACE_COMPILE_OPTIONS) # -pthread, which headers compiled ahead do not have
pkg_check_modules(utf8proc REQUIRED IMPORTED_TARGET libutf8proc)

find_package(SDL2 REQUIRED)
set(OpenGL_GL_PREFERENCE GLVND)
find_package(OpenGL REQUIRED COMPONENTS OpenGL)
find_package(SQLite3 REQUIRED)
find_package(SQLiteCpp REQUIRED)
find_package(Eigen3 3.4 REQUIRED NO_MODULE)
find_package(Ceres 2.1 REQUIRED)

# OpenCV's own CMake package comes only with all of its modules; the few we link are found by name.
find_path(OPENCV_INCLUDES opencv2/core.hpp PATH_SUFFIXES opencv4 REQUIRED)
foreach(module IN ITEMS core imgproc calib3d video)
  find_library(OPENCV_${module} opencv_${module} REQUIRED)
  add_library(opencv_${module} UNKNOWN IMPORTED)
  set_target_properties(opencv_${module} PROPERTIES IMPORTED_LOCATION ${OPENCV_${module}})
  target_include_directories(opencv_${module} SYSTEM INTERFACE ${OPENCV_INCLUDES})
endforeach()
target_link_libraries(opencv_imgproc INTERFACE opencv_core)
target_link_libraries(opencv_calib3d INTERFACE opencv_imgproc)
target_link_libraries(opencv_video INTERFACE opencv_imgproc)

find_package(CLI11 REQUIRED)
find_package(nlohmann_json 3.11 REQUIRED)
find_package(fmt REQUIRED)
find_package(Boost 1.74 REQUIRED) # headers only: Boost.Math

find_package(doctest REQUIRED)
find_package(rapidcheck REQUIRED)
find_package(benchmark REQUIRED)

# One target for the interface library with the backends the archive carries.
add_library(ropeline_imgui INTERFACE)
target_link_libraries(ropeline_imgui INTERFACE PkgConfig::imgui PkgConfig::freetype SDL2::SDL2 OpenGL::OpenGL)

# The cache is told to go by what a header compiled ahead holds, not by when it was written.
find_program(CCACHE ccache)
if(CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CMAKE_COMMAND} -E env CCACHE_SLOPPINESS=pch_defines,time_macros ${CCACHE})
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    add_compile_options(-fpch-preprocess)
  else()
    add_compile_options(SHELL:-Xclang\ -fno-pch-timestamp)
  endif()
endif()
