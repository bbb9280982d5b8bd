# SPDX-License-Identifier: BSD-3-Clause
# Runs the program that links the solver alone, looks for HDF5 in it, and configures the project where HDF5 is not found.
# Given: PROGRAM, SOURCE (of hoopfield), WORK (scratch folder), CXX, NM.
cmake_minimum_required(VERSION 3.25)

include(${CMAKE_CURRENT_LIST_DIR}/../support/run.cmake)

run(${PROGRAM} ${SOURCE}/examples/01_first_prediction/scenario.toml)
if(NOT out MATCHES "^[1-9][0-9.]+\n$")
  message(FATAL_ERROR "${PROGRAM} predicts no hoop tension: ${out}")
endif()
message(STATUS "the solver alone: ${out} N/m")

run(${NM} -C ${PROGRAM})
if(NOT out MATCHES "hoopfield::predict")
  message(FATAL_ERROR "${NM} shows no symbol of the solver: the check below would find nothing")
endif()
if(out MATCHES "[^A-Za-z0-9_](_?H5[A-Z]+[a-z][A-Za-z0-9_]*)")
  message(FATAL_ERROR "the solver holds a symbol of HDF5: ${CMAKE_MATCH_1}")
endif()
file(GET_RUNTIME_DEPENDENCIES EXECUTABLES ${PROGRAM} RESOLVED_DEPENDENCIES_VAR libraries
     UNRESOLVED_DEPENDENCIES_VAR missing)
if(NOT libraries MATCHES "libstdc|libc\\+\\+")
  message(FATAL_ERROR "no run-time libraries found: ${libraries}")
endif()
if("${libraries};${missing}" MATCHES "hdf5")
  message(FATAL_ERROR "the solver is linked against HDF5: ${libraries}")
endif()

# Where HDF5 is not found the solver is configured all the same, with no word of it to the compiler or the linker.
file(REMOVE_RECURSE ${WORK})
run(${CMAKE_COMMAND} -S ${SOURCE} -B ${WORK} -G Ninja -DHOOPFIELD_HDF5=OFF -DCMAKE_DISABLE_FIND_PACKAGE_HDF5=ON
    -DHOOPFIELD_BUILD_WEB=OFF -DCMAKE_CXX_COMPILER=${CXX})
file(READ ${WORK}/build.ninja rules)
if(NOT rules MATCHES "libhoopfield_core\\.a" OR NOT rules MATCHES "test_solver_only")
  message(FATAL_ERROR "without HDF5 the solver or its test is not built")
endif()
foreach(line "FLAGS" "INCLUDES" "DEFINES" "LINK_LIBRARIES")
  string(REGEX MATCH "  ${line} = [^\n]*([Hh][Dd][Ff]5|H5)[^\n]*\n" found "${rules}")
  if(found)
    message(FATAL_ERROR "without HDF5 the build still names it: ${found}")
  endif()
endforeach()
