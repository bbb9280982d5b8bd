# SPDX-License-Identifier: BSD-3-Clause
# run(COMMAND ARGUMENTS...): runs a program, stops with what it said when it fails, else gives its output as `out`.
function(run)
  execute_process(COMMAND ${ARGN} RESULT_VARIABLE code OUTPUT_VARIABLE out ERROR_VARIABLE err)
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "failed (${code}): ${ARGN}\n${out}\n${err}")
  endif()
  set(out "${out}" PARENT_SCOPE)
endfunction()
