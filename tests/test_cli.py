"""The command as people and hooks run it: exit codes, streams, bad files, hostile names."""

from __future__ import annotations

import io
import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

import postcheck
from postcheck import checking
from postcheck.cli import main
from postcheck.cli.talk import on_screen
from postcheck.description.models import Build
from postcheck.report import Report

ROOT = Path(__file__).parent.parent
GOOD = ROOT / "example_builds" / "tender.post.toml"
BAD = ROOT / "tests" / "builds" / "faulty" / "fuse-absent.post.toml"


def run(*arguments: str, stdin: bytes = b"", **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "postcheck", *arguments], input=stdin, capture_output=True, check=False, cwd=ROOT,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), **environment},
    )  # fmt: skip


def test_exit_codes() -> None:
    assert run("check", str(GOOD)).returncode == 0
    assert run("check", str(BAD)).returncode == 1
    assert run("check", str(ROOT / "none.post.toml")).returncode == 2
    assert run("--version").stdout.startswith(b"postcheck ")


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("malformed", b"format = 1\n[build\n", "malformed.post.toml:2:"),
        ("binary", b"\x00\x01\x02\xff", "    Name: file.not-text:"),
        ("empty", b"", "the file is empty"),
        (
            "bare",
            b"format = 1\n[build]\nname = 'a'\n[post]\nfrom='b'\nto='c'\nbore=5\nlength='1 mm'\n",
            ":7:",
        ),
    ],
)
def test_bad_files_get_one_clear_message(tmp_path: Path, name: str, content: bytes, says: str) -> None:
    path = tmp_path / f"{name}.post.toml"
    path.write_bytes(content)
    done = run("check", str(path))
    assert done.returncode == 2
    assert b"Traceback" not in done.stdout + done.stderr
    assert says in done.stdout.decode()


