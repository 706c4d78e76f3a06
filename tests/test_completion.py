"""The scripts of `postcheck completion` in the real shells: what is offered at a TAB, and what then stands in the line."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from postcheck import catalogue
from postcheck.checks.table import CHECKS
from postcheck.cli import every_command, kinds, main
from postcheck.cli.completion import SHELLS, bash, fish, script, zsh
from postcheck.cli.completion.words import Command, Option, Value
from postcheck.cli.questions import question_parsers
from tests.emulator import PATIENCE, Terminal
from tests.pages import blocks

ROOT = Path(__file__).parent.parent

AWKWARD = (
    "my model.post.toml",
    "it's.post.toml",
    'say "x".post.toml',
    "a$b`c.post.toml",
    "[1] (x).post.toml",
    "#ü;&.post.toml",
)


@pytest.fixture(scope="module")
def scripts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("scripts")
    made = {}
    for shell in SHELLS:
        made[shell] = folder / f"postcheck.{shell}"
        made[shell].write_text(script(shell), encoding="utf-8")
    return made


class Shell(Terminal):
    """A real interactive shell, in which `postcheck` tells the words that it was given.

    A shell does what is typed in turn, so nothing has to be waited for but what it writes.
    """

    def __init__(self, name: str, file: Path, cwd: Path) -> None:
        command, start = _SHELLS[name]
        super().__init__(
            command, cwd=cwd, columns=180, lines=100, HOME=str(cwd), LC_ALL="C.UTF-8", PS1="READY> ",
            XDG_CONFIG_HOME=str(cwd / ".config"), XDG_DATA_HOME=str(cwd / ".data"),
        )  # fmt: skip
        self.name, self._lines = name, 0
        for line in (*start, f"source {shlex.quote(str(file))}"):
            self.enter(line)

    def enter(self, line: str) -> None:
        """Run a line, and wait until it is done."""
        self._lines += 1
        done = f"DONE-{self._lines}"
        self.type(f"{line}; echo {done}\r")
        self.wait(lambda rows: done in rows)

    def given(self, line: str) -> list[str]:
        """The words that the command gets when this is typed, completed and entered."""
        self.enter("clear")
        self.type(f"{line}\t\r")
        rows = self.wait(lambda rows: "<end>" in rows)
        return [row[1:-1] for row in rows[: rows.index("<end>")] if row.startswith("<")]

    def offers(self, line: str, *expected: str) -> list[str]:
        """What is listed at a TAB, as soon as all that is expected is there."""
        self.enter("clear")
        # fish opens its list in steps; the same list in whole:
        self.type(f"complete -C {shlex.quote(line)}\r" if self.name == "fish" else f"{line}\t")
        rows = self.wait(lambda rows: set(expected) <= words_of(rows[1:]))
        self.type("\x05\x15")  # to the end of the line, and away with it
        return rows


def words_of(rows: list[str]) -> set[str]:
    return {word for row in rows for word in row.split()}


_SHELLS: dict[str, tuple[list[str], list[str]]] = {
    "bash": (
        ["bash", "--norc", "--noprofile", "-i"],
        [
            "postcheck() { printf '<%s>\\n' \"$@\" end; }",
            "bind 'set show-all-if-ambiguous on'; bind 'set completion-query-items 0'; bind 'set page-completions off'",
        ],
    ),
    "zsh": (
        ["zsh", "-f", "-i"],
        [
            "postcheck() { printf '<%s>\\n' \"$@\" end; }",
            "autoload -Uz compinit && compinit -D -u",
            "LISTMAX=9999; unsetopt auto_menu; zstyle ':completion:*' list-separator '  '",
        ],
    ),
    "fish": (
        ["fish", "--no-config", "-i"],
        ["function postcheck; printf '<%s>\\n' $argv end; end", "set -g fish_autosuggestion_enabled 0"],
    ),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("builds")
    (made / "the folder").mkdir()
    for name in (*AWKWARD, "other.txt", "notes.toml", "the folder/inside.post.toml"):
        (made / name).write_text("format = 1\n")
    return made


@pytest.fixture(scope="module", params=SHELLS)
def shell(request: pytest.FixtureRequest, scripts: dict[str, Path], folder: Path) -> Iterator[Shell]:
    with Shell(request.param, scripts[request.param], folder) as started:
        yield started


# -- in the line


@pytest.mark.parametrize(
    ("typed", "given"),
    [
        ("check my", "my model.post.toml"),
        ('check "my', "my model.post.toml"),
        ("check 'my", "my model.post.toml"),
        (r"check my\ mo", "my model.post.toml"),
        ("check it", "it's.post.toml"),
        ("check say", 'say "x".post.toml'),
        (r"check a\$", "a$b`c.post.toml"),
        (r"check \[1", "[1] (x).post.toml"),
        ("check '#", "#ü;&.post.toml"),
        ("check the\\ folder/in", "the folder/inside.post.toml"),
        ("check --format json my", "my model.post.toml"),
        ("check -- my", "my model.post.toml"),
        ("post --passage mast my", "my model.post.toml"),
        ("check oth", "oth"),  # neither a build nor a folder
        ("check not", "not"),
        ("start oth", "other.txt"),
        ("check --output oth", "other.txt"),
        ("sheet -o oth", "other.txt"),
        ("check --form", "--format"),
        ("check --format sar", "sarif"),
        ("check --today 20", "20"),
        ("explain lamp.no-r", "lamp.no-resistor"),
        ("explain file.no-u", "file.no-unit"),
        ("guide plann", "planning"),
        ("guide strip_", "strip_kind"),
        ("guide --no", "--no-pager"),
        ("catalogue plas", "plastic"),
        ("catalogue --matching enamel-0.06", "enamel-0.063"),
        ("catalogue --matching '32 m", "32 mA"),
        ("ask fuse 1A --wire enamel-0.06", "enamel-0.063"),
        ("ask drop 260 mm enamel-0.06", "enamel-0.063"),
        ("ask batt", "battery"),
        ("compl", "completion"),
        ("completion fi", "fish"),
    ],
)
def test_a_word_is_completed(shell: Shell, typed: str, given: str) -> None:
    assert shell.given(f"postcheck {typed}")[-1] == given


def test_a_value_after_an_equals_sign_is_completed(shell: Shell) -> None:
    assert "".join(shell.given("postcheck check --format=sar")[1:]) == "--format=sarif"


def test_a_home_is_completed(shell: Shell, folder: Path) -> None:
    assert shell.given("postcheck check ~/my")[-1] == str(folder / "my model.post.toml")


# -- in the list


def test_builds_and_folders_are_listed_and_no_other_file(shell: Shell) -> None:
    shown = "\n".join(shell.offers("postcheck check ", "folder/")[1:])
    for name in AWKWARD:
        assert name in shown.replace("\\", "")
    assert "other.txt" not in shown
    assert "notes.toml" not in shown


def helped(capsys: pytest.CaptureFixture[str]) -> dict[str, str]:
    """What --help prints of every command and question, by the words that lead there."""
    said = {}
    main(["--help"])
    said[""] = capsys.readouterr().out
    for name in re.findall(r"^  ([a-z]+) ", said[""].replace("  postcheck ", ""), re.MULTILINE):
        main([name, "--help"])
        said[name] = capsys.readouterr().out
    for name in re.findall(r"^  ([a-z]+) ", said["ask"], re.MULTILINE):
        if name != "postcheck":
            main(["ask", name, "--help"])
            said[f"ask {name}"] = capsys.readouterr().out
    return said


def options_in(text: str) -> set[str]:
    """The options in the list of a help text, which is not made by the code that reads the parser."""
    found: set[str] = set()
    for line in text.splitlines():
        if entry := re.match(r"  (-[^ ].*?)(  |$)", line):
            found.update(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", entry[1]))
    return found


def test_every_option_of_every_command_is_offered(shell: Shell, capsys: pytest.CaptureFixture[str]) -> None:
    said = helped(capsys)
    assert {"check", "explain", "completion", "ask bore", "ask battery"} <= set(said)
    for path, text in said.items():
        expected = options_in(text)
        assert "--help" in expected
        line = f"postcheck {path} " if path else "postcheck "
        # zsh lists short names and long ones of the same help in one row
        offered = words_of(shell.offers(f"{line}-", *expected)[1:])
        assert {word for word in offered if re.fullmatch(r"--?[a-z][a-z-]*", word)} == expected


def test_every_command_and_question_is_offered_with_its_help(
    shell: Shell, capsys: pytest.CaptureFixture[str]
) -> None:
    names = set(helped(capsys)) - {""}
    commands = {name for name in names if " " not in name}
    questions = {name.split()[1] for name in names - commands}
    rows = shell.offers("postcheck ", *commands)
    if shell.name != "bash":  # which lists words alone
        assert any("judge builds" in row for row in rows)
    shell.offers("postcheck ask ", *questions)


def test_names_of_checks_and_of_the_catalogue_are_all_offered(shell: Shell) -> None:
    lamps = [check.name for check in CHECKS if check.name.startswith("lamp.")]
    assert len(lamps) > 3
    shell.offers("postcheck explain lamp.", *lamps)
    shell.offers(
        "postcheck catalogue --matching ptfe-",
        *(name for name in catalogue.names("wire") if name.startswith("ptfe-")),
    )
    shell.offers("postcheck catalogue ", *catalogue.KINDS)


# -- the scripts


def test_an_argument_that_is_a_build_is_completed_as_one() -> None:
    """Whoever adds a command says what its words are: see cli/kinds.py."""
    for parser in (*every_command().parsers.values(), *question_parsers().values()):
        for action in parser._actions:
            if ".post.toml file" in str(action.help):
                assert action.type is kinds.BUILD, (parser.prog, action.dest)
            elif action.metavar in ("FILE", "OUT"):
                assert action.type in (kinds.BUILD, kinds.FILE), (parser.prog, action.dest)
            elif action.metavar in ("CHECK", "WIRE", "LAMP", "TOPIC"):
                assert isinstance(action.type, kinds.Kind), (parser.prog, action.dest)


def hostile() -> Command:
    """A command line whose every text tries to get out of its quotes."""
    text = """it's "x" `touch made` $(touch made) ${x} \\ [a]:b; touch made #"""
    value = Value("X", "words", (text, "a b"), text)
    option = Option(("--odd",), text, value)
    other = Option(("--plain",), "nothing")
    return Command(
        (), "", (), (), (Command(("odd",), text, (option, other), (value,)), Command(("even",), "", ()))
    )


