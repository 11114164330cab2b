target_sources(test_papers PRIVATE ${CMAKE_CURRENT_SOURCE_DIR}/support/program.cpp)
