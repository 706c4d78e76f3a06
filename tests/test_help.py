"""The pages of `--help`, read as people read them, and what is said of words that are mistyped."""

from __future__ import annotations

import io
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from postcheck.cli import every_command, main
from postcheck.cli.commands import COMMANDS, GROUPS
from postcheck.cli.parser import Parser
from postcheck.cli.questions import question_parsers
from tests.emulator import Terminal

ROOT = Path(__file__).parent.parent
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"


def parsers() -> Iterator[Parser]:
    yield from (parser for name, parser in every_command().parsers.items() if name != "ask")
    yield from question_parsers().values()


PAGES = [pytest.param(parser, id=parser.name) for parser in parsers()]


def shown(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(list(words)) == 0
    page = capsys.readouterr()
    assert page.err == ""
    return page.out


def own_words(page: str) -> None:
    """Nothing on it is an argument parser's own."""
    for stock in ("usage:", "positional arguments", "options:", "optional arguments", "show this help"):
        assert stock not in page.casefold()
    assert not re.search(r"\[-|\[FILE|\.\.\.\]|\{[a-z]|=SUPPRESS|None without", page)
    for line in page.splitlines():
        assert len(line) <= 80, line


def rows(page: str, heading: str) -> dict[str, str]:
    """The rows under a heading: what stands on the left, and all that is said of it."""
    found: dict[str, str] = {}
    inside, last = False, ""
    for line in page.splitlines():
        if not line.startswith(" "):
            inside = line == heading
        elif inside and (row := re.match(r"  (\S.*?)(?:  +(.*))?$", line)):
            last = row[1]
            found[last] = row[2] or ""
        elif inside:
            found[last] = f"{found[last]} {line.strip()}".strip()
    return found


@pytest.mark.parametrize("parser", PAGES)
def test_a_page_has_every_option_with_its_words_and_what_counts_without_it(
    parser: Parser, capsys: pytest.CaptureFixture[str]
) -> None:
    page = shown(capsys, *parser.name.split(), "--help")
    own_words(page)
    options, words, exits = (
        rows(page, title) for title in ("What can be added", "What it is given", "How it ends")
    )
    told = {
        name: says for left, says in options.items() for name in re.findall(r"(?<!\S)--?[a-z][a-z-]*", left)
    }
    for action in parser._actions:
        says = [told[name] for name in action.option_strings] or list(words.values())
        for choice in action.choices or ():
            assert any(str(choice) in one for one in says)
        if (
            isinstance(action.default, str | float)
            and action.option_strings
            and action.default != "==SUPPRESS=="
        ):
            assert f"{action.default:g}" if isinstance(action.default, float) else action.default in says[0]
    assert set(told) == set(parser._option_string_actions)
    assert all(told.values())
    assert all(words.values())
    assert {"0", "2"} <= exits.keys()
    assert page.splitlines()[2].endswith((".", "?"))
    assert shown(capsys, "help", *parser.name.split()) == page


def test_the_first_page_has_every_command_once(capsys: pytest.CaptureFixture[str]) -> None:
    page = shown(capsys, "--help")
    own_words(page)
    for title, group in GROUPS.items():
        assert rows(page, title).keys() == {*group}
    assert {*COMMANDS} == every_command().parsers.keys()
    assert shown(capsys, "help") == shown(capsys, "-h") == page
    assert main([]) == 2
    assert capsys.readouterr().out == page
    own_words(shown(capsys, "ask", "--help"))


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What the examples name: a build in a repository, an older one, and a folder of them."""
    folder = tmp_path_factory.mktemp("bench")
    (folder / "models").mkdir()
    for name in ("airship", "before", "models/airship"):
        shutil.copy(AIRSHIP, folder / f"{name}.post.toml")
    git = ["git", "-c", "user.name=a", "-c", "user.email=a@example.org", "-c", "init.defaultBranch=main"]
    for words in (["init", "-q"], ["add", "."], ["commit", "-qm", "first"]):
        subprocess.run([*git, *words], cwd=folder, check=True)
    return folder


@pytest.mark.parametrize("parser", PAGES)
def test_the_examples_run(
    parser: Parser,
    bench: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert len(parser.examples) == 2
    for number, (line, does) in enumerate(parser.examples):
        folder = tmp_path / str(number)
        shutil.copytree(bench, folder)
        if line.startswith("start"):
            (folder / "airship.post.toml").unlink()
        monkeypatch.chdir(folder)
        monkeypatch.setattr("sys.stdin", io.StringIO())
        code = main(shlex.split(line))
        told = capsys.readouterr()
        assert (code in (0, 1), told.err) == (True, ""), line
        assert told.out
        assert does


def test_a_page_keeps_to_the_width_of_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = [sys.executable, "-m", "postcheck", "help", "check"]
    with Terminal(command, cwd=tmp_path, columns=50, lines=90, PYTHONPATH=str(ROOT)) as terminal:
        seen = terminal.wait(lambda rows: any("typed wrong" in row for row in rows))
    # a terminal breaks what is too long for it in the middle of a word
    assert " ".join(seen).split() == shown(capsys, "help", "check").split()


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("chek x", "there is no command 'chek'; did you mean 'check'?"),
        ("help check plan", "help shows one page at a time, and 'plan' is one word too many"),
        ("check ", "check: FILE: an empty word names nothing"),
        ("check - -", "check: - is standard input, which can be read only once"),
        ("compare -- - -", "compare: - is standard input, which can be read only once"),
        ("help chek", "there is no command 'chek'; did you mean 'check'?"),
        ("zzz", "there is no command 'zzz'; `postcheck help` shows those that there are"),
        ("airship.post.toml", "what is to be done with 'airship.post.toml'? `postcheck check` judges it, "),
        ("--verson", "there is no option '--verson' before a command; did you mean --version?"),
        ("catalogue wires", "catalogue knows no 'wires'; did you mean 'wire'?"),
        ("catalogue zzz", "catalogue knows no 'zzz'; there is wire, lamp, strip, resistor, fuse, plastic or battery"),
        ("check --formt json x", "check has no option '--formt'; did you mean --format?"),
        ("check x --form=json", "check has no option '--form'; did you mean --format?"),
        ("check x --format jsn", "check knows no --format 'jsn'; did you mean 'json'?"),
        ("check x --format", "check: --format needs a word behind it: text, json, sarif, junit or github; "),
        ("check --output --watch x", "check: --output needs a word behind it; "),
        ("check --watch=yes x", "check: --watch takes no value"),
        ("check -x y", "check has no option '-x'; `postcheck check --help` lists those that there are"),
        ("sheet x --ouput y", "sheet has no option '--ouput'; did you mean --output?"),
        ("sheet", "sheet needs FILE and --output OUT; `postcheck sheet --help` shows how it is typed"),
        ("mend x --yes --dry", "mend: --dry and --yes do not go together"),
        ("plan x --seconds soon", "plan: --seconds: this needs a number, such as 8"),
        ("post x y", "what is 'y' for? post needs no further word; `postcheck post --help` shows how it is typed"),
        ("check \x1b[31m --a\x1b[0m", "check has no option '--a\\x1b[0m'; "),
    ],
)  # fmt: skip
def test_a_mistyped_word_gets_one_line(typed: str, says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(typed.split(" ")) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"postcheck: {says}")
    assert told.err.count("\n") == 1


def test_no_option_is_abbreviated_and_options_stand_anywhere() -> None:
    parser = every_command().parsers["check"]
    told = parser.parse_args(["a", "--format", "json", "b", "-osomewhere", "--", "--c"])
    assert (told.files, told.format, told.output) == (["a", "b", "--c"], "json", "somewhere")
    assert all(not parser.allow_abbrev for parser in parsers())
