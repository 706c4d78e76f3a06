"""The package run from a zip, as the wheel is one: its data are read through the importer and not through the file system."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.install.checkout import ROOT
from tests.install.conftest import Built


def test_the_wheel_runs_as_it_is(built: Built, tmp_path: Path) -> None:
    def zipped(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, *words], cwd=tmp_path, capture_output=True, text=True, check=False,
            env={**os.environ, "PYTHONPATH": str(built.wheel)},
        )  # fmt: skip

    assert zipped("-c", "import postcheck; print(postcheck.__file__)").stdout.startswith(str(built.wheel))
    airship = ROOT / "example_builds" / "mail_airship.post.toml"
    done = zipped("-m", "postcheck", "check", str(airship))
    assert (done.returncode, done.stdout) == (
        0,
        "Mail airship, 1:144: clear for wiring; closing not judged\n",
    ), done.stderr
    assert "ptfe-28" in zipped("-m", "postcheck", "catalogue", "wire").stdout
    for topic, told in (("words", "# Words"), ("lamp", "`[[lamp]]`"), ("cable", "`[cable.NAME]`")):
        assert told in zipped("-m", "postcheck", "guide", topic).stdout
    assert zipped("-m", "postcheck", "start").returncode == 0
    assert zipped("-m", "postcheck", "check", "my-model.post.toml").returncode == 0
