# SPDX-License-Identifier: BSD-3-Clause
# models <- sim <- bindings: reads the #include lines and fails on an arrow that points the wrong way.
function(forbid room pattern reason)
  file(GLOB_RECURSE sources ${ROOT}/${room}/*.hpp ${ROOT}/${room}/*.cpp)
  if(NOT sources)
    message(SEND_ERROR "${room}: no sources found, nothing was checked")
  endif()
  foreach(source ${sources})
    file(STRINGS ${source} lines REGEX "^[ \t]*#[ \t]*include[ \t]*[<\"](${pattern})")
    if(lines)
      file(RELATIVE_PATH name ${ROOT} ${source})
      message(SEND_ERROR "${name}: ${lines}\n  ${reason}")
    endif()
  endforeach()
endfunction()

forbid(models "sim/|bindings/|tests/|validation/|examples/" "models may use models only")
forbid(models "boost/|H5|hdf5|toml|CLI|pybind11|nlohmann|fmt/|thread|mutex|future|chrono|ctime|fstream|filesystem|iostream"
       "models: no files, clock, threads, printing or third-party library but Eigen")
forbid(sim "bindings/|tests/|validation/|examples/" "sim may use models and sim only")
forbid(sim "CLI|pybind11|Python" "sim knows no front end")
forbid(bindings "tests/|validation/|examples/" "bindings may use models, sim and bindings only")

# Public headers of sim show no HDF5, TOML or JSON type; those in detail/ are not installed.
file(GLOB_RECURSE headers ${ROOT}/sim/*.hpp)
list(FILTER headers EXCLUDE REGEX "/detail/")
foreach(header ${headers})
  file(STRINGS ${header} lines REGEX "#[ \t]*include[ \t]*[<\"](H5|hdf5|toml|nlohmann)")
  if(lines)
    message(SEND_ERROR "${header}: ${lines}\n  public headers show no type of a file library")
  endif()
endforeach()
