#!/usr/bin/env bash
# The replay's text from one machine, byte for byte that of g++ here.
# Usage: same_bytes.sh SOURCE answers|clang++|atmega328p|cortex_m0|cortex_m3|wasm32
# The simulators stand for the machines in what they compute, not in how long it takes.
# answers: g++'s own text against the answers that the cases of data/recordings expect.
set -euo pipefail
source=$(realpath "$1")
machine=$2
here=$source/tests/replay
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$scratch"

python3 "$here/recordings.py" header "$source/data/recordings" > recordings.hpp
flags=(-std=c++14 -Wall -Wextra -Werror -pedantic -fno-exceptions -fno-rtti "-I$source/lib/core" "-I$here" -I.)
g++ "${flags[@]}" -O1 "$here/replay.cpp" "$here/port_host.cpp" -o here
./here > wanted.txt

arm() { # CPU MACHINE
    arm-none-eabi-g++ "${flags[@]}" -ffreestanding -Os "-mcpu=$1" -mthumb -nostartfiles -T "$here/cortex_m.ld" \
        "$here/replay.cpp" "$here/port_cortex_m.cpp" -o arm.elf
    timeout 300 qemu-system-arm -M "$2" -display none -monitor none -serial none -chardev stdio,id=printed \
        -semihosting-config enable=on,target=native,chardev=printed -kernel arm.elf < /dev/null
}

case $machine in
answers)
    tail -1 wanted.txt | grep -qx end
    grep -qx 'check 3214735720' wanted.txt
    grep -q ' faults 31 shown 15$' wanted.txt # one stream has met every fault and shown everything
    python3 "$here/recordings.py" answers "$source/data/recordings" < wanted.txt
    exit ;;
clang++)
    clang++ "${flags[@]}" -O3 "$here/replay.cpp" "$here/port_host.cpp" -o there
    ./there > printed.txt ;;
atmega328p)
    avr-g++ "${flags[@]}" -Os -mmcu=atmega328p "$here/replay.cpp" "$here/port_avr.cpp" -o avr.elf
    timeout 300 simavr -m atmega328p -f 16000000 avr.elf > log 2>&1 || true
    # it prints each line in colour, with '.' for the line feed
    sed -n 's/\x1b\[[0-9;]*m//g; s/\.$//p' log > printed.txt ;;
cortex_m0) arm cortex-m0 microbit > printed.txt ;;
cortex_m3) arm cortex-m3 lm3s6965evb > printed.txt ;;
wasm32)
    clang++ "${flags[@]}" -ffreestanding -O2 --target=wasm32 -nostdlib -Wl,--no-entry "$here/replay.cpp" "$here/port_wasm.cpp" -o replay.wasm
    timeout 300 node "$here/run_wasm.js" replay.wasm > printed.txt ;;
*)
    echo "no machine is named '$machine'" >&2
    exit 2 ;;
esac
echo "$(wc -l < printed.txt) lines from $machine, $(wc -l < wanted.txt) wanted; at most ten differences:"
diff printed.txt wanted.txt | head -n 10 || true
cmp printed.txt wanted.txt
