#!/usr/bin/env bash
# Installs what is missing, builds, and runs the main job on a demo model (or on MODEL): summary in
# the terminal, papers in out/, the window where there is a display, a picture where not.
set -euo pipefail
# A model is named from where the user stands; the rest happens in the project's folder.
model=${1:-}
if [ -n "$model" ]; then
  model=$(realpath -m -- "$model")
fi
cd "$(dirname "${BASH_SOURCE[0]}")/.."
model=${model:-models/houses/sorrel-lane.roof.json}

source tests/install.sh
install_packages program
build_program build -DRIDGEWARD_TESTS=OFF

mkdir -p out
name=$(basename "$model" .roof.json)
status=0
build/ridgeward assess "$model" --json "out/$name.json" --pdf "out/$name.pdf" \
  --csv "out/$name.csv" --html "out/$name.html" || status=$?
if [ "$status" -gt 1 ]; then
  exit "$status"
fi
build/ridgeward picture "$model" -o "out/$name.png"
build/ridgeward export "$model" -o "out/$name.step"
echo
echo "Written: out/$name.json (all figures), out/$name.pdf (papers for crew, inspector, estimator, apprentice), out/$name.csv (for a spreadsheet), out/$name.html (report with the roof in 3D, for a browser or a phone), out/$name.png (picture), out/$name.step (solid)"
if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
  echo "Opening the window; F1 shows the keys."
  exec build/ridgeward view "$model"
fi
echo "There is no display here, so no window: look at out/$name.png"
