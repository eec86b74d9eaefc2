#!/usr/bin/env bash
# The long proofs, which take from minutes to an hour each; of each, tests/run.sh runs a short form.
#
#   bash tests/long.sh             all of them, one after the other
#   bash tests/long.sh soak fuzz   only these, of:
#
#   mutation   every planted fault of the core is caught                        minutes
#   traces     the core equals the reference decoder on 600,000 traces          minutes
#   soak       100 million flashes, with a reason for whatever goes wrong       minutes
#   fuzz       each reader for ten minutes, with ASan and UBSan                 an hour
#   sanitize   the whole suite with ASan and UBSan, its threads with TSan       an hour
#   board      30 minutes at 276 flashes a minute, each fault for a minute      an hour
#   packages   Debian packages in a bare root; as root, with a network          minutes
#
# Exit codes: 0 all held, 1 one did not, 2 there is no such proof.
set -euo pipefail
cd "$(dirname "$0")/.."

mutation() { bash tests/mutation/mutate.sh; }
traces() { WINKHOLD_TRACES=600000 build/tests/test_reference --gtest_filter='Reference.*'; }
soak() { build/apps/winkhold/winkhold prove soak --flashes 1e8 --seed 1; }
fuzz() { bash tests/fuzz/run.sh 600; }
sanitize() { bash tests/sanitize.sh; }
board() { WINKHOLD_LONG=1 build/tests/test_firmware --gtest_filter='*BoardFaults*:BoardBikes.Flash*'; }
packages() { bash tests/packages/bare_root.sh; }

all=(mutation traces soak fuzz sanitize board packages)
chosen=("$@")
[ $# -gt 0 ] || chosen=("${all[@]}")
for name in "${chosen[@]}"; do
    if [[ " ${all[*]} " != *" $name "* ]]; then
        echo "long.sh: no proof is named '$name'; there are: ${all[*]}" >&2
        exit 2
    fi
done

bash .ci/install.sh test
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release -DWINKHOLD_TESTS=ON > /dev/null
cmake --build build
told=() ended=0
for name in "${chosen[@]}"; do
    printf '\n== %s: %s\n' "$name" "$(declare -f "$name" | sed '1,2d;$d;s/^ *//')"
    if "$name"; then
        told+=("held      $name ($SECONDS s since the start)")
    else
        told+=("NOT HELD  $name")
        ended=1
    fi
done
printf '\n== Long proofs\n'
printf '%s\n' "${told[@]}"
exit $ended
