# Importers that are wrong on purpose, in strict C99: they prove the header too.
set(plugin_folder ${CMAKE_BINARY_DIR}/tests/plugins)
file(GLOB plugin_sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/importers/plugins/*.c)
foreach(plugin_source IN LISTS plugin_sources)
  get_filename_component(plugin_name ${plugin_source} NAME_WE)
  add_library(test_plugin_${plugin_name} MODULE ${plugin_source})
  target_include_directories(test_plugin_${plugin_name} PRIVATE ${CMAKE_SOURCE_DIR}/kernel)
  set_target_properties(test_plugin_${plugin_name} PROPERTIES
    PREFIX "" OUTPUT_NAME ${plugin_name} LIBRARY_OUTPUT_DIRECTORY ${plugin_folder}
    C_STANDARD 99 C_STANDARD_REQUIRED ON C_EXTENSIONS OFF)
  target_compile_options(test_plugin_${plugin_name} PRIVATE -Wall -Wextra -pedantic -Werror)
  if(plugin_name STREQUAL "dies_on_load")  # apart from those that are looked into without a guard
    set_target_properties(test_plugin_${plugin_name} PROPERTIES
      LIBRARY_OUTPUT_DIRECTORY ${plugin_folder}/deadly)
  endif()
  add_dependencies(test_importers test_plugin_${plugin_name})
endforeach()
add_dependencies(test_importers importer_geojson importer_cityjson importer_citygml importer_ifc importer_mesh importer_dxf importer_tape importer_xyz)
if(RIDGEWARD_SOLID)
  add_dependencies(test_importers importer_step)
endif()
target_compile_definitions(test_importers PRIVATE
  RIDGEWARD_TEST_PLUGINS="${plugin_folder}" RIDGEWARD_C_COMPILER="${CMAKE_C_COMPILER}")
target_sources(test_importers PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/program.cpp)
