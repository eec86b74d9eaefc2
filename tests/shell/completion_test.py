"""Drives bash, zsh and fish with the scripts that the program prints, and compares with what its help lists.

Usage: completion_test.py PROGRAM MADE_UP    MADE_UP prints scripts for commands with hostile texts
"""
import pathlib
import re
import subprocess
import sys
import tempfile
import time

from drive import Bash, Fish, PackagedBash, Zsh

wrong = []


def check_same(offered, wanted, *what):
    if sorted(offered) != sorted(wanted):
        wrong.append(f"{' '.join(map(str, what))}: offered {sorted(offered)}, not {sorted(wanted)}")


def text_of(*command):
    return subprocess.run(command, capture_output=True, text=True, timeout=30, check=True).stdout


def commands_of(program):
    """{command: {option: its value as help shows it}}"""
    names = re.findall(r"^  ([a-z]+(?: [a-z]+)?)  ", text_of(program, "--help"), re.MULTILINE)
    found = {}
    for name in names:
        options = re.findall(r"^  (--[a-z-]+)(?: (\S+))?(?: \.\.\.)?(?:  .*)?$", text_of(program, *name.split(), "--help"), re.MULTILINE)
        found[name] = {**dict(options), "--help": ""}
    return found


def check_real(shell, commands):
    own = {"--help", "--version", "--man", "--completion"}
    check_same(shell.offers("winkhold "), {name.split()[0] for name in commands} | own, shell.name, "first word")
    check_same(shell.offers("winkhold prove "), {name[6:] for name in commands if name.startswith("prove ")} | {"--help"},
               shell.name, "prove")
    check_same(shell.offers("winkhold prove fa"), ["families", "faults"], shell.name, "prove fa")
    check_same(shell.offers("winkhold --completion "), ["bash", "fish", "zsh"], shell.name, "--completion")
    for name, options in commands.items():
        check_same(set(shell.offers(f"winkhold {name} --")), options, shell.name, name)
        check_same(shell.offers(f"winkhold {name} --hel"), ["--help"], shell.name, name, "--hel")
        for option, value in options.items():
            if "|" not in value:
                continue
            words = value.split("|")
            check_same(shell.offers(f"winkhold {name} {option} "), words, shell.name, name, option)
            after = [word.removeprefix(f"{option}=") for word in shell.offers(f"winkhold {name} {option}={words[0][:2]}")]
            check_same(after, [word for word in words if word.startswith(words[0][:2])], shell.name, name, option, "=")
    (shell.folder / "ride of mine.csv").touch()
    if isinstance(shell, Bash):
        check_same(shell.offers("winkhold decode ri"), [], shell.name, "leaves files to bash")
        check_same([shell.falls_back_to_files()], [True], shell.name, "leaves files to bash")
    else:
        for line in ("winkhold decode ri", "winkhold decode --json ri", "winkhold sweep --onto ri"):
            check_same(shell.offers(line), ["ride of mine.csv"], shell.name, line)
    check_same(shell.offers("winkhold decode --hold ri"), [], shell.name, "no files for a time")


def check_made_up(shell, words):
    check_same(shell.offers("winkhold odd --word "), words, shell.name, "hostile words")
    check_same(shell.offers("winkhold prove it --word "), words, shell.name, "hostile words")
    check_same(set(shell.offers("winkhold odd --")), ["--help", "--none", "--plain", "--word"], shell.name, "made up")
    check_same([path.name for path in shell.folder.iterdir() if path.name == "pwned"], [], shell.name, "ran a text")


def main(program, made_up):
    commands = commands_of(program)
    assert len(commands) > 15 and all(len(options) > 1 for options in commands.values()), commands
    # as made_up.cpp has them
    words = ["it's", '"two"', "$(touch pwned)", "`touch pwned`", "x:y", "[z]", "\\n", "{a,b}", "*", "$HOME", "~", "a b",
             "#", ";", "-x", "%d"]
    for kind in (Bash, PackagedBash, Zsh, Fish):
        started = time.monotonic()
        for print_script, check in (([program, "--completion"], lambda shell: check_real(shell, commands)),
                                    ([made_up], lambda shell: check_made_up(shell, words))):
            with tempfile.TemporaryDirectory() as scratch:
                folder = pathlib.Path(scratch) / "work"
                script = pathlib.Path(scratch) / "completions" / kind.file
                folder.mkdir()
                script.parent.mkdir()
                script.write_text(text_of(*print_script, kind.__name__.lower().removeprefix("packaged")))
                shell = kind(script, folder)
                check(shell)
                if kind is Zsh:
                    shell.close()
        print(f"{kind.name}: {time.monotonic() - started:.1f} s")
    print(*wrong[:40], sep="\n", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
