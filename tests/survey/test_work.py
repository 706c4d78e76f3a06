"""What a survey costs, counted in searches, solutions and layouts: never in seconds, which are another machine's."""

from __future__ import annotations

import gc
import pickle
import random
import weakref
from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

import postcheck
from postcheck.checks import joined_supplies, plugs
from postcheck.description.models import FuseSpec
from postcheck.physics import bundle, threading
from postcheck.physics.bundle import search
from postcheck.physics.network import Network
from postcheck.physics.threading import Group, Thick
from postcheck.renderers.sheet import pages
from postcheck.survey import Survey
from postcheck.survey.bench import identities
from postcheck.survey.bench.identities import Identities
from postcheck.survey.bench.rig import Rig
from postcheck.survey.heat.faults import Faults, ShortHeat
from postcheck.survey.network import electrics, lit, states
from postcheck.survey.network.corners import CornerFinder
from postcheck.survey.network.elements import StringMaker
from postcheck.trial import TRIAL_WORK
from postcheck.wiring import Wiring
from tests.checks.run import run
from tests.slow import files
from tests.speed import large


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Callable[[Any, str], Counter[str]]:
    """Counts the calls of a function or method by its name."""
    counts: Counter[str] = Counter()

    def count(owner: Any, name: str) -> Counter[str]:
        own = getattr(owner, name)

        def call(*given: Any, **named: Any) -> Any:
            counts[name] += 1
            return own(*given, **named)

        monkeypatch.setattr(owner, name, call)
        return counts

    return count


def _fresh() -> None:
    """Nothing is known of any bundle."""
    for known in (bundle._first, bundle._searched, bundle._for_goal, bundle._free):
        known.cache_clear()


def _row(count: int, thin: float = 0.0) -> list[Group]:
    return [Group(Thick(1.6 + 0.07 * n, thin), (0.74,)) for n in range(count)]


@pytest.mark.parametrize(("groups", "bore"), [(_row(14), 3.6), (_row(12), 3.4), (_row(20, 0.9), 3.6)])
def test_a_row_of_joints_takes_a_few_searches(groups, bore, counted):
    _fresh()
    counts = counted(search, "slimmer")
    threading.spaced(groups, bore)
    threading.all_pass(groups, bore)
    threading.one_by_one(groups, bore)
    assert counts["slimmer"] <= 12


def test_equal_joints_take_a_search_for_each_step_at_most(counted):
    _fresh()
    counts = counted(search, "slimmer")
    groups = [Group(Thick(2.2), (1.0,))] * 8
    threading.one_by_one(groups, 3.8)
    assert 0 < counts["slimmer"] <= 8


def test_what_is_known_of_others_says_no_more_than_a_search_of_its_own():
    chance = random.Random(20261201)
    seen: Counter[str] = Counter()
    for _ in range(60):
        flat = chance.random() < 0.4
        groups = [
            Group(
                Thick(
                    round(chance.uniform(1.0, 2.6), 2), round(chance.uniform(0.3, 0.9), 2) if flat else 0.0
                ),
                (round(chance.uniform(0.4, 0.9), 2),) * chance.randint(1, 2),
            )
            for _ in range(chance.randint(2, 6))
        ]
        bore = round(chance.uniform(2.4, 4.0), 2)
        alone = []
        for number, group in enumerate(groups):
            others = threading.in_the_way(groups, number, range(len(groups)))
            alone.append(threading.passes(group.thick, others, bore))
        verdicts = threading.spaced(groups, bore)
        for found, own in zip(verdicts, alone, strict=True):
            seen[found] += 1
            # of what fits something slimmer fits, whether or not a search finds how
            assert found == own or (found, own) == (bundle.FITS, bundle.NOT_FOUND)
        assert threading.all_pass(groups, bore) == (set(verdicts) == {bundle.FITS})
    assert min(seen[bundle.FITS], seen[bundle.CANNOT]) >= 20


