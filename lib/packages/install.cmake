# What others find Winkhold by once it is installed: CMake's find_package and pkg-config.
include(CMakePackageConfigHelpers)
set(config_dir ${CMAKE_INSTALL_LIBDIR}/cmake/winkhold)
install(EXPORT winkhold NAMESPACE winkhold:: DESTINATION ${config_dir} FILE winkholdTargets.cmake COMPONENT library)
configure_package_config_file(${CMAKE_CURRENT_LIST_DIR}/winkholdConfig.cmake.in ${PROJECT_BINARY_DIR}/winkholdConfig.cmake
                              INSTALL_DESTINATION ${config_dir})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/winkholdConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/winkholdConfig.cmake ${PROJECT_BINARY_DIR}/winkholdConfigVersion.cmake
        DESTINATION ${config_dir} COMPONENT library)

set(pkgconfig_dir ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
file(RELATIVE_PATH to_prefix /prefix/${pkgconfig_dir} /prefix)
string(REGEX REPLACE "/$" "" to_prefix ${to_prefix})
set(names winkhold-core)
if(TARGET winkhold_host)
  list(APPEND names winkhold)
  # A linker takes from a library what those before it ask for: the highest wing comes first.
  list(TRANSFORM WINKHOLD_WINGS PREPEND "-l" OUTPUT_VARIABLE wing_libraries)
  list(REVERSE wing_libraries)
  list(JOIN wing_libraries " " wing_libraries)
endif()
foreach(name IN LISTS names)
  configure_file(${CMAKE_CURRENT_LIST_DIR}/${name}.pc.in ${PROJECT_BINARY_DIR}/${name}.pc @ONLY)
  install(FILES ${PROJECT_BINARY_DIR}/${name}.pc DESTINATION ${pkgconfig_dir} COMPONENT library)
endforeach()
