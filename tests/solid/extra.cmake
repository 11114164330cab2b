# What was written is read back with the modelling kernel's own readers.
find_package(OpenCASCADE REQUIRED)
target_include_directories(test_solid SYSTEM PRIVATE ${OpenCASCADE_INCLUDE_DIR})
target_link_libraries(test_solid PRIVATE TKXDESTEP TKXCAF TKLCAF TKCDF TKXSBase TKTopAlgo TKBRep)
target_sources(test_solid PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/read_solids.cpp)
set_source_files_properties(${CMAKE_CURRENT_SOURCE_DIR}/support/read_solids.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON)
# DXF and IFC by readers of other projects.
find_library(DXFLIB_LIBRARY dxflib REQUIRED)
find_library(ASSIMP_LIBRARY assimp REQUIRED)
find_library(IFC_LIBRARY IfcPlusPlus PATH_SUFFIXES ifcplusplus REQUIRED)
find_path(IFC_INCLUDE_DIR ifcpp/reader/ReaderSTEP.h REQUIRED)
target_link_libraries(test_solid PRIVATE ${DXFLIB_LIBRARY} ${ASSIMP_LIBRARY} ${IFC_LIBRARY})
target_sources(test_solid PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/ifc4.cpp)
set_source_files_properties(${CMAKE_CURRENT_SOURCE_DIR}/support/ifc4.cpp PROPERTIES
  SKIP_PRECOMPILE_HEADERS ON COMPILE_OPTIONS "-Wno-conversion;-Wno-shadow"
  INCLUDE_DIRECTORIES ${IFC_INCLUDE_DIR}/ifcpp/IFC4/include)
