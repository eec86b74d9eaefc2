#!/usr/bin/env bash
# Compiles every core header alone, warnings as errors, as strict C++14 without a standard library.
# Usage: core_fence.sh INCLUDE_DIR COMPILER [FLAGS...]
set -eu
include=$1
shift
flags=(-std=c++14 -pedantic-errors -Wall -Wextra -Werror -nostdinc++ -ffreestanding -fno-exceptions -fno-rtti)
count=0
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
for header in "$include"/winkhold/core/*.hpp; do
    printf '#include "winkhold/core/%s"\n' "$(basename "$header")" > "$scratch/alone.cpp"
    # the second inclusion shows that it guards itself
    cat "$scratch/alone.cpp" "$scratch/alone.cpp" > "$scratch/twice.cpp"
    "$@" "${flags[@]}" -I"$include" -c "$scratch/twice.cpp" -o "$scratch/twice.o"
    count=$((count + 1))
done
[ "$count" -ge 10 ] || { echo "only $count core headers found in $include"; exit 1; }

# a whole decoder, stepped, as firmware would; nothing undefined may be left to link but the compiler's own helpers
cat > "$scratch/use.cpp" <<'CPP'
#include "winkhold/core/core.hpp"
using namespace winkhold::core;
static constexpr Settings settings{};
static_assert(check(settings) == SettingsError::none, "");
constexpr Indication after_one_settle() {
    Decoder decoder{settings};
    decoder.step(Micros{0}, Lines{Lines::left});
    return decoder.step(Micros{5000}, Lines{Lines::left});
}
static_assert(after_one_settle() == Indication::left, "stories run at compile time, on this compiler too");
Decoder decoder{settings};
uint8_t step(uint32_t now_us, uint8_t port) {
    return static_cast<uint8_t>(decoder.step(Micros{now_us}, Lines{port}));
}
CPP
"$@" "${flags[@]}" -Os -I"$include" -c "$scratch/use.cpp" -o "$scratch/use.o"

# identifiers that have no place in the core, in code or comment
if grep -nE '\b(std::|float|double|virtual|throw|malloc)\b|winkhold/host|#include <[^s]|#include <s[^t]' \
    "$include"/winkhold/core/*.hpp; then
    echo "the core looks beyond its fence (above)"
    exit 1
fi
# no division or remainder of run-time values: the core has none at all outside comments
if sed 's,//.*,,' "$include"/winkhold/core/*.hpp | grep -v '#include' | grep -nE '[^/]/[^/]|%'; then
    echo "division or remainder in the core (above)"
    exit 1
fi
echo "$count headers, compiled alone by $1"
