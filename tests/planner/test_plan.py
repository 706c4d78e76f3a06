"""Plans: each is written into its wish, read again and judged; none is worse than what a hand made."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import tomli

import postcheck
from postcheck.description.problems import BuildError
from postcheck.planner import plan
from postcheck.planner.cost import conductors
from postcheck.planner.planning import found, survey_of
from postcheck.reading.loading import built
from tests.planner.wishes import random_wish, stripped, toml

HERE = Path(__file__).parents[2]
EXAMPLES = sorted((HERE / "example_builds").glob("*.toml"))
SOUND = sorted((HERE / "tests" / "builds" / "sound").glob("*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_planned_anew_is_no_worse_than_the_hand_made_one(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    by_hand = postcheck.loads(text)
    planned = found(survey_of(built(stripped(tomli.loads(text)))))
    assert planned.build is not None
    spares = sum(run.spare for run in by_hand.run)
    assert conductors(planned.build)["post"] <= conductors(by_hand)["post"] - spares
    assert all(run.wire in (None, by_hand.usual.run) for run in planned.build.run)


def _read(text: str) -> postcheck.FileReport:
    return postcheck.check(postcheck.loads(text), stage="wiring").files[0]


@pytest.mark.parametrize("seed", range(40))
def test_what_is_written_is_clear_and_keeps_every_line_of_the_wish(seed: int) -> None:
    chance = random.Random(seed)
    wish = toml(
        random_wish(
            seed, circuits=chance.randint(1, 5), leds=chance.randint(1, 16), bodies=chance.randint(1, 4),
            passages=chance.randint(1, 3),
        )
    )  # fmt: skip
    build = postcheck.loads(wish)
    planned = plan(build, seconds=60.0)
    if planned.verdict is None:
        pytest.fail(f"no plan: {[one.says for one in planned.blocks]} {planned.asks} {planned.missing}")
    assert planned.text is not None
    assert _read(planned.text).verdict == "clear"
    assert (
        postcheck.loads(planned.text) == found(survey_of(build), 60.0).build
    )  # what was judged is what is written
    assert sum(one.parallel * one.series for one in planned.lamps) == sum(
        lamp.count or 1 for lamp in build.lamp
    )
    kept = iter(planned.text.splitlines())
    lost = [
        line for line in wish.splitlines() if not line.startswith(("count", "leads")) and line not in kept
    ]
    assert lost == []  # in their order, and each as it was


def test_nearly_every_sound_build_is_planned_anew_from_what_is_left_without_its_wiring() -> None:
    tried, none = 0, []
    for path in SOUND:
        tables = tomli.loads(path.read_text(encoding="utf-8"))
        bodies = any(
            run.get("body") for run in tables.get("run", [])
        )  # the metal of a post is no choice of a plan
        if "use" in tables or bodies:
            continue
        try:
            wish = built(stripped(tables))
        except BuildError:
            continue
        tried += 1
        planned = found(survey_of(wish))
        if planned.build is None:
            none.append(path.stem)
    assert tried > 100
    assert len(none) <= 0.02 * tried, none


def test_a_bore_that_is_too_narrow_is_told_with_one_that_would_do() -> None:
    tables = random_wish(3, circuits=4, leds=8, bodies=2)
    tables["post"] |= {"bore": "0.1 mm"}
    planned = plan(built(tables), seconds=60.0)
    assert planned.verdict is None
    assert any(one.check == "passage.cannot-fit" and one.proven for one in planned.blocks)
    (bore,) = [one.says.split("bore of ")[1].split(" in")[0] for one in planned.frees if "bore" in one.says]
    assert plan(built(tables | {"post": tables["post"] | {"bore": bore}})).verdict == "clear"
    narrower = f"{0.8 * float(bore.split()[0]):.2f} mm"
    assert plan(built(tables | {"post": tables["post"] | {"bore": narrower}})).verdict is None


def test_a_place_that_nothing_leads_to_is_asked_for_with_the_lines_to_type() -> None:
    tables = random_wish(5, circuits=2, leds=3, bodies=1)
    tables.pop("way")
    planned = plan(built(tables))
    assert planned.verdict is None
    assert planned.missing
    assert planned.missing[0].lines[0] == "[[way]]"


def test_an_aim_that_counts_first_is_met_no_worse() -> None:
    tables = random_wish(21, circuits=3, leds=9, bodies=2, passages=2)
    tables["post"] |= {"bore": "2 mm"}
    plans = {aim: found(survey_of(built(tables)), 30.0, aims=[aim]).build for aim in ("conductors", "wire")}
    counts = {aim: sum(conductors(build).values()) for aim, build in plans.items() if build is not None}
    unusual = {
        aim: sum(run.wire not in (None, build.usual.run) for run in build.run)
        for aim, build in plans.items()
        if build is not None
    }
    assert counts["conductors"] <= counts["wire"]
    assert unusual["wire"] <= unusual["conductors"]


def test_an_aim_that_nobody_knows_is_refused() -> None:
    with pytest.raises(ValueError, match="beauty"):
        plan(built(random_wish(21, circuits=1, leds=1, bodies=1)), aims=["beauty"])
