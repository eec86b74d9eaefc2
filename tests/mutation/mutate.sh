#!/usr/bin/env bash
# Plants small faults in lib/core, one at a time and in a copy, and runs the core's tests on each: whatever they
# don't catch, nobody would have noticed.
#
#   bash tests/mutation/mutate.sh              all faults, about 8 s each on one core: 20 minutes
#   bash tests/mutation/mutate.sh --first 2    only the first two (ctest does that)
#
# faults.txt lists the faults. equivalent.txt lists those that no test can catch, each under its reason; one that
# is caught after all has lost its reason. law_test.cpp is left out: it needs the host library, and what only a
# random recording catches has no story that tells why.
#
# Exit codes: 0 all caught, 1 a fault survived without a reason, 2 a list or a build that doesn't fit.
set -euo pipefail
shopt -s inherit_errexit

here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
compiler=${CXX:-c++}
most=1000000
if [[ ${1:-} == --first && ${2:-} =~ ^[1-9][0-9]*$ && $# == 2 ]]; then
  most=$2
elif (($# != 0)); then
  echo "mutate.sh: unknown option '$*'; use --first N or nothing" >&2
  exit 2
fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp -r "$root/lib/core/include" "$work/include"
core=$work/include/winkhold/core

flags=(-std=c++20 -O1 -fno-access-control -I"$work/include" -I"$root/tests" -I"$work")
# One unit for all that is told in stories: most faults are caught there. The long walk comes last.
for test in settings watch story gaps; do
  echo "#include \"core/${test}_test.cpp\""
done >"$work/stories.cpp"
cp "$root/tests/core/state_space_test.cpp" "$work/states.cpp"

refuse() {
  echo "mutate.sh: $1" >&2
  exit 2
}

echo '#include <gtest/gtest.h>' >"$work/common.hpp"
"$compiler" "${flags[@]}" -x c++-header "$work/common.hpp" -o "$work/common.hpp.gch" || refuse "gtest.h does not compile"

# True if a test fails or hangs on what now stands in $core.
caught() {
  local test
  for test in stories states; do
    "$compiler" "${flags[@]}" -include common.hpp "$work/$test.cpp" -lgtest_main -lgtest -pthread \
      -o "$work/$test" 2>"$work/errors" || refuse "$1: does not compile: $(grep -m1 error "$work/errors")"
    # a fault may loop for ever or eat memory: both count as caught
    (ulimit -v 4000000 && timeout 120 "$work/$test" --gtest_fail_fast >"$work/output" 2>&1) || return 0
  done
  return 1
}

# Plants "file: old text => new text"; the old text must stand in the file exactly once.
plant() {
  local file=${1%%: *} change=${1#*: }
  local old=${change%% => *} new=${change#* => }
  [[ -f $root/lib/core/include/winkhold/core/$file && $change == *" => "* ]] ||
    refuse "'$1' is not 'file: old => new'"
  local text rest
  text=$(<"$root/lib/core/include/winkhold/core/$file")
  rest=${text#*"$old"}
  [[ $rest != "$text" ]] || refuse "$file no longer has '$old': change the list"
  [[ ${rest#*"$old"} == "$rest" ]] || refuse "$file has '$old' more than once: quote more of it"
  printf '%s\n' "${text%%"$old"*}$new$rest" >"$core/$file"
}

mend() { cp "$root/lib/core/include/winkhold/core/${1%%: *}" "$core/"; }

if caught "unchanged core"; then refuse "the tests fail on the unchanged core: mend that first"; fi

count=0 survivors=0 stale=0
while IFS= read -r fault && ((count < most)); do
  [[ -z $fault || $fault == \#* ]] && continue
  plant "$fault"
  if ! caught "$fault"; then
    echo "survived: $fault"
    survivors=$((survivors + 1))
  fi
  mend "$fault"
  count=$((count + 1))
done <"$here/faults.txt"

reasons=0 reason=
while IFS= read -r line && ((most == 1000000)); do
  case $line in
  '' | \#*) ;;
  "why: "*) reason=$line ;;
  *)
    [[ -n $reason ]] || refuse "equivalent.txt gives no reason for '$line'"
    plant "$line"
    if caught "$line"; then
      echo "caught, so it belongs into faults.txt: $line"
      stale=$((stale + 1))
    fi
    mend "$line"
    reasons=$((reasons + 1)) reason=
    ;;
  esac
done <"$here/equivalent.txt"

echo "$((count - survivors)) of $count faults caught, $reasons known to be no fault"
((survivors == 0 && stale == 0))