@pytest.mark.parametrize("name", SHELLS)
def test_text_that_goes_into_a_script_stays_text(name: str, tmp_path: Path) -> None:
    made = {"bash": bash, "zsh": zsh, "fish": fish}[name].script(hostile())
    (tmp_path / "script").write_text(made, encoding="utf-8")
    with Shell(name, tmp_path / "script", tmp_path) as shell:
        assert shell.given("postcheck odd --odd a")[-1] == "a b"
        shell.offers("postcheck odd --", "--odd")
        assert shell.given("postcheck odd it")[-1] == hostile().commands[0].values[0].words[0]
        assert not (tmp_path / "made").exists()


def test_a_script_that_zsh_finds_by_itself_completes_at_the_first_tab(
    scripts: dict[str, Path], folder: Path, tmp_path: Path
) -> None:
    (tmp_path / "_postcheck").write_bytes(scripts["zsh"].read_bytes())
    (tmp_path / "nothing").write_text("")
    with Shell("zsh", tmp_path / "nothing", folder) as shell:
        shell.enter(f"fpath=({tmp_path} $fpath); compinit -D -u")
        assert shell.given("postcheck check my")[-1] == "my model.post.toml"
        assert shell.given("postcheck explain lamp.no-r")[-1] == "lamp.no-resistor"


