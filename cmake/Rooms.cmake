# add_room(NAME USES rooms… LINKS libraries… EMBEDS files…): the library of src/NAME.
# A room's headers live on an include path of their own (a link to src/NAME), so that
# `#include "physics/water.hpp"` compiles only in rooms that list physics. Tests named *_test.cpp
# beside the sources become the program test_NAME.

add_library(firstdraw_options INTERFACE)
target_compile_options(firstdraw_options INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wnon-virtual-dtor -Wold-style-cast -Wimplicit-fallthrough
  -Werror -ffp-contract=off -pthread)

# Paths under the source folder are hashed relative to the build folder: a clone elsewhere finds what this one compiled.
find_program(CCACHE ccache)
if(CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CMAKE_COMMAND} -E env
    CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime
    CCACHE_BASEDIR=${CMAKE_SOURCE_DIR} CCACHE_NOHASHDIR=1 ${CCACHE})
endif()

file(WRITE ${CMAKE_BINARY_DIR}/empty.cpp.in "namespace {}\n")
configure_file(${CMAKE_BINARY_DIR}/empty.cpp.in ${CMAKE_BINARY_DIR}/empty.cpp COPYONLY)
if(FIRSTDRAW_PCH)
  add_library(firstdraw_pch OBJECT ${CMAKE_BINARY_DIR}/empty.cpp)
  target_link_libraries(firstdraw_pch PRIVATE firstdraw_options)
  target_compile_options(firstdraw_pch PRIVATE -fpch-preprocess)
  target_precompile_headers(firstdraw_pch PRIVATE
    <algorithm> <array> <cmath> <cstdint> <expected> <filesystem> <functional> <limits> <map> <memory>
    <numbers> <optional> <set> <span> <string> <string_view> <unordered_map> <utility> <variant> <vector>)
endif()

function(firstdraw_use target)
  target_link_libraries(${target} PRIVATE firstdraw_options)
  if(FIRSTDRAW_PCH)
    target_compile_options(${target} PRIVATE -fpch-preprocess)
    target_precompile_headers(${target} REUSE_FROM firstdraw_pch)
  endif()
endfunction()

# Where sources and build lie, for tests and benches.
configure_file(${CMAKE_SOURCE_DIR}/tests/places/places.cpp.in ${CMAKE_BINARY_DIR}/places.cpp @ONLY)
add_library(places STATIC ${CMAKE_BINARY_DIR}/places.cpp)
target_include_directories(places PUBLIC ${CMAKE_SOURCE_DIR}/tests/places)
firstdraw_use(places)

# Turns files into `const std::map<std::string_view, std::string_view>& embedded_<name>()`.
function(embed_files target name)
  set(generated ${CMAKE_BINARY_DIR}/embedded/${name}.cpp)
  file(GLOB files CONFIGURE_DEPENDS ${ARGN})
  string(REPLACE ";" "," joined "${files}")
  add_custom_command(OUTPUT ${generated}
    COMMAND ${CMAKE_COMMAND} -DNAME=${name} -DFILES=${joined} -DOUTPUT=${generated} -P ${CMAKE_SOURCE_DIR}/cmake/Embed.cmake
    DEPENDS ${files} ${CMAKE_SOURCE_DIR}/cmake/Embed.cmake VERBATIM)
  target_sources(${target} PRIVATE ${generated})
  set_source_files_properties(${generated} PROPERTIES SKIP_PRECOMPILE_HEADERS ON)
endfunction()

function(add_room name)
  cmake_parse_arguments(ROOM "" "" "USES;LINKS;EMBEDS" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/${name}/*.cpp)
  list(FILTER sources EXCLUDE REGEX "(_test|/main)\\.cpp$")
  set(door ${CMAKE_BINARY_DIR}/include/${name})
  file(MAKE_DIRECTORY ${door})
  file(CREATE_LINK ${CMAKE_SOURCE_DIR}/src/${name} ${door}/${name} SYMBOLIC)
  if(NOT sources)
    set(sources ${CMAKE_BINARY_DIR}/empty.cpp)
  endif()
  add_library(${name} STATIC ${sources})
  target_include_directories(${name} PUBLIC ${door})
  target_link_libraries(${name} PUBLIC ${ROOM_USES} fmt::fmt PRIVATE ${ROOM_LINKS})
  firstdraw_use(${name})
  if(ROOM_EMBEDS)
    embed_files(${name} ${name} ${ROOM_EMBEDS})
  endif()
  room_tests(${name} "${ROOM_LINKS}")
endfunction()

function(room_tests name links)
  file(GLOB tests CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/src/${name}/*_test.cpp)
  if(FIRSTDRAW_TESTS AND tests)
    add_test_program(test_${name} SOURCES ${tests} USES ${name} LINKS ${links})
  endif()
endfunction()

function(add_test_program name)
  cmake_parse_arguments(TEST "" "" "SOURCES;USES;LINKS" ${ARGN})
  find_package(GTest REQUIRED)
  include(GoogleTest)
  add_executable(${name} ${TEST_SOURCES})
  target_link_libraries(${name} PRIVATE ${TEST_USES} ${TEST_LINKS} places GTest::gtest GTest::gmock GTest::gtest_main)
  firstdraw_use(${name})
  enable_testing()
  gtest_discover_tests(${name} DISCOVERY_MODE PRE_TEST PROPERTIES TIMEOUT 300)
endfunction()

# The room's main.cpp stays out of its library, so that the room's tests can have a main of their own.
function(add_program name room)
  cmake_parse_arguments(PROGRAM "" "" "USES;LINKS" ${ARGN})
  add_room(${room} USES ${PROGRAM_USES} LINKS ${PROGRAM_LINKS})
  add_executable(${name} ${CMAKE_SOURCE_DIR}/src/${room}/main.cpp)
  firstdraw_use(${name})
  target_link_libraries(${name} PRIVATE ${room} ${PROGRAM_LINKS})
endfunction()