def test_a_folder_stands_for_the_builds_in_it(tmp_path: Path) -> None:
    text = (ROOT / "example_builds" / "tender.post.toml").read_text(encoding="utf-8")
    for name in ("b/two.post.toml", "a one.post.toml", "b/notes.toml", ".old/three.post.toml"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    done = run("check", str(tmp_path), "--format", "json")
    assert done.returncode == 0
    files = [Path(file["file"]).relative_to(tmp_path) for file in json.loads(done.stdout)["files"]]
    assert files == [Path("a one.post.toml"), Path("b/two.post.toml")]


def here(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """A run in this folder."""
    return subprocess.run(
        [sys.executable, "-m", "postcheck", *arguments], stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False,
        cwd=folder, env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


def test_check_alone_looks_in_the_folder_it_stands_in(tmp_path: Path) -> None:
    done = here(tmp_path, "check")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "postcheck: there is no build in this folder, nothing that ends in .post.toml; "
        "`postcheck start NAME.post.toml` writes a first one\n"
    )
    assert here(tmp_path, "start", "tender.post.toml").returncode == 0
    alone, named = here(tmp_path, "check"), here(tmp_path, "check", ".")
    assert alone.returncode == 0
    assert alone.stdout == named.stdout == "Harbour tender, 1:50: clear for planning; closing not judged\n"


def test_a_folder_without_builds_is_said_to_be_one_and_hides_no_other(tmp_path: Path) -> None:
    done = run("check", str(tmp_path), str(GOOD))
    assert done.returncode == 2
    assert done.stderr.decode() == (
        f"postcheck: there is no build in the folder '{tmp_path}', nothing that ends in .post.toml; "
        f"`postcheck start {tmp_path}/NAME.post.toml` writes a first one\n"
    )
    assert done.stdout == b"Harbour tender, 1:50: clear for planning; closing not judged\n"


def test_a_folder_that_is_not_looked_into_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for folder in ("models/inner", "models/shut", "models/.old", "elsewhere"):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / "one.post.toml").write_bytes(GOOD.read_bytes())
    monkeypatch.chdir(tmp_path)
    (tmp_path / "models" / "again").symlink_to("inner")  # looked into under its own name
    assert main(["check", "models"]) == 0
    sound, real = capsys.readouterr(), os.scandir

    def scandir(path: Any = ".") -> Any:
        if os.path.basename(path) == "shut":
            raise PermissionError(13, "Permission denied", path)
        return real(path)

    monkeypatch.setattr(os, "scandir", scandir)
    assert main(["check", "models"]) == 2
    told = capsys.readouterr()
    assert told.err == "postcheck: the folder 'models/shut' was not looked into: permission denied\n"
    assert told.out.splitlines() == sound.out.splitlines()[:1]  # of two, and without a summary
    monkeypatch.setattr(os, "scandir", real)

    (tmp_path / "models" / "linked").symlink_to("../elsewhere")
    (tmp_path / "models" / "hidden").symlink_to(".old")
    assert main(["check", "models"]) == 2
    assert [line.partition("; ")[0] for line in capsys.readouterr().err.splitlines()] == [
        f"postcheck: 'models/{name}' is a link to another folder and was not looked into" for name in ("hidden", "linked")
    ]  # fmt: skip
    assert main(["check", "models/linked"]) == 0


def test_many_clear_builds_share_a_line(tmp_path: Path) -> None:
    for name in ("b", "a"):
        (tmp_path / f"{name}.post.toml").write_bytes(GOOD.read_bytes())
    (tmp_path / "bad.post.toml").write_bytes(BAD.read_bytes())
    done = here(tmp_path, "check", "--quiet", "b.post.toml", "bad.post.toml", "a.post.toml")
    assert done.returncode == 1
    *full, clear, summary = done.stdout.splitlines()
    alone = here(tmp_path, "check", "bad.post.toml").stdout.splitlines()
    assert full[:-1] == alone[:-1]
    assert full[-1].startswith("bad.post.toml: stop: ")
    assert clear == "Clear for planning; closing not judged: b.post.toml, a.post.toml"
    assert summary == "3 files: 2 clear, 1 stop"
    reports = [
        postcheck.check(postcheck.load(tmp_path / f"{name}.post.toml")).files[0] for name in ("a", "bad", "b")
    ]
    seen = postcheck.render(Report(tuple(reports)), width=80, quiet=True).splitlines()
    assert "Harbour tender" not in "\n".join(seen)
    assert " ".join("".join(seen).split()).count("Clear for planning; closing not judged: ") == 1
    # what is told besides is not lost
    tried = here(
        tmp_path, "check", "--quiet", "--with", 'post.bore = "6 mm"', "a.post.toml", "b.post.toml"
    ).stdout
    assert tried.startswith(
        "Clear for planning; closing not judged: a.post.toml (with 1 what-if), b.post.toml (with "
    )
    refused = here(tmp_path, "check", "--quiet", "--format", "json", "a.post.toml")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "--quiet is for text" in refused.stderr


def test_a_bad_file_hides_no_other() -> None:
    done = run("check", "missing.post.toml", str(BAD), str(GOOD))
    assert done.returncode == 2
    text = done.stdout.decode()
    assert "missing.post.toml" in text
    assert "fuse" in text
    assert "Harbour tender, 1:50: clear" in text
    assert "3 files" in text.splitlines()[-1]


def test_standard_input() -> None:
    done = run("check", "-", stdin=GOOD.read_bytes())
    assert (done.returncode, done.stdout) == (
        0,
        b"Harbour tender, 1:50: clear for planning; closing not judged\n",
    )


def test_json_has_the_shape_that_other_programs_rely_on() -> None:
    whole = json.loads(run("check", "--format", "json", str(BAD), str(GOOD)).stdout)
    assert list(whole) == ["postcheck", "format", "files"]
    first = whole["files"][0]
    assert list(first) == [
        "file",
        "verdict",
        "stage",
        "findings",
        "not_judged",
        "limits",
        "what_if",
        "nothing_to_judge",
        "figures",
    ]
    assert list(first["findings"][0]) == [
        "id", "check", "severity", "subject", "says", "why", "remedy", "edits", "where", "figures", "limit",
        "because_of", "accepted", "parts", "remedy_figures",
    ]  # fmt: skip
    assert whole["files"][1]["verdict"] == "clear"
    assert set(whole["files"][1]["figures"]) == {
        "lamps", "supplies", "runs", "passages", "places", "strips", "loads", "circuits", "boards", "strings", "segments",
        "pins", "margins",
    }  # fmt: skip


AIRSHIP = "example_builds/mail_airship.post.toml"


def test_closing_a_place_refuses_until_it_is_proven(tmp_path: Path) -> None:
    refused = run("check", "--closing", "tail", AIRSHIP)
    assert refused.returncode == 1
    assert b"'tail beacon' and 'tail strobe'" in refused.stdout
    proven = tmp_path / "proven.post.toml"
    entry = '\n[[proof]]\nsubject = "{}"\nvolts = "12 V"\ncurrent = "{}"\nhours = "24 h"\n'
    readings = entry.format("tail beacon", "9.7 mA") + entry.format("tail strobe", "13.4 mA")
    proven.write_text((ROOT / AIRSHIP).read_text(encoding="utf-8") + readings, encoding="utf-8")
    assert run("check", "--closing", "tail", str(proven)).returncode == 0
    assert run("check", "--closing", "tail", "--closing", "nose", str(proven)).returncode == 1
    assert run("check", "--for", "closing", str(proven)).returncode == 1


def test_closing_a_place_that_is_not_there_is_bad_usage_and_hides_no_other_file() -> None:
    done = run("check", "--closing", "tial", AIRSHIP)
    assert (done.returncode, done.stdout) == (2, b"")
    assert b"mail_airship.post.toml: there is no place 'tial'; did you mean 'tail'?" in done.stderr
    both = run("check", "--closing", "tail", AIRSHIP, str(GOOD))
    assert both.returncode == 2
    assert b"closing.unproven" in both.stdout
    assert b"tender.post.toml: there is no place 'tail'" in both.stderr


def test_output_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    kept = tmp_path / "report.json"
    assert run("check", "--format", "json", "--output", str(kept), str(GOOD)).returncode == 0
    assert json.loads(kept.read_text())["files"][0]["verdict"] == "clear"
    assert run("check", "--output", str(tmp_path / "no" / "where"), str(GOOD)).returncode == 2
    assert [path.name for path in tmp_path.iterdir()] == ["report.json"]


def test_start_writes_a_build_that_passes_and_overwrites_nothing(tmp_path: Path) -> None:
    path = tmp_path / "new.post.toml"
    assert run("start", str(path)).returncode == 0
    assert run("check", "--fail-on", "caution", str(path)).returncode == 0
    before = path.read_bytes()
    done = run("start", str(path))
    assert done.returncode == 2
    assert b"already there" in done.stderr
    assert path.read_bytes() == before


def test_start_prints_a_build_for_a_pipe(tmp_path: Path) -> None:
    done = here(tmp_path, "start", "-")
    assert (done.returncode, done.stderr) == (0, "")
    assert run("check", "-", stdin=done.stdout.encode()).returncode == 0
    assert not list(tmp_path.iterdir())


def test_start_leaves_nothing_where_the_disk_is_full(tmp_path: Path) -> None:
    done = shell(f"cd {tmp_path}; ulimit -f 0; {sys.executable} -m postcheck start a.post.toml")
    assert done.returncode == 2
    assert b"'a.post.toml' cannot be written: file too large" in done.stderr
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "words", ["sheet $GOOD -o x.pdf", "sheet $GOOD -o x.pdf --format html", "sheet $GOOD -o x.odt"]
)
def test_a_sheet_is_not_written_as_what_it_is_not(words: str, tmp_path: Path) -> None:
    done = shell(f"cd {tmp_path}; {sys.executable} -m postcheck {words}")
    assert (done.returncode, done.stdout) == (2, b"")
    says = (
        b"open it in the browser and print it to PDF"
        if b"pdf" in words.encode()
        else b"HTML, Markdown or CSV"
    )
    assert says in done.stderr
    assert not list(tmp_path.iterdir())