def test_very_many_wires_are_laid_and_not_searched(counted):
    _fresh()
    counts = counted(search, "slimmer")
    wires = [0.74] * 301
    free = bundle.pack(wires)
    found = bundle.pack(wires, (free.diameter + free.bound) / 2.0)  # neither shown nor ruled out
    assert found.verdict == bundle.NOT_FOUND
    assert counts["slimmer"] == 0


def test_of_adaptors_that_fit_one_socket_the_highest_is_tried_in_each(counted):
    counts = counted(states.States, "tried_once")
    survey = Survey(postcheck.loads(files.adaptors(20)))
    faults = survey.electrics.wrong_adaptor_faults
    # of 5 to 17 V; the two of 17 V have none above them
    assert {fault.higher for fault in faults} == {"s12"}
    assert len(faults) == 19
    assert counts["tried_once"] == 19


def test_a_crossed_plug_is_one_solution_and_is_not_kept(counted):
    counts = counted(Network, "solve")
    kept: list[int] = []
    own = states.States.tried_once

    def tried(self, state, corner):
        found = own(self, state, corner)
        kept.append(len(self._networks))
        return found

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(states.States, "tried_once", tried)
        survey = Survey(postcheck.loads(files.plugs(12)))
        assert len({fault.plug for fault in survey.electrics.plug_faults}) == 12
    assert len(kept) == 12
    assert max(kept) - min(kept) == 0
    before = counts["solve"]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(states, "MOST_TRIED", 0)
        Survey(postcheck.loads(files.plugs(12))).electrics  # noqa: B018
    assert before - (counts["solve"] - before) == 12


def test_plugs_beyond_what_can_be_tried_are_not_judged_and_say_so(monkeypatch):
    build = postcheck.loads(files.plugs(12))
    size = len(states.States(Survey(build).wiring)._network(*_all_on(build))[0].slots)
    monkeypatch.setattr(states, "MOST_TRIED", 5 * size + 1)
    survey = Survey(build)
    found, questions = run(plugs, "plug.crossed", survey)
    assert [finding.subject.name for finding in found] == [f"plug {n}" for n in range(5)]
    assert [question.subject for question in questions] == [f"plug {n}" for n in range(5, 12)]
    assert all("fewer parts" in question.missing for question in questions)


def test_adaptors_beyond_what_can_be_tried_are_not_judged_and_say_so(monkeypatch):
    monkeypatch.setattr(states, "MOST_TRIED", 0)
    survey = Survey(postcheck.loads(files.adaptors(4)))
    found, questions = run(joined_supplies, "supply.wrong-adaptor", survey)
    assert found == []
    assert [question.subject for question in questions] == ["s0", "s1", "s2"]
    assert all("fewer parts" in question.missing for question in questions)


def _all_on(build):
    finder = CornerFinder(states.States(Survey(build).wiring), _air(build))
    return finder.states.everything, finder.nominal


def _air(build):
    from postcheck.survey.network.corners import Air  # noqa: PLC0415

    return Air.of(build)


def test_a_large_build_is_surveyed_no_more_often_than_the_budget_lets_it(counted):
    build = postcheck.loads(files.plugs(60))
    work = Survey(build).electrics.work
    counts = counted(states.States, "__init__")
    postcheck.check(build)
    assert counts["__init__"] <= 1 + TRIAL_WORK // work


def test_the_strings_of_a_lamp_are_read_once(counted):
    counts = counted(identities, "Rig")
    text = files.parallel(1).replace("parallel = 1000", 'parallel = 30\nstrings_share = "nothing"')
    survey = Survey(postcheck.loads(text))
    found = Identities(survey.bench, "hub", survey.limits)
    assert len(found.all) == 30
    assert len({one.hypotheses for one in found.all}) == 1
    assert counts["Rig"] <= 8


def test_like_lamps_have_one_set_of_figures(counted):
    build = postcheck.loads(large.build(100))
    lamps, reached = counted(lit.Lit, "_lamp"), counted(StringMaker, "__init__")
    survey = Survey(build)
    figures = survey.electrics.lamps
    assert {figures[f"b0 lamp {n}"].part.name for n in range(100)} == {f"b0 lamp {n}" for n in range(100)}
    # 25 a place, in four places
    assert lamps["_lamp"] == 4
    # in each state once
    assert reached["__init__"] <= 4 * 6