def test_the_guide_installs_them_where_shells_look(
    scripts: dict[str, Path], folder: Path, tmp_path: Path
) -> None:
    """fish is then started as people start it; bash needs a package for it, and zsh a line of its own."""
    command = tmp_path / "bin" / "postcheck"
    command.parent.mkdir()
    command.write_text(f'#!/bin/sh\nexec {sys.executable} -m postcheck "$@"\n')
    command.chmod(0o755)
    ((_, _, block),) = blocks("sh", "# bash 4")
    environment = {
        "PATH": f"{command.parent}:/usr/bin:/bin",
        "HOME": str(tmp_path),
        "PYTHONPATH": str(ROOT),
        "PYTHONUTF8": "1",
    }
    subprocess.run(["/bin/sh", "-euc", block], env=environment, cwd=tmp_path, check=True, timeout=PATIENCE)
    for place, shell in (
        (".local/share/bash-completion/completions/postcheck", "bash"),
        (".zfunc/_postcheck", "zsh"),
        (".config/fish/completions/postcheck.fish", "fish"),
    ):
        assert (tmp_path / place).read_bytes() == scripts[shell].read_bytes()
    line = "complete -C 'postcheck check my'"
    done = subprocess.run(
        ["fish", "-c", line],
        env=environment,
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
        timeout=PATIENCE,
    )
    assert done.stdout == "my model.post.toml\n"


def test_a_shell_that_is_not_known_is_bad_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "csh"]) == 2
    assert "completion knows no 'csh'; there is bash, zsh or fish" in capsys.readouterr().err
    assert main(["completion", "bash"]) == 0
    assert capsys.readouterr().out == script("bash")
