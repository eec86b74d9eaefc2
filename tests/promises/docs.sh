#!/usr/bin/env bash
# The reference of the public headers, without a warning: what is named in a comment is there, and every file, class,
# enumeration, function and macro has words. Fields say most by name and unit, so words are theirs where they need
# any; operators == and !=, and moves, are as everywhere.
# Usage: docs.sh SOURCE BUILD VERSION
set -euo pipefail
source=$1 build=$2 version=$3
rm -rf "$build/docs"
mkdir -p "$build/docs"
doxygen "$build/Doxyfile"
page=$build/docs/classwinkhold_1_1core_1_1Decoder.html
grep -qF "$version" "$page"
grep -qF "Decodes two intermittent, bouncing lines" "$page"
while read -r header; do
    head -n 1 "$header" | grep -q '^/// [A-Z`0-9\[]' || { echo "$header: its first line says what it is about"; exit 1; }
done < <(find "$source/lib" -name '*.hpp' ! -path '*/detail/*')
allowed='\(variable\) of .* is not documented|Member operator([!=]=|=)\(|Member (\w+)\(\2 *&&'
left=$(grep -vE "$allowed" "$build/docs/warnings.txt" || true)
[ -z "$left" ] || { echo "$left"; exit 1; }