def test_the_shorts_of_like_leads_are_worked_out_once(counted):
    counts = counted(ShortHeat, "heated")
    survey = Survey(postcheck.loads(large.build(100)))
    assert len(survey.faults) == 8 + 200
    assert counts["heated"] <= 2 * (8 + 8)


def test_another_fuse_has_the_shorts_of_its_own_supply_worked_out_alone(counted):
    survey = Survey(postcheck.loads(files.adaptors(20)))
    faults = Faults(survey.wiring, survey.limits, survey.in_use)
    counts = counted(Faults, "_fault")
    assert len({fault.supply for fault in faults.found()}) == 20
    whole = counts["_fault"]
    for rated in (0.1, 0.2):
        found = list(faults.of("s3", FuseSpec.model_construct(rated=rated)))
        assert {fault.supply for fault in found} == {"s3"}
        assert {fault.fuse for fault in found} == {rated}
    assert counts["_fault"] - whole == whole // 10


def test_the_leads_of_like_lamps_are_put_on_the_bench_once(counted):
    bench = Survey(postcheck.loads(large.build(100))).bench
    counts = counted(Rig, "_flow")
    for name in range(100):
        figures = bench.figures(bench.leads["lamp", f"b0 lamp {name}"])
        assert figures.test_point.name == f"b0 lamp {name}"
    assert 0 < counts["_flow"] <= 4 * 40


def test_a_build_is_resolved_once_and_what_it_says_alike_is_one_table(counted):
    counts = counted(Wiring, "__init__")
    build = postcheck.loads(large.build(50))
    Survey(build).wiring  # noqa: B018
    assert counts["__init__"] == 1
    assert len({id(lamp.lead) for lamp in build.lamp}) == 2
    # a copy has a wiring of its own, and none goes with it
    again = pickle.loads(pickle.dumps(build))
    assert again == build
    assert again._kept.what is None


def test_the_traces_of_a_strip_are_worked_out_once_each(counted):
    counts = counted(CornerFinder, "_along_edge")
    survey = Survey(postcheck.loads(files.strips(1, 60)))
    assert survey.electrics.strips
    # two traces a segment, and the conductors ahead, at each side and state that is asked
    assert counts["_along_edge"] <= 4 * (2 * 60 + 10)


@pytest.mark.parametrize(
    ("text", "path", "says"),
    [
        (files.parallel(4), ("lamp", 3, "parallel"), "4000 strings side by side"),
        (files.conductors(30), ("run", 25, "conductors"), "5200 conductors of runs"),
        (files.strips(2, 1000), ("strip", 1, "segments"), "2000 segments of strips with a measured trace"),
        (files.converters(31), ("supply", "s30", "kind"), "31 converters"),
    ],
)
def test_what_a_short_file_asks_for_a_thousandfold_has_a_limit(text, path, says):
    with pytest.raises(postcheck.BuildError) as caught:
        postcheck.loads(text)
    (problem,) = caught.value.problems
    assert problem.path == path
    assert says in problem.says
    assert problem.line is not None


def test_the_rows_of_a_sheet_are_drawn_once_however_often_its_pages_are_filled(counted):
    counts = counted(pages, "_row")
    table = pages.Table("ends", (pages.Column("end", 40.0),), ((pages.Cell.of("red"),),) * 30)
    for room in (100.0, 80.0, 60.0):
        pages.paged([table], room)
    assert counts["_row"] == 30


def test_the_states_of_a_build_go_with_what_was_asked_of_them() -> None:
    """Kept by a ring they would stay until garbage is collected: of 10,000 lamps 24 MB more."""
    made = Survey(postcheck.loads(large.build(3)))
    gauge = electrics._Gauge(made.wiring, made.limits)
    gauge.electrics()
    states = weakref.ref(gauge.states)
    gc.disable()
    try:
        del gauge
        assert states() is None
    finally:
        gc.enable()


def test_misconnections_are_tried_for_less_than_half_a_second():
    """At some 20 us an element."""
    assert 0.3 < states.MOST_TRIED * 20e-6 < 0.5
