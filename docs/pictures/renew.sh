#!/usr/bin/env bash
# Takes the pictures of the documents anew with the program in build/.
set -euo pipefail
cd "$(dirname "$0")/../.."
take() { build/ridgeward picture "models/houses/$1.roof.json" -o "docs/pictures/$2.png" "${@:3}"; }
take sorrel-lane sorrel-lane --size 1120x700
take sorrel-lane sorrel-lane-above --size 1120x700 --from above
take sorrel-lane sorrel-lane-frame --size 1000x640 --from south-west \
  --show members,lines,slots,walls,ceiling,legend
take heron-court heron-court --size 1120x700 --from south-west
take quarry-rise quarry-rise --size 1120x700
build/ridgeward assess models/houses/sorrel-lane.roof.json --pdf - |
  pdftoppm -r 70 -f 1 -l 1 -png -singlefile - docs/pictures/inspector-sheet
ls -l docs/pictures
