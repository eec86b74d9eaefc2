"""What real shells offer when a command line is to be completed."""
import os
import pathlib
import pty
import re
import select
import subprocess
import time


def environment(home):
    return {"HOME": str(home), "PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8", "TERM": "dumb"}


def parted(line):
    """As bash parts a command line: at spaces, and at '='. An empty last word is kept."""
    return [part for word in line.split(" ") for part in re.split("(=)", word) if part or word == ""]


class Bash:
    """Sources the script and calls its function, as readline does."""
    name, file = "bash", "winkhold"
    reads = 'source "$1"\n'

    def __init__(self, script, folder):
        self.script, self.folder = script, folder

    def run(self, commands, *arguments):
        done = subprocess.run(["bash", "--norc", "-c", self.reads + commands, "bash", self.script, *arguments],
                              cwd=self.folder, env=environment(self.folder), capture_output=True, text=True, timeout=30)
        assert not done.stderr, done.stderr
        return done.stdout.splitlines()

    def offers(self, line):
        return self.run('shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _winkhold; '
                        '[ ${#COMPREPLY[@]} -eq 0 ] || printf "%s\\n" "${COMPREPLY[@]}"', *parted(line))

    def falls_back_to_files(self):
        return "-o default" in " ".join(self.run("complete -p winkhold"))


class PackagedBash(Bash):
    """With the package bash-completion, which finds the script by its name."""
    name = "bash with bash-completion"
    reads = ('BASH_COMPLETION_USER_DIR=$(dirname "$(dirname "$1")")\n'
             "source /usr/share/bash-completion/bash_completion\n_completion_loader winkhold\n")


class Fish:
    name, file = "fish", "winkhold.fish"

    def __init__(self, script, folder):
        self.script, self.folder = script, folder

    def offers(self, line):
        done = subprocess.run(["fish", "--no-config", "-c", "source $argv[1]; complete -C $argv[2]", self.script, line],
                              cwd=self.folder, env=environment(self.folder), capture_output=True, text=True, timeout=30)
        assert not done.stderr, done.stderr
        return [offer.split("\t")[0] for offer in done.stdout.splitlines()]


class Zsh:
    """An interactive zsh at a pseudo-terminal, whose Tab writes down all that is added to its matches. It finds the
    script in its function path."""
    name, file = "zsh", "_winkhold"
    setup = """PROMPT= RPROMPT= ; unsetopt beep; unset zle_bracketed_paste
fpath=({folder} $fpath); autoload -Uz compinit; compinit -u -D
compadd() {{
    if (( ${{@[(I)-[OAD]*]}} )); then builtin compadd "$@"; return; fi
    local -a found
    builtin compadd -A found "$@"
    (( $#found )) && print -rl -- $found >> {out}
    builtin compadd "$@"
}}
zle -C probe complete-word _main_complete
mark() {{ print -r -- "--end--" >> {out}; BUFFER=; }}
zle -N mark
bindkey '^I' probe; bindkey '^G' mark; print -r -- --end-- >> {out}
"""

    def __init__(self, script, folder):
        self.folder, self.out = folder, pathlib.Path(script).with_name("offers")
        setup = pathlib.Path(script).with_name("setup")
        setup.write_text(self.setup.format(folder=pathlib.Path(script).parent, out=self.out))
        self.out.write_text("")
        self.process, self.terminal = pty.fork()
        if self.process == 0:
            os.chdir(folder)
            os.execvpe("zsh", ["zsh", "-f", "-i"], environment(folder))
        self.type(f"source {setup}\r")
        self.collected()

    def type(self, keys):
        os.write(self.terminal, keys.encode())

    def collected(self):
        """What was written down up to the end mark. The terminal is read meanwhile, lest zsh wait for that."""
        deadline = time.monotonic() + 30
        while not (text := self.out.read_text()).endswith("--end--\n"):
            assert time.monotonic() < deadline, f"zsh doesn't answer: {text}"
            if select.select([self.terminal], [], [], 0.01)[0]:
                os.read(self.terminal, 65536)
        self.out.write_text("")
        # each as it would be inserted, so without the backslashes that the shell takes away again
        return [re.sub(r"\\(.)", r"\1", match) for match in text.splitlines()[:-1]]

    def offers(self, line):
        self.type(line + "\t\x07")
        return self.collected()

    def close(self):
        os.close(self.terminal)
        os.waitpid(self.process, 0)
