# Compiles sources of one folder together, a few at a time, in the targets of this project: headers
# are then read once for all of them. For checks that build everything once; editing one file would
# build the whole group anew.

function(unite_sources directory)
  get_directory_property(subdirectories DIRECTORY ${directory} SUBDIRECTORIES)
  foreach(subdirectory IN LISTS subdirectories)
    unite_sources(${subdirectory})
  endforeach()
  get_directory_property(targets DIRECTORY ${directory} BUILDSYSTEM_TARGETS)
  foreach(target IN LISTS targets)
    get_target_property(sources ${target} SOURCES)
    if(NOT sources)
      continue()
    endif()
    list(FILTER sources INCLUDE REGEX "^${CMAKE_SOURCE_DIR}/.*\\.cpp$")
    list(LENGTH sources count)
    if(count LESS 2)
      continue()
    endif()
    execute_process(COMMAND awk -v most=15 -f ${CMAKE_SOURCE_DIR}/tests/unity/groups.awk ${sources}
                    OUTPUT_VARIABLE lines COMMAND_ERROR_IS_FATAL ANY)
    string(REGEX MATCHALL "[^\n]+" lines "${lines}")
    foreach(line IN LISTS lines)
      string(REGEX MATCH "^([^ ]+) (.+)$" pair "${line}")
      set_source_files_properties(${CMAKE_MATCH_2} TARGET_DIRECTORY ${target}
                                  PROPERTIES UNITY_GROUP ${CMAKE_MATCH_1})
    endforeach()
    set_target_properties(${target} PROPERTIES UNITY_BUILD ON UNITY_BUILD_MODE GROUP)
  endforeach()
endfunction()

unite_sources(${CMAKE_SOURCE_DIR})
