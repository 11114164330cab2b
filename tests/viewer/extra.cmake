# The viewer's tests draw nothing: panels run without graphics.
target_sources(test_viewer PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/houses.cpp)
target_link_libraries(test_viewer PRIVATE ridgeward::viewer PkgConfig::VIEWER)
