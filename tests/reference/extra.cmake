find_package(CGAL REQUIRED)
target_sources(test_reference PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/cgal_skeleton.cpp)
set_source_files_properties(${CMAKE_CURRENT_SOURCE_DIR}/support/cgal_skeleton.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON COMPILE_OPTIONS "-Wno-conversion;-Wno-shadow")
target_link_libraries(test_reference PRIVATE CGAL::CGAL)
