target_link_libraries(test_window PRIVATE ridgeward::viewer)
