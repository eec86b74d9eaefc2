# Debian packages, with the program built: cpack --config build/CPackConfig.cmake -G DEB
#   winkhold         program, data, documents: needs the libraries it is linked with, as dpkg-shlibdeps finds them
#   libwinkhold-dev  headers, static libraries, CMake and pkg-config files: what they are linked with
set(CPACK_PACKAGE_NAME winkhold)
set(CPACK_PACKAGE_VENDOR Winkhold)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "decode flashing turn-signal lines into one steady answer")
set(CPACK_PACKAGE_CONTACT "Winkhold maintainers <maintainers@winkhold.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/packages)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE
                                                WORLD_READ WORLD_EXECUTE)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_COMPONENTS_GROUPING ONE_PER_GROUP)

set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME winkhold)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION
    "For custom lighting on a motorcycle whose factory flasher stays: decodes
recordings of the turn-signal lines, simulates flashers and riders, and
chooses hold times by what they cost in overlap and dropouts.
.
Turn signals are safety equipment: never tune while riding, and keep the
factory tell-tales working.")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libwinkhold-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS
    "libfmt-dev, libtomlplusplus-dev, libpugixml-dev, libsndfile1-dev")
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION
    "Development files: headers, static libraries, and what CMake and pkg-config
find them by. The freestanding core for firmware (C++14, headers only), and
the bench around it (C++20), which measures, simulates and sweeps.")

# What Debian's policy asks of each package.
configure_file(${CMAKE_CURRENT_LIST_DIR}/copyright.in packages/copyright @ONLY)
configure_file(${CMAKE_CURRENT_LIST_DIR}/changelog.in packages/changelog @ONLY)
file(ARCHIVE_CREATE OUTPUT ${PROJECT_BINARY_DIR}/packages/changelog.gz PATHS ${PROJECT_BINARY_DIR}/packages/changelog
     FORMAT raw COMPRESSION GZip COMPRESSION_LEVEL 9)
foreach(part program library)
  string(TOUPPER ${part} PART)
  install(FILES ${PROJECT_BINARY_DIR}/packages/copyright ${PROJECT_BINARY_DIR}/packages/changelog.gz
          DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${CPACK_DEBIAN_${PART}_PACKAGE_NAME} COMPONENT ${part})
  foreach(compiled_in libcli11-dev nlohmann-json3-dev libeigen3-dev libboost-dev)
    install(FILES /usr/share/doc/${compiled_in}/copyright RENAME ${compiled_in} OPTIONAL COMPONENT ${part}
            DESTINATION ${CMAKE_INSTALL_DATADIR}/doc/${CPACK_DEBIAN_${PART}_PACKAGE_NAME}/compiled-in)
  endforeach()
endforeach()

include(CPack)
