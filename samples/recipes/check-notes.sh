#!/bin/sh
# Checks the notes of a repository on any server for continuous integration and leaves reports behind.
#
#   sh recipes/check-notes.sh            all notes; fails on any error
#   sh recipes/check-notes.sh main       what changed since the branch parted from main; fails on new errors
#
# Reports, in the folder `reports`: notes.sarif (SARIF 2.1.0), notes.xml (JUnit XML), review.md (for the request
# to merge). WITNESS_MARK may name another command than the installed one.
set -eu
base=${1:-}
mark=${WITNESS_MARK:-npx --no-install witness-mark}
mkdir -p reports

# Status 1 means that there are errors, which the last command tells; anything above is a fault.
quietly() {
  "$@" || { status=$?; [ $status -eq 1 ] || exit $status; }
}

if [ -z "$base" ]; then
  quietly $mark check --format sarif >reports/notes.sarif
  quietly $mark check --format junit >reports/notes.xml
  quietly $mark review --format markdown >reports/review.md
  exec $mark check
fi
quietly $mark review --since "$base...HEAD" --format sarif >reports/notes.sarif
quietly $mark review --since "$base...HEAD" --format junit >reports/notes.xml
quietly $mark review --since "$base...HEAD" --format markdown >reports/review.md
exec $mark review --since "$base...HEAD"
