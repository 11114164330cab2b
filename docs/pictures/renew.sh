#!/usr/bin/env bash
# Takes the pictures of the documents anew with the program in build/.
set -euo pipefail
cd "$(dirname "$0")/../.."
take() { build/ridgeward picture "models/houses/$1.roof.json" -o "docs/pictures/$2.png" "${@:3}"; }
take sorrel-lane sorrel-lane --size 1120x700
take sorrel-lane sorrel-lane-above --size 1120x700 --from above
take sorrel-lane sorrel-lane-frame --size 1000x640 --from south-west \
  --show members,lines,slots,walls,ceiling,legend
take wren-cape wren-cape-cut --size 1000x640 --from south-east --cut across:0.4
take sorrel-lane sorrel-lane-elevation --size 1000x640 --from south --flat --sun 42 172 15
take sorrel-lane sorrel-lane-peeled --size 1000x640 --peel --theme dark
take plover-hall plover-hall-air --size 1000x640 --show planes,lines,walls,compartments,legend
take heron-court heron-court --size 1120x700 --from south-west
take quarry-rise quarry-rise --size 1120x700
take sorrel-lane sorrel-lane-air --size 1120x700 --show=+air,+see-through,-lengths,-members,-names
take sorrel-lane ribbon --size 1120x760 --ribbon
# Two pictures of its lesson.
folder=$(mktemp -d)
build/ridgeward lesson models/houses/sorrel-lane.roof.json -o "$folder" --size 1120x700
cp "$folder/04-place.png" docs/pictures/lesson-place.png
cp "$folder/what-if-4-snow.png" docs/pictures/lesson-what-if.png
rm -r "$folder"
# A page of a house's sheets.
take_page() {
  build/ridgeward assess "models/houses/$1.roof.json" --pdf - --sheets "$2" |
    pdftoppm -r 70 -f "$3" -l "$3" -gray -png -singlefile - "docs/pictures/$4"
}
take_page sorrel-lane inspector 1 inspector-sheet
take_page sorrel-lane crew 3 crew-run
take_page finch-corner crew 4 crew-pieces
take_page sorrel-lane lesson 1 lesson
# The window at work, on a display of its own.
docs/pictures/window.py
ls -l docs/pictures
