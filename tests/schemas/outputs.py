"""Every kind of JSON that the program writes: runs it over many inputs."""
import json
import pathlib
import struct
import subprocess
import tempfile
import tomllib
import wave
from concurrent.futures import ThreadPoolExecutor

import vehicles


def run(program, arguments, folder):
    done = subprocess.run([program, *map(str, arguments)], cwd=folder, capture_output=True, timeout=60)
    if done.returncode not in (0, 1, 2):
        raise SystemExit(f"winkhold {arguments}: exit code {done.returncode}")
    if done.returncode == 2 and done.stdout and "verify" not in arguments:
        raise SystemExit(f"winkhold {arguments}: refused, but something stands on standard output")
    return done.stdout.decode() if done.stdout else None


def case_options(case):
    """The options that a case of data/recordings needs, as a user would type them."""
    wanted = tomllib.loads((case / "case.toml").read_text())["recording"]
    options = [case / wanted.pop("file")]
    for key, value in wanted.items():
        options += ["--" + key.replace("_", "-"), value]
    return options


def sound(path, cut):
    """A sound card's view of three flashes: steps that decay. `cut`: the file ends too early."""
    samples, level, rate = [], 0.0, 8000
    for ms in range(3000):
        lit = ms % 700 < 350 and ms > 100
        before = (ms - 1) % 700 < 350 and ms - 1 > 100
        level += 0.8 * (lit - before)
        for _ in range(rate // 1000):
            samples.append(int(30000 * max(-1, min(1, level))))
            level *= 0.999
    with wave.open(str(path), "wb") as file:
        file.setnchannels(2)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes(b"".join(struct.pack("<hh", sample, 0) for sample in samples))
    if cut:
        path.write_bytes(path.read_bytes()[:-2000])


def made_recordings(folder):
    """Recordings that have something to warn of, one or two each."""
    texts = {
        "lossy.log": "# winkhold recorder 1 tick_us=4\nh 0 00\n100000 01\n! 3\n200000 00\nh 250000 00\n",
        "silent.log": "# winkhold recorder 1 tick_us=4\nh 0 00\n100000 01\n1500000 00\nh 1600000 00\n",
        "unknown.vcd": "$timescale 1 us $end\n$var wire 1 a left $end\n$var wire 1 b right $end\n"
                       "$enddefinitions $end\n#0\n0a\n0b\n#100000\nxa\n#300000\n1a\n#600000\n0a\n#900000\n",
        "dark.csv": "time_us,left_v,right_v\n0,0,0\n400000,3,0\n800000,0,0\n",
        "bare.csv": "time,left,right\n-0.5,0.0,0.0\n0.1,12.6,0.1\n0.5,0.2,0.1\n0.9,0.1,0.0\n",
        "twice.csv": "time_us,left,right,brake,brake\n0,0,0,0,1\n400000,1,0,0,1\n800000,0,0,0,0\n",
        "unread.csv": "time_us,left,right,supply_v\n0,0,0,12\n400000,1,0,\n800000,0,0,12\n",
        "taps.csv": "time_us,left,right,brake,tail,supply\n0,0,0,0,1,1\n400000,1,0,1,1,1\n700000,0,0,1,1,0\n"
                    "750000,0,0,0,1,1\n1100000,1,0,0,1,1\n1450000,0,0,0,1,1\n",
        "empty.csv": "time_us,left,right\n0,0,0\n",
        "hostile.csv": "time_us,l\u0007\"\\,right,brake\n0,0,0,0\n10,1,0,0\n",
    }
    for name, text in texts.items():
        (folder / name).write_text(text)
    sound(folder / "sound.wav", cut=False)
    sound(folder / "cut.wav", cut=True)
    return [[folder / name] for name in texts if name != "hostile.csv"] + \
           [[folder / "sound.wav", "--right", "none"], [folder / "cut.wav", "--right", "none"],
            [folder / "hostile.csv", "--left", 'l\u0007"\\', "--brake", "none"]]


def simulated(program, data, folder):
    """Rides of all scenarios, faults and families, and of a bike whose first light is longer."""
    rides = []
    slow = folder / "slow.toml"
    slow.write_text("[flasher]\nrate_per_min = 85\nfirst_on_extra = [\"200ms\", \"400ms\"]\n[rider]\nscript = [" +
                    5 * '{ show = "off", for = "3s" }, { show = "left", flashes = 6 }, ' + "]\n")
    wanted = [slow, *sorted((data / "scenarios").glob("*.toml")), data / "vehicles/demo.toml",
              *sorted((data / "faults").glob("F*.toml")), *sorted((data / "families").glob("*.toml"))]
    for scenario in wanted:
        ride = folder / f"{scenario.stem}.csv"
        run(program, ["simulate", scenario, "--seed", 3, "--out", ride, "--truth", f"{ride}.truth"], data)
        if ride.exists():
            rides.append([ride])
    return rides


def broken_cases(data, folder):
    """A folder of cases of which one passes, one differs in each way that there is, and one is refused."""
    answers = {"passes": None, "early": ("505000", "515000"), "late": ("505000", "495000"),
               "other": ("left", "right"), "missing": ("END", "5000000,hazard\n"), "extra": ("4036952,off\n", "")}
    good = data / "recordings/steady-turn"
    for name, change in answers.items():
        case = folder / "cases" / name
        case.mkdir(parents=True)
        for file in good.iterdir():
            text = file.read_text()
            if change and file.name == "expected.csv":
                text = (text + "END").replace(*change, 1).removesuffix("END")
            (case / file.name).write_text(text)
    refused = folder / "cases/refused"
    refused.mkdir()
    (refused / "case.toml").write_text("[recording]\nfile = 3\n")
    return folder / "cases"


def commands(program, data, folder):
    """All command lines, each with the schema that it must answer with."""
    cases = [case_options(path.parent) for path in sorted((data / "recordings").glob("*/case.toml"))]
    rides = simulated(program, data, folder)
    made = made_recordings(folder)
    for recording in cases + made + rides:
        yield "inspect", ["inspect", *recording]
        yield "fit", ["fit", *recording]
    for recording in cases + made:
        yield "decode", ["decode", *recording]
        yield "limits", ["limits", *recording, "--if", "normally-closed-flasher"]
    for recording in cases[::6] + made + rides[:2]:  # long outputs
        yield "sequence", ["sequence", *recording]
    for recording in cases + rides[:8]:
        yield "decode", ["decode", *recording, "--hindsight"]
        yield "decode", ["decode", *recording, "--hindsight", "--hold-rule", "fixed", "--hold", "150ms"]
    for recording in rides[:12] + cases[:6]:
        yield "sweep", ["sweep", *recording]
        yield "sweep", ["sweep", *recording, "--hold-rule", "fixed", "--target", "0.5"]
    for ride in rides:
        yield "limits", ["limits", *ride, "--truth", f"{ride[0]}.truth"]
    for scenario in [*sorted((data / "scenarios").glob("*.toml")), data / "vehicles/demo.toml"]:
        for mode in ([], ["--hold-rule", "fixed", "--hold", "300ms:500ms:50ms"], ["--target", "0.3"]):
            yield "sweep", ["sweep", scenario, "--trials", 20, *mode]
        for place in ("un-ece", "switzerland", "germany", "united-kingdom", "united-states", "european-union",
                      "new-south-wales"):
            yield "limits", ["limits", scenario, "--trials", 2, "--place", place]
    fresh = folder / "fresh.toml"  # all of it is still the example's
    run(program, ["new", fresh], data)
    yield "sweep", ["sweep", fresh, "--trials", 2]
    for command in ("limits", "sequence", "checklist"):
        yield command, [command, fresh]
    crossed = folder / "crossed.toml"  # a name against its side
    crossed.write_text((data / "vehicles/demo.toml").read_text().replace('name = "front left"', 'name = "front right 2"'))
    for command in ("limits", "sequence", "electrics"):
        yield command, [command, crossed]
    odd = vehicles.odd(data, folder)
    for vehicle in odd[::4] + odd[-4:]:
        yield "sequence", ["sequence", *cases[-1], "--vehicle", vehicle]
    for vehicle in odd:
        yield "electrics", ["electrics", vehicle]
    for vehicle in odd[:8] + odd[8::3] + odd[-4:]:
        yield "wiring", ["wiring", vehicle]
        yield "checklist", ["checklist", vehicle]
        for paper in ("labels", "parts", "owner"):
            yield paper, ["checklist", vehicle, "--paper", paper]
    for paper in ("labels", "parts", "owner"):
        yield paper, ["checklist", fresh, "--paper", paper]
    ready = vehicles.measured(run, program, data, folder)
    yield "checklist", ["checklist", ready]
    yield "owner", ["checklist", ready, "--paper", "owner"]
    for folder_of_cases in (data / "recordings", broken_cases(data, folder)):
        yield "verify", ["verify", folder_of_cases]
    for mode in ([], ["F07"], ["--hold-rule", "fixed", "--hold", "200ms"]):
        yield "faults", ["prove", "faults", "--seeds", 1, *mode]
    for mode in (["hum", "dips"], ["--mixed-rides", 0]):
        yield "families", ["prove", "families", "--rides", 1, *mode]
    yield "compare", ["prove", "compare", "--flashes", 100]
    yield "worth", ["prove", "worth", "--flashes", 100, "--fault-seeds", 1, "--family-rides", 1]
    for mode in ([], ["--hold-rule", "fixed", "--hold", "200ms"]):
        yield "soak", ["prove", "soak", "--flashes", 1000, *mode]


def collect(program, source):
    """[(schema name, arguments, output)] of every run that was not refused."""
    data = pathlib.Path(source) / "data"
    with tempfile.TemporaryDirectory() as scratch, ThreadPoolExecutor() as pool:
        lines = list(commands(program, data, pathlib.Path(scratch)))
        texts = pool.map(lambda line: run(program, [*line[1], "--json"], source), lines)
        return [(name, list(map(str, arguments)), parsed(text)) for (name, arguments), text in zip(lines, texts) if text]


def parsed(text):
    """Stricter than json.loads(): no NaN or Infinity, and no member twice."""
    def refuse(word):
        raise SystemExit(f"{word} is no JSON")

    def members(pairs):
        if len(dict(pairs)) < len(pairs):
            refuse(f"one member twice, {pairs}")
        return dict(pairs)

    return json.loads(text, parse_constant=refuse, object_pairs_hook=members)
