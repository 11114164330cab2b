#!/usr/bin/env bash
# Builds the fuzzers and runs each: run.sh [SECONDS] [IMPORTER...]. What breaks is kept in
# build-fuzz/found and named; seeds are the samples of the importers and tests/fuzz/seeds.
#
# mesh, ifc and step hand their bytes to large libraries at once, which break by themselves on damaged
# files (here: assimp 5.2 reads past its end within seconds). Against that stands the process that
# each import runs in, and tests/importers damages files for it.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

seconds=${1:-60}
shift || true
names=("$@")
if [ ${#names[@]} -eq 0 ]; then
  names=(geojson cityjson citygml tape dxf xyz)
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
  mkdir -p "build-fuzz/corpus/$name" build-fuzz/found
  if ! "build-fuzz/fuzz_$name" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=2048 -max_len=20000 \
    -artifact_prefix="build-fuzz/found/$name-" "build-fuzz/corpus/$name" "${seeds[@]}" \
    > "build-fuzz/$name.log" 2>&1; then
    echo "$name: broken, see build-fuzz/$name.log and build-fuzz/found"
    tail -n 40 "build-fuzz/$name.log"
    return 1
  fi
  echo "$name: $(grep -E '^Done' "build-fuzz/$name.log" || tail -n 1 "build-fuzz/$name.log")"
}
export -f fuzz_one
printf '%s\n' "${names[@]}" | xargs -P "$(nproc)" -I{} bash -c 'fuzz_one "$1" "$2"' _ {} "$seconds"
