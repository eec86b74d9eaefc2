#!/usr/bin/env bash
# Puts the tables of `winkhold prove compare` and `winkhold prove worth` in bench/README.md in anew: what stands between
# `<!-- COMMAND -->` and `<!-- end -->` becomes what the command prints. Argument: the program.
set -euo pipefail
program=$(realpath "${1:-build/apps/winkhold/winkhold}")
cd "$(dirname "$0")/../.."
while read -r command; do
  read -ra words <<<"$command"
  table=$("$program" "${words[@]:1}") || [ $? -eq 1 ] # findings are no failure
  TABLE=$table awk -v begin="<!-- $command -->" '
    $0 == "<!-- end -->" { inside = 0 }
    !inside { print }
    $0 == begin { inside = 1; print ENVIRON["TABLE"] }' bench/README.md >bench/README.md.new
  mv bench/README.md.new bench/README.md
done < <(sed -n 's/^<!-- \(winkhold .*\) -->$/\1/p' bench/README.md)
