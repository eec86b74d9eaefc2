"""Every include in lib/host points down: to a wing or room that stands before its own in this list.

Usage: arrows.py LIB_HOST. What crosses wings the wrong way does not even compile; this tells of rooms, too, and
of ways around (relative paths, private headers of the core)."""
import pathlib
import re
import sys

HOUSE = {
    "base": ["", "statistics", "text", "vehicle"],
    "taps": ["trace", "link", "capture", "decode", "inspect", "hindsight", "verify"],
    "measure": ["front_end", "waveform", "score", "fit", "sweep", "faults", "soak", "families", "compare"],
    "bike": ["pins", "lamps", "limits", "electrics", "wiring", "checklist", "pack"],
    "live": ["session", "port", "screen"],
}
ORDER = [(wing, room) for wing, rooms in HOUSE.items() for room in rooms]


def room_of(path):
    wing, *rest = [part for part in path.split("/")[1:] if part != "detail"]
    return wing, rest[0] if len(rest) > 1 else ""


def main(root):
    wrong, arrows = [], 0
    for file in sorted((root / "winkhold").rglob("*.[hc]pp")):
        name = str(file.relative_to(root))
        if name == "winkhold/host.hpp":
            continue
        for number, line in enumerate(file.read_text().splitlines(), 1):
            include = re.match(r'\s*#\s*include\s+"([^"]+)"', line)
            if not include or include[1].startswith(("winkhold/core/", "winkhold/link/")):
                continue
            where, target = f"{name}:{number}", include[1]
            if not (root / target).exists():
                wrong.append(f"{where}: {target}: write the whole path, from winkhold/ on")
            elif room_of(target) not in ORDER or room_of(name) not in ORDER:
                wrong.append(f"{where}: a room that no list of this script has: {target}")
            elif ORDER.index(room_of(target)) > ORDER.index(room_of(name)):
                wrong.append(f"{where}: {target} stands above {'/'.join(room_of(name))}")
            arrows += 1
    print("\n".join(wrong) or f"{arrows} includes, none points back")
    return 1 if wrong or arrows < 300 else 0


sys.exit(main(pathlib.Path(sys.argv[1])))
