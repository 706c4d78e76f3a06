"""Coverage-guided fuzzing: `python -m tests.fuzz.guided reading|whole FOLDER [libFuzzer's own options]`.

`reading` is `postcheck.loads`, `whole` goes on through every renderer. FOLDER keeps what reached new code, from run to
run; it begins with the corpus beside this file and the example builds. An input that fails is written to the folder one
is in, with its traceback: it goes into `corpus/` once it is mended.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import atheris

# Sums and searches take most of the time, and what of them a text reaches is not for its bytes to say.
SLOW = ["postcheck.physics", "postcheck.survey", "postcheck.rules", "postcheck.renderers.explain"]
with atheris.instrument_imports(include=["postcheck", "tomli"], exclude=SLOW):
    from tests.fuzz.whole_way import read, text_of, whole

HERE = Path(__file__).parent
SEEDS = [
    *(HERE / "corpus").iterdir(),
    *(HERE.parents[1] / "example_builds").glob("*.post.toml"),
    *(HERE.parent / "builds" / "sound").glob("*.post.toml"),
]
DOORS = {"reading": read, "whole": whole}


def main(door: str, folder: str, *options: str) -> None:
    """Fuzz until libFuzzer is told to stop, or something fails."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    for seed in SEEDS:
        shutil.copy(seed, Path(folder) / seed.name)
    take = DOORS[door]
    atheris.Setup([sys.argv[0], folder, *options], lambda data: take(text_of(data)))
    atheris.Fuzz()


if __name__ == "__main__":
    main(*sys.argv[1:])
