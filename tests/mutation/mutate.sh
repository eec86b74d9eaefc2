#!/usr/bin/env bash
# Plants small faults in lib/core, one at a time and in a copy, and runs the core's tests on each: whatever they
# don't catch, nobody would have noticed.
#
#   bash tests/mutation/mutate.sh              all faults, two at once: about a second of computing each
#   bash tests/mutation/mutate.sh --first 2    only the first two (ctest does that)
#
# faults.txt lists the faults. equivalent.txt lists those that no test can catch, each under its reason; one that
# is caught after all has lost its reason. law_test.cpp is left out: it needs the host library, and what only a
# random recording catches has no story that tells why.
#
# The tests are compiled once, with calls to the core left as calls. A fault then costs one small object: its
# functions come first in the link, so the linker takes them and drops those of the sound core. Whatever that
# doesn't catch, or would change a layout, gets the tests compiled anew, so that nothing survives on a shortcut.
#
# Exit codes: 0 all caught, 1 a fault survived without a reason, 2 a list or a build that doesn't fit.
set -euo pipefail
shopt -s inherit_errexit

here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
most=1000000
if [[ ${1:-} == --first && ${2:-} =~ ^[1-9][0-9]*$ && $# == 2 ]]; then
  most=$2
elif (($# != 0)); then
  echo "mutate.sh: unknown option '$*'; use --first N or nothing" >&2
  exit 2
fi

refuse() {
  echo "mutate.sh: $1" >&2
  exit 2
}

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
jobs=2
for ((job = 0; job < jobs; ++job)); do
  mkdir "$work/$job"
  cp -r "$root/lib/core" "$work/$job/include"
done

# One unit for all that is told in stories: most faults are caught there. The long walk comes last.
for test in settings watch watch_gaps stage_gaps story tale tale_gaps lamp_story board; do
  echo "#include \"core/${test}_test.cpp\""
done >"$work/stories.cpp"
cp "$root/tests/core/state_space_test.cpp" "$work/states.cpp"
cat >"$work/core.cpp" <<'END'
#include "winkhold/core/core.hpp"
#ifdef DECODER_SIZE
static_assert(sizeof(winkhold::core::Decoder) == DECODER_SIZE, "other layout");
#else
#include <stdio.h>
int main() { printf("%zu", sizeof(winkhold::core::Decoder)); }
#endif
END

flags=(-std=c++20 -O1 -fno-exceptions -fno-access-control -I"$root/tests")
# nothing may be concluded from what the sound core does
calls=(-fno-inline -fno-partial-inlining)
for pass in pure-const reference modref ra cp sra icf; do
  calls+=("-fno-ipa-$pass")
done
# build DIRECTORY OUTPUT ARGUMENTS...: with the core that stands in the directory
build() {
  g++ "${flags[@]}" -I"$1/include" -o "$1/$2" "${@:3}" 2>"$1/errors"
}
libraries=(-lgtest_main -lgtest -pthread)
for test in stories states; do
  build "$work/0" "$test.o" "${calls[@]}" -c "$work/$test.cpp" || refuse "$test: $(grep -m1 error "$work/0/errors")"
  mv "$work/0/$test.o" "$work/"
done
build "$work/0" size "$work/core.cpp" || refuse "the core does not compile: $(grep -m1 error "$work/0/errors")"
size=$("$work/0/size")

# True if test $2 in directory $1 fails. A fault may loop for ever or eat memory: both count as failed.
fails() {
  ! (ulimit -v 4000000 -t 30 && "$1/$2" --gtest_fail_fast >"$1/output" 2>&1) 2>/dev/null
}

# True if the tests as compiled fail on the core in directory $1, into which $2 is planted.
caught_by_link() {
  local test
  if ! build "$1" core.o -fkeep-inline-functions -DDECODER_SIZE="$size" -c "$work/core.cpp"; then
    grep -q 'other layout' "$1/errors" || refuse "$2: does not compile: $(grep -m1 error "$1/errors")"
    return 1
  fi
  for test in stories states; do
    build "$1" "$test" "$1/core.o" "$work/$test.o" "${libraries[@]}" || refuse "$2: does not link"
    if fails "$1" "$test"; then return 0; fi
  done
  return 1
}

# The same, of tests compiled anew.
caught_anew() {
  local test
  for test in stories states; do
    build "$1" "$test" "$work/$test.cpp" "${libraries[@]}" ||
      refuse "$2: does not compile: $(grep -m1 error "$1/errors")"
    if fails "$1" "$test"; then return 0; fi
  done
  return 1
}

# Plants "file: old text => new text" into directory $2; the old text must stand in the file exactly once.
plant() {
  local file=${1%%: *} change=${1#*: }
  local old=${change%% => *} new=${change#* => }
  [[ -f $root/lib/core/winkhold/core/$file && $change == *" => "* ]] ||
    refuse "'$1' is not 'file: old => new'"
  local text rest
  text=$(<"$root/lib/core/winkhold/core/$file")
  rest=${text#*"$old"}
  [[ $rest != "$text" ]] || refuse "$file no longer has '$old': change the list"
  [[ ${rest#*"$old"} == "$rest" ]] || refuse "$file has '$old' more than once: quote more of it"
  printf '%s\n' "${text%%"$old"*}$new$rest" >"$2/include/winkhold/core/$file"
}

mend() { cp "$root/lib/core/winkhold/core/${1%%: *}" "$2/include/winkhold/core/"; }

# Both lists are read and every entry is tried on before anything runs.
entries=() reason=
take() {
  plant "$1" "$work/0"
  mend "$1" "$work/0"
  entries+=("$1")
}
while IFS= read -r line && ((${#entries[@]} < most)); do
  [[ -z $line || $line == \#* ]] || take "$line"
done <"$here/faults.txt"
count=${#entries[@]}
while IFS= read -r line && ((most == 1000000)); do
  case $line in
  '' | \#*) ;;
  "why: "*) reason=$line ;;
  *)
    [[ -n $reason ]] || refuse "equivalent.txt gives no reason for '$line'"
    take "$line"
    reason=
    ;;
  esac
done <"$here/equivalent.txt"

if caught_by_link "$work/0" "unchanged core"; then refuse "the tests fail on the unchanged core: mend that first"; fi

# Every $jobs-th entry, from $1 on; leaves a file for each that survives.
judge() {
  local i
  for ((i = $1; i < ${#entries[@]}; i += jobs)); do
    plant "${entries[i]}" "$work/$1"
    if ! caught_by_link "$work/$1" "${entries[i]}" && ! caught_anew "$work/$1" "${entries[i]}"; then
      : >"$work/survived.$i"
      echo "not caught: ${entries[i]}" >&2
    fi
    mend "${entries[i]}" "$work/$1"
    ((i % 10 != 9)) || echo "$((i + 1)) of ${#entries[@]}" >&2
  done
}
running=()
for ((job = 0; job < jobs; ++job)); do
  judge "$job" &
  running+=($!)
done
for job in "${running[@]}"; do
  wait "$job" || exit 2
done

survivors=0 stale=0
for ((i = 0; i < ${#entries[@]}; ++i)); do
  if ((i < count)) && [[ -e $work/survived.$i ]]; then
    echo "survived: ${entries[i]}"
    survivors=$((survivors + 1))
  elif ((i >= count)) && [[ ! -e $work/survived.$i ]]; then
    echo "caught, so it belongs into faults.txt: ${entries[i]}"
    stale=$((stale + 1))
  fi
done

echo "$((count - survivors)) of $count faults caught, $((${#entries[@]} - count)) known to be no fault"
((survivors == 0 && stale == 0))
