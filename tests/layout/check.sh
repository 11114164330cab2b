#!/usr/bin/env bash
# The house's own rules: what may include what, how long a file may be, what stands at the top.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
bad=0
say() { echo "layout: $*"; bad=1; }

# Each folder of the kernel may include itself and what stands before it (DEVELOPERS.md).
declare -A may=(
  [base]="" [units]="base" [solver]="base" [model]="base units" [surface]="base units model"
  [framing]="base units model surface" [attic]="base units model surface framing"
  [vents]="base units model surface framing attic"
  [codes]="base units model surface framing attic vents"
  [takeoff]="base units solver model surface framing attic vents"
  [airflow]="base units model surface framing attic vents"
  [conflicts]="base units model surface framing attic vents codes airflow"
  [placement]="base units solver model surface framing attic vents codes conflicts takeoff airflow"
  [solid]="base units model surface framing attic vents" [plugin]="base units model"
  [rebuild]="base units model surface" [edit]="base units model surface"
  [papers]="base units model surface framing attic vents codes conflicts takeoff airflow placement assess.hpp"
  [exports]="base units model surface framing attic vents codes conflicts takeoff airflow placement solid papers assess.hpp")
for folder in kernel/*/; do
  name=$(basename "$folder")
  [ -n "${may[$name]+known}" ] || { say "kernel/$name is on no map"; continue; }
  allowed=" $name ${may[$name]} "
  while IFS=: read -r file line; do
    target=$(sed -E 's/.*"([^"]+)".*/\1/' <<< "$line")
    case "$allowed" in
      *" ${target%%/*} "*) ;;
      *) say "$file includes $target" ;;
    esac
  done < <(grep -rHE '^#include "' "$folder" --include='*.hpp' --include='*.cpp' --include='*.h' || true)
done
grep -rlE '#include [<"][A-Z][A-Za-z0-9]*_?[A-Za-z0-9]*\.hxx' kernel viewer importers | grep -vE '^(kernel/solid|importers/step)/' &&
  say "the modelling kernel's headers belong in kernel/solid and importers/step"
grep -rlE '#include <(nlohmann/json\.hpp|imgui|CGAL|Eigen)' kernel viewer --include='*.hpp' |
  grep -vE '^(kernel/model/json_|kernel/model/read_pieces|kernel/papers/(json|schema)_pieces|viewer/draw/gui|viewer/panels/(theme|pieces|air_look))' && say "too heavy for a header"
grep -rnE '0\.0254|0\.3048' kernel viewer importers --include='*.hpp' --include='*.cpp' |
  grep -v '^kernel/units/' && say "inches live in kernel/units"

# Letters that look alike: with ASCII outside texts and comments there are none to mix up.
git ls-files 'kernel/*.?pp' 'viewer/*.?pp' 'importers/*.?pp' | while read -r file; do
  sed -E 's/"([^"\\]|\\.)*"//g; s@//.*@@' "$file" | LC_ALL=C grep -nP '[^\x00-\x7F]' | sed "s|^|layout: $file: not ASCII: |"
done | grep . && bad=1

# Top level.
allowed=" CMakeLists.txt README.md DEVELOPERS.md kernel viewer importers tests models docs "
for entry in $(git ls-files | cut -d/ -f1 | sort -u | grep -v '^\.'); do
  case "$allowed" in *" $entry "*) ;; *) say "$entry does not belong at the top level" ;; esac
done
# Files of about a screenful of thoughts.
while read -r count file; do
  [ "$file" = total ] || [ "$count" -le 480 ] || say "$file has $count lines"
done < <(git ls-files 'kernel/*.?pp' 'viewer/*.?pp' 'importers/*.?pp' | xargs wc -l)
exit "$bad"
