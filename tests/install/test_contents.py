"""What wheel and sdist hold, file by file, against what git tracks."""

from __future__ import annotations

import tarfile
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.install.checkout import contents, copied, tracked
from tests.install.conftest import EPOCH, Built, both, made
from tests.install.interpreters import PROJECT

NAME = f"postcheck-{PROJECT['version']}"


def in_wheel(wheel: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def in_sdist(sdist: Path) -> dict[str, bytes]:
    with tarfile.open(sdist) as archive:
        return {
            member.name.removeprefix(f"{NAME}/"): archive.extractfile(member).read()
            for member in archive.getmembers()
        }


def test_the_wheel_is_the_package_with_its_data_and_the_schemas_and_nothing_else(
    built: Built, checkout: Path
) -> None:
    package = [path for path in tracked() if path.startswith("postcheck/")]
    schemas = [path for path in tracked() if path.startswith("schemas/")]
    source = {path: path for path in package} | {f"postcheck/{path}": path for path in schemas}
    held = in_wheel(built.wheel)
    about = {name for name in held if name.startswith(f"{NAME}.dist-info/")}
    assert {name.partition("/")[2] for name in about} == {
        "METADATA", "WHEEL", "RECORD", "entry_points.txt", "licenses/LICENSE",
    }  # fmt: skip
    assert held.keys() - about == source.keys()
    assert [name for name, path in source.items() if held[name] != (checkout / path).read_bytes()] == []


def test_all_in_the_wheel_is_code_or_data_that_the_code_reads_or_a_schema_or_the_type_marker(
    built: Built,
) -> None:
    kinds = {
        ".py": "",
        ".toml": (
            "postcheck/catalogue/data/",
            "postcheck/description/starter.toml",
            "postcheck/limits/limits.toml",
        ),
        ".json": "postcheck/schemas/",
        ".md": "postcheck/guidebook/pages/",
        ".typed": "postcheck/py.typed",
    }
    held = [name for name in in_wheel(built.wheel) if name.startswith("postcheck/")]
    assert {Path(name).suffix for name in held} == kinds.keys()
    assert [name for name in held if not name.startswith(kinds[Path(name).suffix])] == []


def test_the_sdist_is_all_that_git_tracks(built: Built, checkout: Path) -> None:
    held = in_sdist(built.sdist)
    assert held.keys() - {"PKG-INFO"} == set(tracked())
    assert [path for path in tracked() if held[path] != (checkout / path).read_bytes()] == []


def test_a_wheel_made_from_the_sdist_is_the_same_to_the_byte(
    built: Built, tmp_path: Path, environment: dict[str, str]
) -> None:
    assert made(built.sdist, tmp_path, environment, "wheel").read_bytes() == built.wheel.read_bytes()


@pytest.fixture
def littered(tmp_path: Path) -> Path:
    """A checkout that has been worked in: caches, compiled modules, golden files that failed, an earlier build."""
    folder = copied(tmp_path / "worked in")
    for path in (
        "postcheck/__pycache__/plain.cpython-311.pyc",
        "postcheck/catalogue/data/__pycache__/x.pyc",
        "postcheck/.mypy_cache/3.11/cache.json",
        "schemas/__pycache__/x.cpython-312.pyc",
        "tests/.pytest_cache/README.md",
        ".hypothesis/examples/a",
        ".venv/lib/python3.11/site-packages/postcheck/plain.py",
        "build/lib/postcheck/plain.py",
        "dist/postcheck-0.0.1-py3-none-any.whl",
        "postcheck.egg-info/PKG-INFO",
    ):
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(b"left behind")
    return folder


def test_what_work_leaves_behind_gets_into_neither_and_the_same_tree_makes_the_same_bytes(
    built: Built, littered: Path, tmp_path: Path, environment: dict[str, str]
) -> None:
    before = contents(littered)
    again = both(littered, tmp_path, environment)
    assert again.wheel.read_bytes() == built.wheel.read_bytes()
    assert again.sdist.read_bytes() == built.sdist.read_bytes()
    assert contents(littered) == before


def test_files_are_stamped_with_the_day_of_the_source(built: Built) -> None:
    day = datetime.fromtimestamp(int(EPOCH), tz=UTC)
    with zipfile.ZipFile(built.wheel) as wheel, tarfile.open(built.sdist) as sdist:
        assert {item.date_time for item in wheel.infolist()} == {day.timetuple()[:6]}
        assert {item.mtime for item in sdist.getmembers()} == {day.timestamp()}
        assert {(item.uid, item.gid, item.uname) for item in sdist.getmembers()} == {(0, 0, "")}
