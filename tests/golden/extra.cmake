target_link_libraries(test_golden PRIVATE ridgeward::viewer)