def test_explain_and_catalogue() -> None:
    assert b"lamp.no-resistor" in run("explain").stdout
    assert b"Source" in run("explain", "lamp.over-rating").stdout
    done = run("explain", "lamp.over-ratng")
    assert done.returncode == 2
    assert b"did you mean 'lamp.over-rating'" in done.stderr
    assert b"enamel-0.10 " in run("catalogue", "wire").stdout


def test_a_wall_of_sources_is_folded_and_named() -> None:
    short = run("catalogue", "lamp").stdout
    assert b"sources: --sources" in short
    assert b"(1)" not in short
    whole = run("catalogue", "lamp", "--sources").stdout
    assert b"\nSources\n(1) " in whole
    assert all(
        row["source"]
        for row in json.loads(run("catalogue", "lamp", "--format", "json").stdout)["catalogue"]["lamp"]
    )
    assert b"\nSources\n(1) " in run("catalogue", "lamp", "--matching", "0402-red").stdout


def test_post_draws_in_words_where_nothing_can_be_drawn() -> None:
    done = run("post", str(GOOD))
    assert (done.returncode, done.stderr) == (0, b"")
    text = done.stdout.decode("ascii")
    assert text.startswith("Post, 4 mm bore: 2 conductors, all fit. Harbour tender, 1:50 (")
    assert "A further wire of up to " in text
    assert run("post", "-", stdin=GOOD.read_bytes()).stdout.decode() == text.replace(str(GOOD), "-")


