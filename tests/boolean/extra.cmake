# The modelling kernel unites the parts a second way.
find_package(OpenCASCADE REQUIRED)
target_include_directories(test_boolean SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
target_link_libraries(test_boolean PRIVATE TKBO TKPrim TKTopAlgo TKBRep)
target_sources(test_boolean PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/fused.cpp)
set_source_files_properties(${CMAKE_CURRENT_SOURCE_DIR}/support/fused.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON)
