#!/usr/bin/env python3
"""Recordings and expected answers of data/recordings for the replay, which reads no files.

Usage: recordings.py header FOLDER > recordings.hpp
       recordings.py answers FOLDER < PRINTED
header: all recordings of levels in microseconds, as bytes: the name and 0; for each setting that the case gives its
number and value (4 bytes, the lowest first), then 255; for each row the levels (bits of core::Lines) and the time
since the row before, then 255.
answers: the replay must have printed what each case expects.
"""
import csv
import pathlib
import re
import sys
import tomllib

LINES = {"left": 1, "right": 2, "brake": 4, "tail": 8, "supply": 16}
# in the order of core::Settings
SETTINGS = ["settle", "pwm_gap", "hold", "guard", "gap_prior", "handover", "fall_window", "cut_margin", "supply_gone",
            "hold_rule", "cut_short", "spread"]
END = 255
CLOCK = 1 << 32


def rows_of(case, about):
    """[(time_us, levels)], or nothing if the recording has another layout."""
    with open(case / "recording.csv", newline="", encoding="utf-8-sig") as text:
        rows = list(csv.reader(text))
    if rows[0][0] != "time_us" or not set(rows[0][1:]) <= LINES.keys():
        return []
    bits = [LINES[name] for name in rows[0][1:]]
    lit = "0" if about["recording"].get("active") == "low" else "1"
    return [(int(row[0]), sum(bit for bit, level in zip(bits, row[1:]) if level == lit)) for row in rows[1:]]


def cases(folder):
    for file in sorted(pathlib.Path(folder).glob("*/recording.csv")):
        about = tomllib.loads((file.parent / "case.toml").read_text())
        if rows := rows_of(file.parent, about):
            yield file.parent, about.get("decoder", {}), rows


def setting(value):
    """True, "paced" and "5ms" as numbers."""
    if value in (True, False):
        return int(value)
    if value in ("off", "fixed", "paced"):
        return int(value == "paced")
    number, unit = re.fullmatch(r"([0-9.]+)(us|ms|s)", value).groups()
    return round(float(number) * {"us": 1, "ms": 1_000, "s": 1_000_000}[unit])


def header(folder):
    stored, count = [], 0
    for case, settings, rows in cases(folder):
        stored += [*case.name.encode(), 0]
        for name, value in settings.items():
            stored += [SETTINGS.index(name), *setting(value).to_bytes(4, "little")]
        stored.append(END)
        before_us = 0
        for time_us, levels in rows:
            stored += [levels, *((time_us - before_us) % CLOCK).to_bytes(4, "little")]
            before_us = time_us
        stored.append(END)
        count += 1
    print("// Made by recordings.py.\n#pragma once\n\n#include \"port.hpp\"\n\nnamespace replay {\n")
    print(f"constexpr uint8_t recording_end = {END};\nconstexpr uint8_t recording_count = {count};")
    print("const uint8_t recordings[] REPLAY_STORED = {")
    for at in range(0, len(stored), 20):
        print("    " + ", ".join(map(str, stored[at:at + 20])) + ",")
    print("};\n\n} // namespace replay")


def answers(folder):
    printed, answers_of = sys.stdin.read().splitlines(), {}
    for line in printed:
        if line.startswith("recording "):
            answer = answers_of.setdefault(line.split()[1], [])
        elif answers_of and len(line.split()) == 2:
            answer.append(line)
    for case, _, _ in cases(folder):
        with open(case / "expected.csv", newline="") as text:
            wanted = [f"{int(time_us) % CLOCK} {'-' if shown == 'off' else shown[0].upper()}"
                      for time_us, shown in list(csv.reader(text))[1:]]
        if answers_of[case.name] != wanted:
            sys.exit(f"{case.name}: expected {wanted}, printed {answers_of[case.name]}")
    if len(answers_of) < 30:
        sys.exit(f"only {len(answers_of)} recordings played")
    print(f"{len(answers_of)} recordings played, and answered as expected")


{"header": header, "answers": answers}[sys.argv[1]](sys.argv[2])
