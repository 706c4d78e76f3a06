"""Sound builds of which something is taken away: never a refusal for what is missing, never a fault that the whole has not."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import tomli
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import postcheck
from postcheck.checking import sheet_of
from postcheck.reading.loading import built
from postcheck.report import FileReport
from postcheck.wiring import resolve
from tests.write_expected import TODAY

HERE = Path(__file__).parent
MOST_LAMPS = 40  # beyond that a trial takes its time
TABLES: dict[str, dict[str, Any]] = {}
for path in sorted(
    [*(HERE / "builds" / "sound").glob("*.post.toml"), *(HERE.parent / "example_builds").glob("*.post.toml")]
):
    tables = tomli.loads(path.read_text(encoding="utf-8"))
    records = tables.keys() & {"use", "proof", "accept"}  # of a build that is tested nothing is missing
    if tables.get("run") and not records and len(tables.get("lamp", ())) <= MOST_LAMPS:
        TABLES[path.name] = tables


def plain(tables: dict[str, Any]) -> bool:
    """Whether each run is the only way of its line: of two side by side the other has more to carry without one."""
    ways = [(run.get("line"), *sorted(run["ends"])) for run in tables["run"]]
    return len(set(ways)) == len(ways) and resolve(built(copy.deepcopy(tables))).wires.is_tree


PLAIN = sorted(name for name, tables in TABLES.items() if plain(tables))


def judged(whole: dict[str, Any]) -> FileReport:
    return postcheck.check(built(copy.deepcopy(whole)), remedies=False, today=TODAY).files[0]


def test_there_is_something_to_take_away() -> None:
    assert len(TABLES) >= 100
    assert len(PLAIN) >= 80


@st.composite
def without_runs(draw: st.DrawFn) -> tuple[str, dict[str, Any]]:
    """A sound build without some of its runs."""
    name = draw(st.sampled_from(PLAIN))
    half = copy.deepcopy(TABLES[name])
    kept = draw(st.lists(st.booleans(), min_size=len(half["run"]), max_size=len(half["run"])))
    passages = [half.get("post", {}), *half.get("passage", {}).values()]
    listed = {one for passage in passages for one in passage.get("through", ())}  # a passage names it
    half["run"] = [
        run for run, keep in zip(half["run"], kept, strict=True) if keep or run.get("name") in listed
    ]
    return name, half


SLOW = settings(
    max_examples=150,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
# Where nothing is lost on the way each lamp gets the most that it can. What that alone brings about tells of too much.
TOO_MUCH = (
    "lamp.over-rating",
    "load.volts-high",
    "resistor.overloaded",
    "place.",
    "fuse.too-small",
    "supply.",
    "part.",
)
BY_THE_DROP = 1.02


@given(case=without_runs())
@SLOW
def test_a_sound_build_without_some_runs_is_asked_about_and_has_no_fault(
    case: tuple[str, dict[str, Any]],
) -> None:
    name, half = case
    whole, told = judged(TABLES[name]), judged(half)
    wiring = resolve(built(copy.deepcopy(half)))
    lamps = {lamp: row["nominal"] for lamp, row in whole.figures["lamps"].items()}
    more = [
        row["nominal"] / before
        for lamp, row in told.figures["lamps"].items()
        if row["nominal"] is not None and (before := lamps[lamp])
    ]
    assert all(0.99 <= share <= 1.35 for share in more)  # they differ by the drop alone
    new = {one.id for one in told.findings} - {one.id for one in whole.findings}
    if max(more, default=1.0) > BY_THE_DROP:
        new = {one for one in new if not one.startswith(TOO_MUCH)}
    assert new == set()
    if wiring.unbuilt:
        assert told.verdict in ("incomplete", "stop")
        asked = [one for one in told.not_judged if "nothing carries it there yet" in one.what]
        assert len(asked) == len({(one.line, one.start, one.place, one.joined) for one in wiring.unbuilt})


@given(case=without_runs())
@settings(SLOW, max_examples=60)
def test_what_is_asked_for_makes_it_whole(case: tuple[str, dict[str, Any]]) -> None:
    """All runs that are asked for, laid as they are asked for: nothing more is."""
    _, half = case
    wiring = resolve(built(copy.deepcopy(half)))
    for one in wiring.unbuilt:
        run = {"line": one.line, "ends": [one.start, one.place], "length": "2 m", "wire": "ptfe-24"}
        if one.hops > 1 and one.through:
            run["through"] = list(one.through)
        half["run"].append(run)
    again = resolve(built(half))
    assert not again.unbuilt
    assert not any(leg.joint not in again.built for one in again.every_consumer for leg in one.legs)


@st.composite
def cut_down(draw: st.DrawFn) -> dict[str, Any]:
    """A sound build without some runs, resistors, volts, supplies of circuits, and tables of circuits."""
    half = copy.deepcopy(TABLES[draw(st.sampled_from(sorted(TABLES)))])
    for _ in range(draw(st.integers(1, 4))):
        what = draw(
            st.sampled_from(
                ["runs", "run", "resistor", "volts", "supply", "circuit", "board", "lamp's circuit"]
            )
        )
        lamps = [lamp for lamp in half.get("lamp", ()) if "resistor" in lamp]
        if what == "runs":
            half["run"] = []
        elif what == "run" and half["run"]:
            half["run"].pop(draw(st.integers(0, len(half["run"]) - 1)))
        elif what == "resistor" and lamps:
            draw(st.sampled_from(lamps)).pop("resistor")
        elif what == "volts":
            draw(st.sampled_from(list(half["supply"].values()))).pop("volts", None)
        elif what == "lamp's circuit" and half.get("lamp"):
            draw(st.sampled_from(half["lamp"])).pop("circuit", None)
        elif half.get("circuit"):
            name = draw(st.sampled_from(sorted(half["circuit"])))
            if what == "circuit":
                half["circuit"].pop(name)
            else:
                half["circuit"][name].pop(what if what == "board" else "supply", None)
    return half


@given(half=cut_down(), stage=st.sampled_from(["planning", "wiring", "closing"]), remedies=st.booleans())
@SLOW
def test_whatever_is_missing_gets_a_verdict_and_a_sheet(
    half: dict[str, Any], stage: Any, remedies: bool
) -> None:
    try:
        build = built(half)
    except postcheck.BuildError as refused:
        told = {one.check for one in refused.problems}
        # names that nothing describes any more, what a battery needs, and colours of one lamp on both sides
        if told <= {"file.unknown-name", "file.missing", "file.invalid"}:
            return
        raise
    told = postcheck.check(build, stage=stage, remedies=remedies, today=TODAY).files[0]
    apart = resolve(build).parts.apart
    if resolve(build).unbuilt or apart:
        assert told.verdict in ("incomplete", "stop")
    assert not {part.name for part in apart} & told.figures["lamps"].keys()
    for part in apart:  # asked of itself, its circuit, its supply or what feeds that
        about = [part.circuit, part.name, resolve(build).drivers[part.circuit].supply]
        while about[-1] is not None:
            about.append(build.supply[about[-1]].fed_by)
        assert any(one.vital and one.subject in about for one in told.not_judged), part.name
    assert sheet_of(build, today=TODAY) is not None
