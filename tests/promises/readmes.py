"""What the documents lead to is there: files and headings behind links, commands and options behind command lines.
README.md stays a front page. Usage: readmes.py FOLDER_OF_THE_PROJECT PROGRAM"""

import pathlib
import re
import shlex
import subprocess
import sys

root = pathlib.Path(sys.argv[1])
program = sys.argv[2]
FRONT_PAGE_BYTES = 12 * 1024
complaints = []


def complain(path, line, what):
    complaints.append(f"{path.relative_to(root)}:{line}: {what}")


def lines_of(path):
    """(number, text, fence): fence is the word behind ``` of the block that the line stands in, or None."""
    fence = None
    for number, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if text.startswith("```"):
            fence = None if fence is not None else text[3:].strip()
            continue
        yield number, text, fence


def anchors_of(path):
    """As hosts of Markdown make them: lower case, no punctuation, hyphens for spaces."""
    heads = (text.lstrip("#").strip() for _, text, fence in lines_of(path) if fence is None and text.startswith("#"))
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}


def check_links(path):
    for number, text, fence in lines_of(path):
        if fence is not None:
            continue
        for target in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"`[^`]*`", "", text)):
            if "://" in target:
                continue
            name, _, anchor = target.partition("#")
            led_to = (path.parent / name).resolve() if name else path
            if not led_to.exists():
                complain(path, number, f"the link to {target} leads nowhere")
            elif anchor and (led_to.suffix != ".md" or anchor not in anchors_of(led_to)):
                complain(path, number, f"{target}: there is no such heading")


def options_of(command):
    ran = subprocess.run([program, *command, "--help"], capture_output=True, text=True, check=False)
    if ran.returncode != 0:
        return None
    return set(re.findall(r"^ {2}(?:-\w, )?(--[\w-]+)", ran.stdout, re.M))


overview = subprocess.run([program, "--help"], capture_output=True, text=True, check=True).stdout
commands = {
    tuple(name.split()): options_of(name.split())
    for name in re.findall(r"^ {2}([a-z]+(?: [a-z]+)?)(?: {2,}|$)", overview, re.M)
}
all_options = set().union(*commands.values()) | {"--version"}


def check_command_line(path, number, line):
    try:
        words = shlex.split(line, comments=True)
    except ValueError:  # prose in a block
        return
    while words:
        ends = [i for i, word in enumerate(words) if word in ("|", "&&", ";", ">", "<")]
        part, words = words[: ends[0]] if ends else words, words[ends[0] + 1 :] if ends else []
        if part[:1] == ["bash"] and len(part) > 1 and not (root / part[1]).exists():
            complain(path, number, f"there is no script {part[1]}")
        if part[:1] != ["winkhold"] or len(part) < 2 or part[1].startswith("-"):
            continue
        command = tuple(part[1:3]) if part[1] == "prove" else (part[1],)
        if command not in commands:
            complain(path, number, f"there is no command \"{' '.join(command)}\"")
            continue
        for word in part:
            option = word.split("=")[0]
            if option.startswith("--") and option not in commands[command]:
                complain(path, number, f"winkhold {' '.join(command)} has no {option}")


def check_commands(path):
    for number, text, fence in lines_of(path):
        if text == "## What changed":  # names that are gone are told there
            break
        if fence is not None:
            if fence == "sh" or text.startswith("winkhold "):
                check_command_line(path, number, text)
            continue
        for code in re.findall(r"`([^`]+)`", text):
            if code.startswith(("winkhold ", "bash ")):
                check_command_line(path, number, code)
            elif code.startswith("--") and code.split()[0] not in all_options:
                complain(path, number, f"no command has {code.split()[0]}")


if len(commands) < 10 or not all(commands.values()):
    sys.exit("winkhold --help lists no commands that can be read here")
documents = [path for path in sorted(root.rglob("*.md")) if not re.match(r"(build|\.)", str(path.relative_to(root)))]
if len(documents) < 8:
    sys.exit(f"only {len(documents)} documents found in {root}")
for document in documents:
    check_links(document)
    check_commands(document)
size = (root / "README.md").stat().st_size
if size > FRONT_PAGE_BYTES:
    complaints.append(f"README.md: {size} bytes, {FRONT_PAGE_BYTES} at most: details belong beside their code")
print("\n".join(complaints) or f"{len(documents)} documents, {len(commands)} commands: all there")
sys.exit(1 if complaints else 0)