def test_post_writes_a_drawing_whole_or_not_at_all(tmp_path: Path) -> None:
    kept = tmp_path / "post.svg"
    done = run("post", str(GOOD), "--svg", str(kept))
    assert (done.returncode, done.stdout.decode()) == (0, f"Wrote {kept}.\n")
    assert ElementTree.fromstring(kept.read_bytes()).tag == "{http://www.w3.org/2000/svg}svg"
    assert run("post", str(GOOD), "--svg", str(tmp_path / "no" / "where.svg")).returncode == 2
    assert [path.name for path in tmp_path.iterdir()] == ["post.svg"]


def test_post_says_what_it_cannot_draw(tmp_path: Path) -> None:
    bare = tmp_path / "bare.post.toml"
    bare.write_text('format = 1\n[build]\nname = "a"\n')
    arms = tmp_path / "arms.post.toml"
    arm = 'from = "a"\nto = "b"\nbore = "2 mm"\nlength = "9 mm"\n'
    arms.write_text(
        'format = 1\n[build]\nname = "a"\n[place.a]\naccess = "open"\n[place.b]\naccess = "open"\n'
        f"[passage.mast]\n{arm}[passage.boom]\n{arm}"
    )
    for arguments, says in [
        ((str(bare),), "there is nothing to draw: it has no [post] and no [passage.NAME]"),
        ((str(arms), "--passage", "post"), "it has no [post]; it has 'mast', 'boom'"),
        ((str(arms), "--passage", "mats"), "there is no passage 'mats'; did you mean 'mast'?"),
        ((str(GOOD), "--passage", "\x1bx"), "there is no passage '\\x1bx'; it has 'post'"),
        (
            (str(tmp_path / "none.post.toml"),),
            "none.post.toml': there is no such file; check the name and the folder\n",
        ),
        ((str(tmp_path),), "': this is a folder; name the build file in it\n"),
    ]:
        done = run("post", *arguments)
        assert (done.returncode, done.stdout) == (2, b""), arguments
        assert says in done.stderr.decode()
    both = run("post", str(arms)).stdout.decode()
    assert "Passage 'mast', 2 mm bore: nothing lies in it." in both
    assert "Passage 'boom'" in both
    assert "boom" not in run("post", str(arms), "--passage", "mast").stdout.decode()


@pytest.mark.parametrize(
    ("environment", "drawn", "colour"),
    [
        ({"TERM": "xterm-256color"}, True, True),
        ({"TERM": "xterm-256color", "NO_COLOR": "1"}, True, False),
        ({"TERM": "xterm-256color", "PYTHONIOENCODING": "ascii"}, False, False),
        ({"TERM": "dumb"}, True, False),
    ],
)
def test_post_on_a_terminal(environment: dict[str, str], drawn: bool, colour: bool) -> None:
    here, there = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "postcheck", "post", str(GOOD)], stdout=there, stderr=subprocess.PIPE, cwd=ROOT,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", "COLUMNS": "80", **environment},
    )  # fmt: skip
    os.close(there)
    shown = b""
    while True:
        try:
            piece = os.read(here, 65536)
        except OSError:  # Linux: the other side has gone
            break
        if not piece:
            break
        shown += piece
    os.close(here)
    assert process.communicate()[1] == b""
    assert process.returncode == 0
    assert any(0x2800 < ord(sign) <= 0x28FF for sign in shown.decode()) == drawn
    assert (b"\x1b[38;5;" in shown or b"\x1b[1m" in shown) == colour
    if not drawn:
        assert shown.isascii()


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_any_stream_can_be_written_to(encoding: str) -> None:
    done = run("check", str(BAD), PYTHONIOENCODING=encoding)
    assert done.returncode == 1
    done.stdout.decode(encoding)


