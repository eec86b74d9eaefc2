"""The manual page: nothing for mandoc or groff to warn of, and everything in it that help lists.

Usage: man_page_test.py PROGRAM MADE_UP    MADE_UP prints a page of commands with hostile texts
"""
import pathlib
import re
import subprocess
import sys
import tempfile

from completion_test import commands_of, text_of

wrong = []


def check(good, *what):
    if not good:
        wrong.append(" ".join(map(str, what)))


def output_of(*command):
    done = subprocess.run(command, capture_output=True, text=True, timeout=30,
                          env={"LC_ALL": "C.UTF-8", "PATH": "/usr/bin:/bin", "MANWIDTH": "80"})
    return re.sub(r".\x08|\x1b\[[0-9;]*m", "", done.stdout), done.stderr + (done.stdout if "lint" in command else "")


def read(page, name):
    """What mandoc and groff show, words apart by one space each; neither may warn."""
    _, complaints = output_of("mandoc", "-T", "lint", "-W", "warning", page)
    check(not complaints, name, "mandoc:", complaints)
    shown = [output_of("mandoc", "-T", "utf8", page)[0]]
    text, complaints = output_of("man", "--warnings", "-E", "UTF-8", "-l", page)
    check(not complaints, name, "groff:", complaints)
    shown.append(text)
    for text in shown:
        check(max(map(len, text.splitlines())) <= 80 or name == "made up", name, "is wider than 80 columns")
    return [" ".join(text.split()) for text in shown]


def sections_of(page):
    """{command: its part of the page}"""
    parts = re.split(r"(?m)^\.SS winkhold (.*)\n", page)
    return dict(zip(parts[1::2], parts[2::2]))


def main(program, made_up):
    with tempfile.TemporaryDirectory() as scratch:
        page = pathlib.Path(scratch) / "winkhold.1"
        page.write_text(text_of(program, "--man"))
        for text in read(page, "winkhold"):
            for heading in ("NAME", "SYNOPSIS", "DESCRIPTION", "COMMANDS", "EXIT STATUS", "CAUTION"):
                check(f" {heading} " in text, heading, "is missing")
            check("never tune while riding" in text, "no caution")
        commands = commands_of(program)
        sections = sections_of(page.read_text())
        check(set(sections) == set(commands), "other commands than in help:", set(sections) ^ set(commands))
        for name, options in commands.items():
            helped = " ".join(text_of(program, *name.split(), "--help").split())
            part = pathlib.Path(scratch) / "part.1"
            part.write_text(".TH X 1 2026-11-28 x\n.SH X\n" + sections[name].split(".SH ")[0])
            shown = " ".join(output_of("mandoc", "-T", "utf8", part)[0].split())
            for option, value in options.items():
                if option != "--help":
                    check(f"{option} {value}".strip() in shown, name, option, "is missing")
            for default in re.findall(r"\(default: [^)]*\)", helped):
                check(default in shown, name, default, "is missing")
            example = helped.split("Example: ")[1].replace(" \\ ", " ")
            check(example in shown.replace(" \\ ", " "), name, "example is missing:", example)

        page.write_text(text_of(made_up, "man"))
        hostile = """.so /etc/passwd is how "it's" [begun]: 'a \\fB `touch pwned` $(touch pwned) $HOME {x,y} %n ~ ^ # | ; & > """ \
                  "pwned * ? \\"
        for text in read(page, "made up"):
            for wanted in (hostile + ".", "--plain " + hostile, f"(default: {hostile})", "'quoted in two lines", ".TH evil",
                           "'in a line of its own", "\\&", "Example: " + hostile, ".example \\n 'x'", "'second", "a\\b-c",
                           """--word it's|"two"|$(touch pwned)|`touch pwned`|x:y|[z]|\\n|{a,b}|*|$HOME|~|a b|#|;|-x|%d""",
                           "; not with --none"):
                check(wanted in text, "hostile text is spoilt:", wanted)
    print(*wrong[:40], sep="\n", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
