#!/usr/bin/env bash
# Installs, builds and runs every test. Words choose a part: check (format and layout), test, fuzz,
# asan, tidy, optionals, bench; none: all but the last two, in order of cheapness.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

source tests/install.sh
install_packages all

sources() { git ls-files 'kernel/*.?pp' 'viewer/*.?pp' 'importers/*.?pp' 'tests/*.?pp'; }

run_check() {
  echo "== format"
  sources | xargs clang-format-16 --dry-run --Werror
  echo "== layout"
  bash tests/layout/check.sh
}
# A folder of its own: here all is built once, sources of a folder together; build/ is for work.
run_test() {
  echo "== build and tests"
  install_node_packages
  build_program build-test -DRIDGEWARD_UNITE=ON -DRIDGEWARD_TESTS=ON
  ctest --test-dir build-test --output-on-failure -j "$(nproc)" --no-tests=error
}
run_fuzz() {
  echo "== importers against damaged files"
  bash tests/fuzz/run.sh 60
}
# By clang: it compiles this in half the time, and is a second compiler over all sources.
run_asan() {
  echo "== address and undefined behaviour sanitizers"
  build_program build-asan -DCMAKE_C_COMPILER=clang-16 -DCMAKE_CXX_COMPILER=clang++-16 \
    -DRIDGEWARD_SANITIZE=address,undefined -DCMAKE_BUILD_TYPE=Release \
    -DRIDGEWARD_UNITE=ON -DRIDGEWARD_TESTS=ON
  # Leaks inside the graphics driver and the modelling kernel's own tables are not ours. Long
  # comparisons with brute force and with the modelling kernel run above; laws run the same code here.
  ASAN_OPTIONS=detect_leaks=1 LSAN_OPTIONS="suppressions=$PWD/tests/leaks.supp:print_suppressions=0" \
    RIDGEWARD_CASES_AT_MOST=8 ctest --test-dir build-asan --output-on-failure -j "$(nproc)" \
    --no-tests=error -LE 'window|slow' -E 'placement:(the same|demo houses)|boolean:|conflicts:sweep|command:(the (JSON|summary|model)|batch)|importers:(scanned|clouds|points|noisy)'
}
# What build-tidy would compile.
compiled_sources() {
  sed -n 's/^ *"file": "\(.*\)",\{0,1\}$/\1/p' build-tidy/compile_commands.json | sort -u
}
# Sources of a folder are read together: headers take most of the time. What several importers
# share is read once. The analyzer follows the first 20 000 states of a function: all of them take
# half as long again.
run_tidy() {
  echo "== clang-tidy"
  cmake -G Ninja -S . -B build-tidy -DRIDGEWARD_UNITE=ON -DRIDGEWARD_TESTS=OFF > /dev/null
  compiled_sources | xargs md5sum | sort -u -k1,1 | cut -c35- | sort -r |
    xargs -P "$(nproc)" -n 1 clang-tidy-16 -p build-tidy --quiet --warnings-as-errors='*' --checks=-bugprone-suspicious-include \
      --extra-arg=-Wno-unknown-warning-option \
      --extra-arg=-Xclang --extra-arg=-analyzer-config --extra-arg=-Xclang --extra-arg=max-nodes=20000
}
# One check of clang-tidy that may not come to an end: a minute for each source, and who took longer.
run_optionals() {
  echo "== access to optionals"
  cmake -G Ninja -S . -B build-tidy -DRIDGEWARD_UNITE=OFF -DRIDGEWARD_TESTS=OFF > /dev/null
  optionals_of() {
    local status=0
    timeout 60 clang-tidy-16 -p build-tidy --quiet --warnings-as-errors='*' \
      --checks=-*,bugprone-unchecked-optional-access "$1" 2> /dev/null || status=$?
    if [ "$status" -eq 124 ]; then
      echo "$1: not known after a minute"
    elif [ "$status" -ne 0 ]; then
      return 1
    fi
  }
  export -f optionals_of
  compiled_sources |
    xargs -P "$(nproc)" -I{} bash -c 'optionals_of "$1"' _ {}
}
run_bench() {
  echo "== benchmarks"
  build_program build-bench -DRIDGEWARD_BENCH=ON -DRIDGEWARD_TESTS=ON
  xvfb-run -a build-bench/tests/bench/ridgeward_bench
}

words=("$@")
if [ ${#words[@]} -eq 0 ]; then
  words=(check test fuzz asan tidy)
fi
for word in "${words[@]}"; do
  "run_$word"
done
echo "all passed: ${words[*]}"