def test_hostile_names_are_made_harmless(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    text = GOOD.read_text().replace(
        "Harbour tender, 1:50", "\\u001b[31m[/x]\\n::error::\\u202e boo" + "x" * 100
    )
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
    assert main(["check", "-"]) == 0
    shown = capsys.readouterr().out
    assert not any(ord(character) < 32 and character != "\n" for character in shown)
    assert "\u202e" not in shown
    assert not any(line.startswith("::") for line in shown.splitlines())


def test_no_number_is_given_for_a_lamp_that_is_destroyed() -> None:
    path = ROOT / "tests" / "builds" / "faulty" / "lamp-no-resistor.post.toml"
    whole = json.loads(run("check", "--format", "json", str(path)).stdout)
    fates = [lamp.get("fate") for lamp in whole["files"][0]["figures"]["lamps"].values()]
    assert "destroyed" in fates


def shell(line: str) -> subprocess.CompletedProcess[bytes]:
    """Run a line of shell in which $CHECK is the command, $BAD a faulty build and $GOOD a sound one."""
    return subprocess.run(
        ["/bin/sh", "-c", line], capture_output=True, check=False, cwd=ROOT, timeout=60,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), "CHECK": f"{sys.executable} -m postcheck check", "BAD": str(BAD), "GOOD": str(GOOD)},
    )  # fmt: skip


def test_a_reader_that_has_gone_does_not_change_the_verdict() -> None:
    read, write = os.pipe()
    os.close(read)  # gone before the first word
    for path, code in ((BAD, 1), (GOOD, 0)):
        done = subprocess.run(
            [sys.executable, "-m", "postcheck", "check", str(path)], stdout=write, stderr=subprocess.PIPE,
            check=False, cwd=ROOT, env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT)},
        )  # fmt: skip
        assert (done.returncode, done.stderr) == (code, b"")
    os.close(write)


@pytest.mark.parametrize(
    "line",
    [
        "$CHECK $BAD >/dev/full",
        "$CHECK $BAD >&-",
        "$CHECK --format json $GOOD >&-",
        "$CHECK --help >/dev/full",
        "${CHECK%check} --version >/dev/full",
        "${CHECK%check} post $GOOD >&-",
        "${CHECK%check} reach $GOOD 'cabin lamps' >&-",
    ],
)
def test_a_report_that_cannot_be_written_is_said(line: str) -> None:
    done = shell(line)
    assert done.returncode == 2
    assert done.stderr.startswith(b"postcheck: cannot write the report: ")
    assert done.stderr.count(b"\n") == 1


def test_an_unbuffered_report_is_whole_or_said_to_be_cut() -> None:
    """Containers like to set PYTHONUNBUFFERED: then one write may take less than it was given."""
    whole = run("check", "--format", "json", *[str(BAD)] * 40).stdout
    assert len(whole) > 2**16  # more than a pipe takes at once
    read, write = os.pipe()
    os.set_blocking(write, False)
    with subprocess.Popen(
        [sys.executable, "-m", "postcheck", "check", "--format", "json", *[str(BAD)] * 40], stdout=write, cwd=ROOT,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"},
    ) as slow:  # fmt: skip
        os.close(write)
        with os.fdopen(read, "rb") as reader:
            assert reader.read() == whole
        assert slow.wait() == 1
    full = shell(
        "ulimit -f 8; export PYTHONUNBUFFERED=1; $CHECK --format json " + "$BAD " * 40 + '>"$(mktemp)"'
    )
    assert full.returncode == 2
    assert full.stderr.startswith(b"postcheck: cannot write the report: ")


@pytest.mark.parametrize("command", ["check", "compare $BAD", "post", "sheet"])
def test_complaints_that_nobody_hears_are_no_crash(command: str) -> None:
    for closed in ("2>&-", "2>/dev/full"):
        done = shell(f"{sys.executable} -m postcheck {command} none.post.toml {closed}")
        assert done.returncode == 2


