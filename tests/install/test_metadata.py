"""What the wheel says of itself, read by the rules of the core metadata specification (`packaging`)."""

from __future__ import annotations

import configparser
import zipfile

import pytest
from packaging.metadata import Metadata
from packaging.requirements import Requirement

import postcheck
from tests.install.checkout import ROOT
from tests.install.conftest import Built
from tests.install.interpreters import declared


@pytest.fixture(scope="module")
def about(built: Built) -> dict[str, bytes]:
    with zipfile.ZipFile(built.wheel) as wheel:
        inside = [name for name in wheel.namelist() if ".dist-info/" in name]
        return {name.partition("/")[2]: wheel.read(name) for name in inside}


@pytest.fixture(scope="module")
def metadata(about: dict[str, bytes]) -> Metadata:
    return Metadata.from_email(about["METADATA"], validate=True)


def test_name_version_and_licence(metadata: Metadata, about: dict[str, bytes]) -> None:
    assert (metadata.name, str(metadata.version)) == ("postcheck", postcheck.__version__)
    assert (metadata.license_expression, metadata.license_files) == ("MIT", ["LICENSE"])
    assert about["licenses/LICENSE"] == (ROOT / "LICENSE").read_bytes()


def test_the_readme_is_the_long_description(metadata: Metadata) -> None:
    assert metadata.description == (ROOT / "README.md").read_text(encoding="utf-8")
    assert metadata.description_content_type == "text/markdown"


def test_three_packages_are_needed_and_the_tools_of_development_are_not(metadata: Metadata) -> None:
    needs = metadata.requires_dist or []
    assert {need.name for need in needs if need.marker is None} == {"pydantic", "tomli", "rich"}
    assert metadata.provides_extra == ["dev"]
    assert {str(need.marker) for need in needs if need.marker is not None} == {'extra == "dev"'}
    assert len({(need.name, str(need.marker)) for need in needs}) == len(needs)
    assert all(isinstance(need, Requirement) and need.url is None for need in needs)


def test_the_oldest_python_that_is_let_in_is_the_oldest_that_is_declared(metadata: Metadata) -> None:
    assert metadata.requires_python is not None
    oldest, newest = (int(version.partition(".")[2]) for version in (declared()[0], declared()[-1]))
    let_in = [version for version in range(newest + 1) if metadata.requires_python.contains(f"3.{version}.0")]
    assert let_in == list(range(oldest, newest + 1)) == [int(v.partition(".")[2]) for v in declared()]


def test_the_wheel_is_for_every_machine_and_gives_one_command(about: dict[str, bytes]) -> None:
    wheel = about["WHEEL"].decode()
    assert "Root-Is-Purelib: true" in wheel
    assert "Tag: py3-none-any" in wheel
    points = configparser.ConfigParser()
    points.read_string(about["entry_points.txt"].decode())
    assert {section: dict(points[section]) for section in points.sections()} == {
        "console_scripts": {"postcheck": "postcheck.cli:run"}
    }
