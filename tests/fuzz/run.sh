#!/usr/bin/env bash
# Builds the fuzzers and runs each: run.sh [SECONDS] [IMPORTER...]. What breaks is kept in
# build-fuzz/found and named; seeds are the samples of the importers and tests/fuzz/seeds.
#
# mesh, ifc and step hand their bytes to large libraries at once, which break by themselves on damaged
# files. Each of their inputs runs in a process of its own; those that died in a library are counted,
# and only what breaks in our code counts as found (apart.cpp).
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

seconds=${1:-60}
shift || true
names=("$@")
if [ ${#names[@]} -eq 0 ]; then
  names=(mesh ifc step geojson cityjson citygml tape dxf xyz)
fi
cmake -G Ninja -S tests/fuzz -B build-fuzz -DCMAKE_CXX_COMPILER=clang++-16 > /dev/null
cmake --build build-fuzz --target "${names[@]/#/fuzz_}"

fuzz_one() {
  local name=$1 seconds=$2
  local seeds=()
  local folder
  for folder in "importers/$name/samples" "tests/fuzz/seeds/$name"; do
    if [ -d "$folder" ]; then
      seeds+=("$folder")
    fi
  done
  local limits=(-timeout=25 -rss_limit_mb=2048)
  case $name in
    mesh | ifc | step)  # their children have limits of their own
      limits=(-timeout=200 -report_slow_units=200 -rss_limit_mb=0)
      ;;
  esac
  mkdir -p "build-fuzz/corpus/$name" build-fuzz/found
  if ! "build-fuzz/fuzz_$name" -max_total_time="$seconds" "${limits[@]}" -max_len=20000 \
    -artifact_prefix="build-fuzz/found/$name-" "build-fuzz/corpus/$name" "${seeds[@]}" \
    > "build-fuzz/$name.log" 2>&1; then
    echo "$name: broken, see build-fuzz/$name.log and build-fuzz/found"
    tail -n 100 "build-fuzz/$name.log"
    return 1
  fi
  echo "$name: $(grep -E '^(Done|apart)' "build-fuzz/$name.log" | paste -sd ' ' || tail -n 1 "build-fuzz/$name.log")"
}
export -f fuzz_one
# Reports name functions and lines.
ASAN_SYMBOLIZER_PATH=$(command -v llvm-symbolizer-16 || command -v llvm-symbolizer || true)
export ASAN_SYMBOLIZER_PATH
# All at once: the seconds are by the clock, and those that wait for a child leave room.
printf '%s\n' "${names[@]}" |
  xargs -P "${#names[@]}" -I{} bash -c 'fuzz_one "$1" "$2"' _ {} "$seconds"
