# add_importer(NAME LIBRARIES...): the folder's sources as a MODULE beside the executable, with
# nothing to be seen but the one function.
function(add_importer name)
  file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/*.cpp)
  add_library(importer_${name} MODULE ${sources})
  target_include_directories(importer_${name} PRIVATE ${CMAKE_SOURCE_DIR}/kernel ${CMAKE_SOURCE_DIR}/importers)
  target_link_libraries(importer_${name} PRIVATE ridgeward_options ${ARGN})
  target_link_options(importer_${name} PRIVATE -Wl,--version-script=${CMAKE_SOURCE_DIR}/importers/exports.map)
  set_target_properties(importer_${name} PROPERTIES
    PREFIX "" OUTPUT_NAME ${name} LIBRARY_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR}/importers
    CXX_VISIBILITY_PRESET hidden VISIBILITY_INLINES_HIDDEN ON)
  configure_file(${name}.json ${CMAKE_BINARY_DIR}/importers/${name}.json COPYONLY)
  install(TARGETS importer_${name} LIBRARY DESTINATION lib/ridgeward/importers)
  install(FILES ${name}.json DESTINATION lib/ridgeward/importers)
endfunction()
