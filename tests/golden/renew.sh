#!/usr/bin/env bash
# Takes the golden pictures anew from the program in build/ (built with RIDGEWARD_TESTS). Look at each before committing it.
set -euo pipefail
cd "$(dirname "$0")/../.."
RIDGEWARD_RENEW=1 build/tests/test_golden "picture: *"
git --no-pager status --short tests/golden
