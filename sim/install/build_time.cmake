# SPDX-License-Identifier: BSD-3-Clause
# What keeps the compiler's share of a fresh build small. Nothing here changes a number: results are the same bytes without it
# (CMAKE_DISABLE_PRECOMPILE_HEADERS=ON, and -DCMAKE_CXX_FLAGS_RELEASE for the level of optimisation).

# Headers that most sources read, compiled once in a target of its own: a precompiled header serves only where every macro
# it was made with is set as well.
file(WRITE ${PROJECT_BINARY_DIR}/std_headers.cpp "// A precompiled header needs a source beside it.\n")
add_library(hoopfield_std_headers OBJECT ${PROJECT_BINARY_DIR}/std_headers.cpp)
target_compile_features(hoopfield_std_headers PUBLIC cxx_std_20)
target_link_libraries(hoopfield_std_headers PRIVATE hoopfield_warnings hoopfield_sanitizers)
set(std_headers <algorithm> <array> <cmath> <cstddef> <cstdint> <functional> <limits> <map> <memory> <optional> <string>
                <string_view> <utility> <vector>)
target_precompile_headers(hoopfield_std_headers PRIVATE ${std_headers})
foreach(target hoopfield_models hoopfield_core hoopfield_sim hoopfield_cli)
  if(TARGET ${target})
    target_precompile_headers(${target} REUSE_FROM hoopfield_std_headers)
  endif()
endforeach()

# Texts are read and written once in a run: optimising them costs the compiler half as much again and saves nobody a moment,
# and under the sanitizers, where it costs as much as all else together, they are not optimised at all.
target_precompile_headers(hoopfield_text PRIVATE ${std_headers} <nlohmann/json.hpp>)
target_compile_options(hoopfield_text PRIVATE $<IF:$<BOOL:${HOOPFIELD_SANITIZE}>,-O0,$<$<CONFIG:Release>:-O1>>)

if(TARGET hoopfield_python)
  target_precompile_headers(hoopfield_python PRIVATE <pybind11/pybind11.h> <pybind11/stl.h> <string> <utility> <vector>)
endif()

# Sources compiled for wide vectors have other macros than the precompiled header. Files, texts and tables are read and
# written once in a run: optimising them fully costs the compiler half as much again and saves nobody a moment.
set(cold_sources "^(bindings/cli|sim/(io|inputs|outputs|words))/|^models/(parameter[a-z_]*|output_names|units)\\.cpp$")
foreach(target hoopfield_models hoopfield_core hoopfield_sim hoopfield_cli)
  if(NOT TARGET ${target})
    continue()
  endif()
  get_target_property(sources ${target} SOURCES)
  get_target_property(folder ${target} SOURCE_DIR)
  foreach(source IN LISTS sources)
    cmake_path(ABSOLUTE_PATH source BASE_DIRECTORY ${folder} NORMALIZE)
    cmake_path(RELATIVE_PATH source BASE_DIRECTORY ${PROJECT_SOURCE_DIR} OUTPUT_VARIABLE place)
    if(place MATCHES "_avx[0-9]+\\.cpp$")
      set_source_files_properties(${source} TARGET_DIRECTORY ${target} PROPERTIES SKIP_PRECOMPILE_HEADERS ON)
    elseif(place MATCHES "${cold_sources}")
      set_source_files_properties(${source} TARGET_DIRECTORY ${target} PROPERTIES
                                  COMPILE_OPTIONS "$<$<CONFIG:Release>:-O1>")
    endif()
  endforeach()
endforeach()
