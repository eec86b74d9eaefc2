"""Vehicle files made from the demo's: each lacks something, or has an unlikely number; and one that is ready."""
import json
import re

heading = re.compile(r"(?=^\[)", re.MULTILINE)
number = re.compile(r"^(\w+) = ([0-9.]+)(?=\s|$)")


def odd(data, folder):
    """Paths; not every one of these files is accepted."""
    demo = (data / "vehicles/demo.toml").read_text()
    texts = [demo, "[vehicle]\nname = \"nothing known\"\n", "[vehicle]\nname = \"b\\u0007\\\"ll\"\n" +
             "[[wires]]\nlabel = \"\"\nfrom = \"tap left\"\nto = \"pin A0\"\n" +
             "[[measured]]\nwhat = \"wet-left-kohm\"\nvalue = 3\n" +
             "[[measured]]\nwhat = \"own-figure\"\nvalue = 3\nleast = 4\nunit = \"mm\"\n"]
    tables = heading.split(demo)
    for i, table in enumerate(tables[1:], 1):
        texts.append("".join(tables[:i] + tables[i + 1:]))  # without it
        if re.match(r"\[(front_end|board|battery|sequence)\]|\[\[wires", table):
            texts += ["".join(tables[:i] + [other] + tables[i + 1:]) for other in changed(table)]
    lamps = next(i for i, table in enumerate(tables) if table.startswith("[[lamps]]"))
    texts += ["".join(tables[:lamps] + [other] + tables[lamps + 1:]) for other in changed(tables[lamps])]
    texts.append(demo.replace("[front_end]", "[front_end]\nexample = true\nsecond_brake = true\nactive_brake = \"low\"")
                 .replace('active_brake = "high"\n', ""))
    texts.append("".join(table for table in tables if not table.startswith("[[wires]]")))
    for known, other in (('clock = "following"', 'clock = "own-rate"\nrate_per_min = 85'),
                         ('feed = "resistor"', 'feed = "constant-current"'), ("[[keep]]", "[[keep]]\nconnected = false"),
                         ("[[wires]]", "[[wires]]\nexample = true")):
        assert known in demo
        texts.append(demo.replace(known, other))
    paths = [data / "vehicles/demo.toml", data / "vehicles/demo-measured.toml"]
    for i, text in enumerate(texts):
        paths.append(folder / f"odd-{i}.toml")
        paths[-1].write_text(text)
    return paths


def changed(table):
    """The table without each of its lines, and with each of its numbers far too small and far too large."""
    lines = table.splitlines(keepends=True)
    for i, line in enumerate(lines[1:], 1):
        if "=" not in line or line.startswith("#"):
            continue
        yield "".join(lines[:i] + lines[i + 1:])
        if found := number.match(line):
            for factor in (0, 0.02, 40):
                value = f"{float(found[2]) * factor:g}"
                yield "".join(lines[:i] + [f"{found[1]} = {value}\n"] + lines[i + 1:])


def measured(run, program, data, folder):
    """The demo bike with every point of its checklist measured and good."""
    demo = data / "vehicles/demo.toml"
    text = demo.read_text()
    for point in json.loads(run(program, ["checklist", demo, "--json"], data))["points"]:
        answer = "done = true" if point["least"] is None else f"value = {point['least']}"
        answer += '\nnote = "as it ought to be"' if point["needs_note"] else ""
        text += f'\n[[measured]]\nwhat = "{point["id"]}"\n{answer}\nwith = "meter"\non = "2026-03-14"\n'
    path = folder / "ready.toml"
    path.write_text(text)
    return path
