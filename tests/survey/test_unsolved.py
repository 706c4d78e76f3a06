"""What is told where one state of a build has no solution: nothing of what hangs on it, and all else as it was."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from postcheck.survey import Survey
from postcheck.survey.bench.rig import Rig
from postcheck.survey.network.elements import Corner
from postcheck.survey.network.netlist import State
from postcheck.survey.network.states import States
from tests.survey import small
from tests.survey.bench.boats import boat, lamp


def unsolved(monkeypatch: pytest.MonkeyPatch, which: Callable[[State, Corner], bool]) -> Survey:
    """A survey of a build of which such states have no solution."""
    own = States.solved

    def solved(self: States, state: State, corner: Corner) -> object:
        return None if which(state, corner) else own(self, state, corner)

    monkeypatch.setattr(States, "solved", solved)
    return small.survey()


@pytest.mark.parametrize(
    "which",
    [
        # the corner of all others at the most and at the least current of a lamp
        lambda _, corner: corner.dice == -1 and corner.supply == 1,
        lambda _, corner: corner.dice == 1 and corner.supply == -1,
        # the supply alone a little up, or down
        lambda _, corner: corner.dice == 0 and corner.supply == 1,
        lambda _, corner: corner.dice == 0 and corner.supply == -1,
    ],
)
def test_a_lamp_without_its_most_or_least_has_no_figures(
    monkeypatch: pytest.MonkeyPatch, which: Callable[[State, Corner], bool]
) -> None:
    made = unsolved(monkeypatch, which)
    assert made.electrics.lamps == {}
    assert made.electrics.supplies["main"].nominal == pytest.approx(
        small.survey().electrics.supplies["main"].nominal
    )


def test_what_a_lamp_gets_alone_is_then_what_it_gets_at_most(monkeypatch: pytest.MonkeyPatch) -> None:
    lamp_figures = unsolved(monkeypatch, lambda state, _: state.unloaded).electrics.lamps["bow lamp"]
    assert lamp_figures.alone == lamp_figures.highest


def test_with_all_on_unsolved_there_are_no_figures_at_all(monkeypatch: pytest.MonkeyPatch) -> None:
    made = unsolved(monkeypatch, lambda _, corner: corner.supply == 0)
    assert (made.electrics.lamps, made.electrics.supplies, made.electrics.runs) == ({}, {}, {})
    assert made.electrics.widest == 0.0


def test_without_a_solution_at_the_bench_nothing_is_set(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Rig, "flow", lambda *_, **__: None)
    bench = boat(lamp("1k at hub")).bench
    test_point = bench.leads["lamp", "lamp"]
    known = bench.figures(test_point)
    assert known is not None
    contact = known.contact_test
    assert (contact.outcome, contact.amps, contact.worst) == ("unknown", 0.0, "")
    assert (known.setting, known.tester, known.with_resistors) == (None, None, None)
    assert bench.usual_setting(test_point) is None
    assert bench.over(test_point, 12.0) is None
    assert not bench.stands_for_good(test_point, 12.0)
    assert bench.expected(test_point, 12.0, with_resistors=True) is None


def test_the_least_volts_of_a_strip_and_a_load_are_then_none(monkeypatch: pytest.MonkeyPatch) -> None:
    own = States.solved
    monkeypatch.setattr(
        States,
        "solved",
        lambda self, state, corner: (
            None if corner.dice == 1 and corner.supply == -1 else own(self, state, corner)
        ),
    )
    strip = '[[strip]]\nname = "deck"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nsegments = 2\n'
    load = '[[load]]\nname = "bell"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "20 mA"\n'
    electrics = small.survey(lamps="", extra=strip + load).electrics
    deck, bell = electrics.strips["deck"], electrics.loads["bell"]
    assert (deck.lowest_volts, deck.segment_highest, bell.lowest_volts) == (0.0, 0.0, 0.0)
    assert bell.volts > 11.0