def test_a_folder_that_has_been_taken_away_is_no_crash() -> None:
    for line in (
        "check - <$GOOD",
        "check --format sarif $GOOD",
        "check --format github $GOOD",
        "compare $GOOD $GOOD",
    ):
        done = shell(f'cd "$(mktemp -d)" && rmdir "$PWD" && {sys.executable} -m postcheck {line}')
        assert (done.returncode, done.stderr) == (0, b"")
    used = shell(
        f'cd "$(mktemp -d)" && rmdir "$PWD" && (echo \'use = ["a.toml"]\'; cat $GOOD) | {sys.executable} -m postcheck check -'
    )
    assert used.returncode == 2


def test_closed_streams_are_no_crash() -> None:
    done = shell("$CHECK - <&-")
    assert done.returncode == 2
    assert b"standard input is closed" in done.stdout
    assert shell("$CHECK --today never $GOOD >&- 2>&-").returncode == 2


def test_a_pipe_named_as_a_file_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "p.post.toml")
    for path in (tmp_path / "p.post.toml", Path("/dev/null")):
        done = run("check", str(path))
        assert done.returncode == 2
        assert b"a pipe or a device" in done.stdout


def test_colour_when_it_is_forced_moves_nothing() -> None:
    plain = run("check", str(BAD)).stdout.decode()
    painted = run("check", str(BAD), FORCE_COLOR="1").stdout.decode()
    assert "\x1b[1;31mstop\x1b[0m" in painted
    assert painted.splitlines()[0].startswith(f"{BAD}:")
    assert re.sub("\x1b\\[[0-9;]*m", "", painted) == plain
    assert run("check", str(BAD), FORCE_COLOR="1", NO_COLOR="1").stdout.decode() == plain
    assert b"\x1b" not in run("check", "--format", "json", str(BAD), FORCE_COLOR="1").stdout


def test_a_bug_of_ours_at_one_file_hides_no_other(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    sound = checking.check

    def breaks(build: Build, **options: Any) -> Report:
        if build.file == str(BAD):
            raise ZeroDivisionError("float division by zero")
        return sound(build, **options)

    monkeypatch.setattr(checking, "check", breaks)
    assert main(["check", str(BAD), str(GOOD)]) == 70
    shown = capsys.readouterr()
    assert "Harbour tender, 1:50: clear" in shown.out
    assert "a bug of ours" in shown.err
    assert BAD.name in shown.err
    # of what could not be judged nothing is written that looks like a report
    there = tmp_path / "report.json"
    assert main(["check", "--format", "json", "--output", str(there), str(BAD)]) == 70
    assert not there.exists()


def test_effort_is_quick_or_long() -> None:
    assert run("check", "--effort", "long", str(GOOD)).returncode == 0
    assert run("check", "--effort", "endless", str(GOOD)).returncode == 2


def test_a_piped_finding_is_its_place_its_weight_and_its_sentence_with_the_name_below() -> None:
    bad = ROOT / "tests" / "builds" / "faulty" / "lamp-over-rating.post.toml"
    lines = run("check", str(bad)).stdout.decode().splitlines()
    # an editor jumps by the first three, parted by colons
    place, weight, says = lines[0].split("  ", 2)
    path, line, column = place.rsplit(":", 2)
    assert (path, weight) == (str(bad), "stop")
    assert bad.read_text(encoding="utf-8").splitlines()[int(line) - 1][int(column) - 1 :].startswith("lamp]]")
    assert says.endswith("Its rating is 20 mA.")
    names = [one.strip().removeprefix("Name: ") for one in lines if one.strip().startswith("Name: ")]
    assert names[0].startswith("lamp.over-rating:")
    for name in names:  # nowhere else
        assert sum(name in one for one in lines) - sum(f"Follows from: {name}" in one for one in lines) == 1
        assert f"[{name.partition(':')[0]}]" not in "\n".join(lines)


def test_on_a_terminal_no_line_of_an_answer_or_a_complaint_is_wider(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setenv("COLUMNS", "60")
    text = "postcheck: " + "there is no part of that name in this build; " * 4
    folded = on_screen(text, Terminal()).split("\n")
    assert max(map(len, folded)) <= 60 < len(text)
    assert " ".join(line.strip() for line in folded) == text.strip()
    assert on_screen(text, io.StringIO()) == text
