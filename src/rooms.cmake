# The build rules of the house: one static library a room, one test program a room.

add_library(leafwright_flags INTERFACE)
target_compile_features(leafwright_flags INTERFACE cxx_std_20)
target_include_directories(leafwright_flags INTERFACE ${PROJECT_SOURCE_DIR}/src)
# -ffp-contract=off: the same piece gives the same plan on every machine.
target_compile_options(leafwright_flags INTERFACE -ffp-contract=off -Wall -Wextra -Wpedantic -Wshadow -Wnon-virtual-dtor
                       -Wdouble-promotion -Wimplicit-fallthrough $<$<BOOL:${LEAFWRIGHT_WARNINGS_ARE_ERRORS}>:-Werror>)
target_compile_definitions(leafwright_flags INTERFACE GLM_FORCE_CTOR_INIT LEAFWRIGHT_VERSION="${PROJECT_VERSION}")
if(LEAFWRIGHT_SANITIZE)
  target_compile_options(leafwright_flags INTERFACE -fsanitize=${LEAFWRIGHT_SANITIZE} -fno-omit-frame-pointer
                         -fno-sanitize-recover=all)
  target_link_options(leafwright_flags INTERFACE -fsanitize=${LEAFWRIGHT_SANITIZE})
endif()
if(LEAFWRIGHT_FUZZ) # what our own code does guides the search; the sanitizers' runtime is needed too
  target_compile_options(leafwright_flags INTERFACE -fsanitize=fuzzer-no-link)
endif()

# Headers that nearly all files use, parsed once. Macros must be the same everywhere, therefore fmt is linked by all.
if(LEAFWRIGHT_PRECOMPILED)
  target_link_libraries(leafwright_flags INTERFACE fmt::fmt)
  # GCC 12 warns of what it inlines from the standard strings when these come out of a precompiled header.
  target_compile_options(leafwright_flags INTERFACE
                         $<$<CXX_COMPILER_ID:GNU>:-fpch-preprocess;-Wno-stringop-overflow;-Wno-stringop-overread;-Wno-restrict;-Wno-array-bounds>)
  set(LEAFWRIGHT_COMMON_HEADERS <algorithm> <array> <cmath> <cstdint> <functional> <limits> <map> <memory> <numeric>
      <optional> <set> <span> <string> <vector> <fmt/format.h> ${PROJECT_SOURCE_DIR}/src/base/outcome.h
      ${PROJECT_SOURCE_DIR}/src/base/vec.h)
endif()

# precompile(TARGET headers ...): the common ones and these; precompile_as(TARGET other): those of another target
function(precompile target)
  if(LEAFWRIGHT_PRECOMPILED)
    target_precompile_headers(${target} PRIVATE ${LEAFWRIGHT_COMMON_HEADERS} ${ARGN})
  endif()
endfunction()
function(precompile_as target other)
  if(LEAFWRIGHT_PRECOMPILED)
    target_precompile_headers(${target} REUSE_FROM ${other})
  endif()
endfunction()

# room(NAME SOURCES ... NEEDS other rooms ... USES outside libraries ... PRECOMPILES headers of its own ...)
function(room name)
  cmake_parse_arguments(ROOM "" "" "SOURCES;NEEDS;USES;PRECOMPILES" ${ARGN})
  list(TRANSFORM ROOM_NEEDS PREPEND leafwright_)
  add_library(leafwright_${name} STATIC ${ROOM_SOURCES})
  target_link_libraries(leafwright_${name} PUBLIC leafwright_flags ${ROOM_NEEDS} PRIVATE ${ROOM_USES})
  if(ROOM_PRECOMPILES)
    precompile(leafwright_${name} ${ROOM_PRECOMPILES})
  elseif(NOT name STREQUAL base)
    precompile_as(leafwright_${name} leafwright_base)
  else()
    precompile(leafwright_base)
  endif()
endfunction()

# room_test(ROOM SOURCES ... USES outside libraries ...): tests/ROOM/... as one doctest program, test_ROOM
function(room_test name)
  cmake_parse_arguments(TEST "" "" "SOURCES;NEEDS;USES" ${ARGN})
  list(TRANSFORM TEST_NEEDS PREPEND leafwright_)
  add_executable(test_${name} $<TARGET_OBJECTS:leafwright_test_main> ${TEST_SOURCES})
  target_include_directories(test_${name} PRIVATE ${PROJECT_SOURCE_DIR}/tests ${PROJECT_SOURCE_DIR}/tests/support)
  target_link_libraries(test_${name} PRIVATE leafwright_${name} ${TEST_NEEDS} ${TEST_USES} doctest::doctest)
  precompile_as(test_${name} leafwright_test_headers)
  add_test(NAME ${name} COMMAND test_${name})
endfunction()

# embed(TARGET FILES ...): the files' bytes, compiled in. base/assets.h hands them out by their path below the project.
function(embed target)
  set(listing ${PROJECT_BINARY_DIR}/generated/${target}_assets.cpp)
  list(TRANSFORM ARGN PREPEND ${PROJECT_SOURCE_DIR}/ OUTPUT_VARIABLE paths)
  add_custom_command(OUTPUT ${listing}
    COMMAND ${CMAKE_COMMAND} -DOUT=${listing} -DROOT=${PROJECT_SOURCE_DIR} "-DFILES=${ARGN}"
            -P ${PROJECT_SOURCE_DIR}/src/embed.cmake
    DEPENDS ${paths} ${PROJECT_SOURCE_DIR}/src/embed.cmake VERBATIM)
  target_sources(${target} PRIVATE ${listing})
endfunction()
