"""The guide's ways to install, from a checkout, as they stand there; each leaves the checkout as it was."""

from __future__ import annotations

import os
import re
import sysconfig
from pathlib import Path

import pytest
from uv import find_uv_bin

import postcheck
from tests.install.checkout import away_from_home, contents, copied, run
from tests.pages import blocks

WAYS = {block.text.split()[0]: block.text for block in blocks("sh") if block.page == "install.md"}
COMMANDS = {
    "python3": "postcheck/bin/postcheck",
    "pipx": ".local/bin/postcheck",
    "uv": ".local/bin/postcheck",
}  # from home


def test_three_ways_are_told() -> None:
    assert WAYS.keys() == COMMANDS.keys()


@pytest.mark.parametrize("way", WAYS)
def test_a_way_to_install_ends_in_a_report(way: str, tmp_path: Path, caches: Path) -> None:
    checkout, home = copied(tmp_path / "checkout"), tmp_path / "home"
    home.mkdir()
    before = contents(checkout)
    ours = [sysconfig.get_path("scripts"), str(Path(find_uv_bin()).parent)]
    env = away_from_home(home, caches)
    env["PATH"] = os.pathsep.join([str(home / ".local" / "bin"), *ours, os.environ["PATH"]])
    told = run("sh", "-euc", WAYS[way], here=checkout, env=env)
    assert re.search(r"^Harbour tender, 1:50: clear for planning; closing not judged$", told, re.MULTILINE), (
        told
    )
    assert run(home / COMMANDS[way], "--version", here=tmp_path, env=env).split() == [
        "postcheck",
        postcheck.__version__,
    ]
    assert contents(checkout) == before
