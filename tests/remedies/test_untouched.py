"""What a trial takes over from the survey of the build as it is would be the same computed anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

import postcheck
from postcheck.survey import Survey
from postcheck.survey.untouched import untouched
from tests.write_expected import FAULTY, TODAY, to_be_closed

if TYPE_CHECKING:
    import pytest

SECTIONS = ("electrics", "passages", "in_use", "places", "spots", "hot_spots", "batteries", "poor_light")


def test_shared_sections_are_as_computed_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    shared: dict[str, int] = {}
    again = Survey.again

    def compared(self: Survey, build: object = None, limits: object = None, changed: object = None) -> Survey:
        paths = tuple(changed) if changed is not None else None
        other = again(self, build, limits, paths)
        anew = again(self, build, limits)
        for name in SECTIONS:
            if name in vars(other):
                assert getattr(other, name) == getattr(anew, name), (name, paths)
                shared[name] = shared.get(name, 0) + 1
        return other

    monkeypatch.setattr(Survey, "again", compared)
    for path in sorted(FAULTY.glob("*.post.toml")):
        postcheck.check(postcheck.load(path), closing=to_be_closed(path), today=TODAY)
    assert shared.keys() >= {"electrics", "in_use", "places", "poor_light"}
    assert shared["electrics"] >= 50


def test_what_carries_current_is_computed_anew() -> None:
    assert "electrics" not in untouched([("post", "slack"), ("lamp", 0, "resistor")])
    assert "passages" not in untouched([("post", "slack")])
    assert "faults" not in untouched([("supply", "main", "fuse")])


def test_what_each_change_leaves_as_it_is() -> None:
    """A fuse all but what it guards, a passage all but what lies in it, another value nothing but how colours look; of several, what each leaves."""
    currents = {"electrics", "places", "spots", "hot_spots", "batteries"}
    for paths, kept in (
        ([("supply", "main", "fuse")], currents | {"passages", "in_use"}),
        ([("supply", "main", "fuse", "rated")], currents | {"passages", "in_use"}),
        ([("supply", "main", "rated")], set()),
        ([("lamp", 0, "fuse")], set()),
        ([("post", "bore")], currents),
        ([("passage", "arm", "bore")], currents),
        ([("supply", "main", "fuse"), ("passage", "arm", "bore")], currents),
        ([("passage", "arm", "bore"), ("lamp", 0, "resistor")], set()),
        ([], currents | {"passages", "in_use"}),
    ):
        assert untouched(paths) == kept | {"poor_light"}
