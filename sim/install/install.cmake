# SPDX-License-Identifier: BSD-3-Clause
# What `cmake --install` puts where. Components: `dev` (libraries, headers, package files) and the rest.
set(hoopfield_package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/hoopfield)
set(hoopfield_libraries hoopfield_models hoopfield_core)
if(HOOPFIELD_HDF5)
  list(APPEND hoopfield_libraries hoopfield_sim)
endif()
install(TARGETS ${hoopfield_libraries} EXPORT hoopfieldTargets
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT dev)
install(EXPORT hoopfieldTargets NAMESPACE hoopfield:: DESTINATION ${hoopfield_package_dir} COMPONENT dev)
# Below their own folder, so that #include "sim/wrap/predict.hpp" reads the same here and at a consumer.
install(DIRECTORY models sim DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/hoopfield COMPONENT dev
        FILES_MATCHING PATTERN "*.hpp" PATTERN "detail" EXCLUDE PATTERN "*_detail.hpp" EXCLUDE
        PATTERN "parameters" EXCLUDE PATTERN "install" EXCLUDE)
install(DIRECTORY models/parameters/films models/parameters/requirements DESTINATION ${CMAKE_INSTALL_DATADIR}/hoopfield
        FILES_MATCHING PATTERN "*.toml")
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR})

include(CMakePackageConfigHelpers)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/hoopfieldConfig.cmake.in
                              ${PROJECT_BINARY_DIR}/hoopfieldConfig.cmake
                              INSTALL_DESTINATION ${hoopfield_package_dir} NO_SET_AND_CHECK_MACRO)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/hoopfieldConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/hoopfieldConfig.cmake ${PROJECT_BINARY_DIR}/hoopfieldConfigVersion.cmake
        DESTINATION ${hoopfield_package_dir} COMPONENT dev)

# pkg-config: the folders of HDF5 come from its own file, so that ours names no folder of the build machine.
find_package(PkgConfig QUIET)
set(hoopfield_pc_requires hdf5)
set(hoopfield_pc_libs "-lhoopfield_sim -lhoopfield_core -lhoopfield_models -lhdf5_cpp -lhdf5_hl")
if(NOT HOOPFIELD_HDF5)
  set(hoopfield_pc_requires "")
  set(hoopfield_pc_libs "-lhoopfield_core -lhoopfield_models")
elseif(PKG_CONFIG_FOUND)
  pkg_search_module(hoopfield_hdf5 QUIET hdf5-serial hdf5)
  if(hoopfield_hdf5_FOUND)
    set(hoopfield_pc_requires ${hoopfield_hdf5_MODULE_NAME})
  endif()
endif()
set(hoopfield_pc_mvec "")
if(HOOPFIELD_HAVE_LIBMVEC)
  set(hoopfield_pc_mvec " -lmvec")
endif()
file(RELATIVE_PATH hoopfield_pc_prefix ${CMAKE_INSTALL_FULL_LIBDIR}/pkgconfig ${CMAKE_INSTALL_PREFIX})
string(REGEX REPLACE "/$" "" hoopfield_pc_prefix "${hoopfield_pc_prefix}")
configure_file(${CMAKE_CURRENT_LIST_DIR}/hoopfield.pc.in ${PROJECT_BINARY_DIR}/hoopfield.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/hoopfield.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT dev)
