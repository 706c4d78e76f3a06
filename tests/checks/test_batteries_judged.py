"""How long a battery lasts, on both sides of each limit, with figures of our own."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import batteries
from postcheck.checks import cells as safety
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values

MAIN = Subject("supply", "main")
MORE = (
    '[board.driver]\nplace = "base"\nsupply = "main"\nleast_volts = "9 V"\n'
    '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "100 mA"\n'
    '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.low]\nsupply = "five"\n'
)


@pytest.fixture(scope="module")
def cells() -> Survey:
    return survey(
        supply='kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8',
        lamps=lamp() + lamp().replace("bow lamp", "stern lamp"),
        extra=MORE,
    )


def battery(cells: Survey, **figures: Any) -> Survey:
    """An hour on 10 mA out of 8 V to 12 V; 36 C as rated."""
    own: dict[str, Any] = {
        "average": 0.01, "seconds": 3600.0, "wanted": None, "empty_volts": 8.0, "full_volts": 12.8, "usual_volts": 12.0, "half_volts": 10.0, "dim": (),
        "dim_seconds": None, "stops": (), "stops_seconds": None, "rated": 36.0, "holds": 36.0, "known_to": 1.0,
    }  # fmt: skip
    other = Survey(cells.build, cells.limits)
    other.__dict__["batteries"] = {"main": cells.batteries["main"]._replace(**(own | figures))}
    return other


# -- as long as is wanted


@pytest.mark.parametrize(("wanted", "found"), [(3600.0, False), (3601.0, True), (None, False)])
def test_a_battery_that_is_too_small(cells, wanted, found):
    got = facts(batteries, "battery.too-short", battery(cells, wanted=wanted))
    assert len(got) == found
    for fact in got:
        # 36 C x 3601 / 3600 are 10.003 mAh, so 11 of two figures; 0.99 of 10 mA x 3600 / 3601
        assert values(fact) == {
            "average": 0.01, "lasts": 3600.0, "counted": 0.75, "needed": pytest.approx(11 * 3.6), "allowed": pytest.approx(0.99 * 0.01 * 3600 / 3601),
        }  # fmt: skip
        assert units(fact) == {
            "average": "A",
            "lasts": "s",
            "counted": "share",
            "needed": "C",
            "allowed": "A",
        }
        assert (fact.severity, fact.case, fact.path) == (
            "caution",
            "size too small",
            ("supply", "main", "runs_for"),
        )
        assert fact.limit is not None
        assert (fact.limit.value, fact.limit.unit) == (3601.0, "s")


# mAh of two figures, no less: 7200 s wanted of the 3600
@pytest.mark.parametrize(
    ("rated", "needed"), [(36.0, 20), (1800.0, 1000), (1801.0, 1100), (2070.0, 1200), (4.0, 2.3)]
)
def test_a_charge_as_cells_are_sold(cells, rated, needed):
    (fact,) = facts(batteries, "battery.too-short", battery(cells, wanted=7200.0, rated=rated, holds=rated))
    assert values(fact)["needed"] == pytest.approx(needed * 3.6)


def test_what_it_holds_is_told_where_it_is_not_what_it_is_rated_for(cells):
    (fact,) = facts(batteries, "battery.too-short", battery(cells, wanted=7200.0, holds=30.0))
    assert (values(fact)["holds"], values(fact)["rated"]) == (30.0, 36.0)
    (fact,) = facts(batteries, "battery.too-short", battery(cells, wanted=7200.0))
    assert "holds" not in values(fact)


def test_empty_from_the_start(cells):
    for full, seconds, case in ((8.0, 0.0, "empty from the start"), (7.9, 0.0, "empty from the start"), (8.0, 1.0, "size too small"), (8.1, 1.0, "size too small")):  # fmt: skip
        (fact,) = facts(batteries, "battery.too-short", battery(cells, wanted=7200.0, full_volts=full, seconds=seconds))  # fmt: skip
        assert fact.case == case
        if seconds == 0.0:
            assert values(fact) == {"full": full, "empty": 8.0}
            assert fact.path == ("supply", "main", "cut_off")


def test_what_is_not_published_is_asked(cells):
    for average, wanted, asks in ((1.01, 3600.0, 1), (1.0, 3600.0, 0), (1.01, 3601.0, 0)):
        made = battery(cells, average=average, wanted=wanted)
        assert len(asked(batteries, "battery.too-short", made)) == asks
    assert len(asked(batteries, "battery.too-short", battery(cells, wanted=9.0, seconds=None))) == 1
    for more in ({"wanted": None, "seconds": None}, {"wanted": 9.0, "average": 0.0}):
        assert judged(batteries, "battery.too-short", battery(cells, **more)) == []


# -- lamps that go out early: in the first third of the charge, or before the time that is wanted


BOW, STERN = ("bow lamp", 9.0, 0.68), ("stern lamp", 8.5, 0.67)


@pytest.mark.parametrize(("left", "found"), [(0.67, False), (0.68, True)])
def test_a_lamp_that_is_dim_early(cells, left, found):
    made = battery(cells, dim=(("bow lamp", 9.0, left), STERN), dim_seconds=1152.0)
    got = facts(batteries, "battery.dim-early", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"dim": 9.0, "empty": 8.0, "left": 0.5, "inside": left, "after": 1152.0}
        assert units(fact) == {"dim": "V", "empty": "V", "left": "share", "inside": "share", "after": "s"}
        assert fact.parts == {"lamp": Subject("lamp", "bow lamp"), "early": (Subject("lamp", "bow lamp"),)}
        assert fact.limit is not None
        assert (fact.limit.value, fact.case, fact.path) == (0.67, "single cells", ("supply", "main"))


@pytest.mark.parametrize(("after", "found"), [(1800.0, False), (1799.0, True)])
def test_a_lamp_that_is_dim_before_the_time(cells, after, found):
    made = battery(cells, wanted=1800.0, dim=(BOW, STERN), dim_seconds=after)
    got = facts(batteries, "battery.dim-early", made)
    assert len(got) == found
    for fact in got:
        assert values(fact) == {"dim": 9.0, "empty": 8.0, "left": 0.5, "after": after, "wanted": 1800.0}
        assert fact.parts["early"] == (Subject("lamp", "bow lamp"), Subject("lamp", "stern lamp"))
        assert fact.limit is not None
        assert fact.limit.value == 0.5


def test_when_dimness_is_none_of_its_own(cells):
    dim = {"dim": (BOW,), "dim_seconds": 1152.0}
    assert judged(batteries, "battery.dim-early", battery(cells)) == []
    # too small altogether; at the end of its charge; no time known
    assert judged(batteries, "battery.dim-early", battery(cells, wanted=3601.0, **dim)) == []
    assert judged(batteries, "battery.dim-early", battery(cells, wanted=3600.0, **dim)) != []
    assert judged(batteries, "battery.dim-early", battery(cells, dim=(("bow lamp", 8.0, 0.9),))) == []
    assert judged(batteries, "battery.dim-early", battery(cells, dim=(("bow lamp", 8.01, 0.9),))) != []
    assert judged(batteries, "battery.dim-early", battery(cells, wanted=3600.0, dim=(BOW,))) == []


# -- where nobody says how long: less than a day of a show, eight hours


@pytest.mark.parametrize(
    ("seconds", "dim", "stops", "case", "after"),
    [
        (28800.0, None, None, None, 0), (28799.0, None, None, "empty", 28799.0), (30000.0, 28799.0, None, "fades", 28799.0), (30000.0, 28800.0, None, None, 0),
        (30000.0, 20000.0, 19999.0, "stops", 19999.0), (30000.0, 20000.0, 20001.0, "fades", 20000.0), (20000.0, 20000.0, None, "fades", 20000.0),
        (20000.0, None, 20000.0, "stops", 20000.0),
    ],
)  # fmt: skip
def test_less_than_a_day_of_a_show(cells, seconds, dim, stops, case, after):
    made = battery(cells, seconds=seconds, dim=(BOW,), dim_seconds=dim, stops=(("driver", 9.0),), stops_seconds=stops)  # fmt: skip
    got = facts(batteries, "battery.fades", made)
    assert [fact.case for fact in got] == ([case] if case else [])
    for fact in got:
        assert values(fact) == {"after": after, "lasts": seconds, "left": 0.5, "average": 0.01}
        assert units(fact) == {"after": "s", "lasts": "s", "left": "share", "average": "A"}
        first = {"fades": Subject("lamp", "bow lamp"), "stops": Subject("board", "driver")}.get(case)
        assert fact.parts == ({"first": first} if first else {})
        assert fact.because_of == f"battery.{'stops' if case == 'stops' else 'dim'}-early:main"
        assert (fact.severity, fact.subject) == ("note", MAIN)
    for more in ({"wanted": 9.0}, {"seconds": None}, {"average": 0.0}):
        assert judged(batteries, "battery.fades", battery(cells, **({"seconds": seconds} | more))) == []


# -- what stops


@pytest.mark.parametrize(
    ("wanted", "at", "part", "severity"),
    [
        (1800.0, 1800.0, "driver", None), (1800.0, 1799.0, "driver", "caution"), (None, 1800.0, "driver", None), (None, 1799.0, "driver", "note"),
        (None, 1799.0, "winch", "note"), (None, 1799.0, "five", "caution"),
    ],
)  # fmt: skip
def test_what_stops_before_the_charge_is_gone(cells, wanted, at, part, severity):
    made = battery(cells, wanted=wanted, stops=((part, 9.0), ("winch", 8.5)), stops_seconds=at)
    got = facts(batteries, "battery.stops-early", made)
    assert [fact.severity for fact in got] == ([severity] if severity else [])
    kinds = {"driver": "board", "winch": "load", "five": "supply"}
    for fact in got:
        assert values(fact) == {
            "stops": 9.0,
            "empty": 8.0,
            "after": at,
            **({"wanted": wanted} if wanted else {}),
        }
        assert fact.parts == {"part": Subject(kinds[part], part), "stopping": (Subject(kinds[part], part), Subject("load", "winch"))}  # fmt: skip
        assert fact.limit is not None
        assert (fact.limit.value, fact.limit.unit) == (9.0, "V")


@pytest.mark.parametrize(
    ("level", "more", "judges"),
    [
        (8.0, {}, False), (8.01, {}, True), (12.0, {}, True), (12.01, {}, False), (9.0, {"stops_seconds": None}, False),
        (9.0, {"wanted": 3601.0}, False), (9.0, {"wanted": 3600.0}, True),
    ],
)  # fmt: skip
def test_when_stopping_is_a_finding_of_its_own(cells, level, more, judges):
    figures = {"stops": (("driver", level),), "stops_seconds": 100.0} | more
    assert bool(judged(batteries, "battery.stops-early", battery(cells, **figures))) is judges
    assert judged(batteries, "battery.stops-early", battery(cells)) == []


# -- lithium


@pytest.mark.parametrize(("protected", "found", "asks"), [(True, 0, 0), (False, 1, 0), (None, 0, 1)])
def test_lithium_without_its_protection(cells, protected, found, asks):
    made = battery(cells, lithium=True, protected=protected)
    got = facts(safety, "battery.unprotected", made)
    assert len(got) == found
    questions = asked(safety, "battery.unprotected", made)
    assert [question.vital for question in questions] == [True] * asks
    for fact in got:
        assert (fact.severity, fact.path) == ("stop", ("supply", "main", "protected"))
    assert judged(safety, "battery.unprotected", battery(cells, lithium=False, protected=protected)) == []


@pytest.mark.parametrize(("protected", "firm"), [(True, False), (False, True), (None, True)])
def test_lithium_where_nobody_gets_at_it(protected, firm):
    sealed = survey(supply='kind = "battery"\nplace = "hull"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8', hull='access = "sealed"', lamps="")  # fmt: skip
    made = battery(sealed, lithium=True, protected=protected, place="hull")
    (fact,) = list(facts(safety, "battery.lithium-sealed", made))
    assert (fact.severity, fact.path, bool(fact.firm)) == ("stop", ("supply", "main", "place"), firm)
    assert fact.parts == {"place": Subject("place", "hull")}
    assert facts(safety, "battery.lithium-sealed", battery(sealed, lithium=False, place="hull")) == []


# -- load: what its cells may give for good


@pytest.mark.parametrize(("highest", "found"), [(0.5, False), (0.501, True)])
def test_cells_that_give_too_much(cells, highest, found):
    got = facts(safety, "battery.overload", battery(cells, highest=highest, most=0.5))
    assert len(got) == found
    for fact in got:
        assert values(fact)["load"] == highest
        assert fact.limit is not None
        assert fact.limit.value == 0.5
    assert judged(safety, "battery.overload", battery(cells, highest=9.0, most=None)) == []


def test_a_coin_cell_of_no_size_is_asked_about():
    made = survey(
        supply='kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\ncells = 1\nvolts = "3 V"',
        lamps="",
    )
    for highest, asks in ((0.01, 1), (0.0, 0)):
        assert len(asked(safety, "battery.overload", battery(made, highest=highest, most=None))) == asks


@pytest.mark.parametrize(
    ("cells", "case"),
    [
        ('chemistry = "alkaline"\nsize = "aa"\ncells = 4', "single cells"), ('chemistry = "alkaline"\nsize = "9v"', "block"), ('chemistry = "alkaline"\nsize = "9v"\ncells = 6', "block"),
        ('chemistry = "nimh"\nvolts = "9.6 V"', "block"), ('chemistry = "li-ion"\nsize = "18650"\ncells = 3\nprotected = true', "block"),
        ('chemistry = "lead-acid"\nsize = "12v-1.2ah"', "block"), ('chemistry = "lithium-coin"\nsize = "cr2032"\ncells = 3', "single cells"),
    ],
)  # fmt: skip
def test_a_cell_more_is_advised_where_it_can_be_bought(cells, case):
    """Nobody adds a cell to a block or to a pack, and no layman one to a pack of lithium cells."""
    made = battery(survey(supply=f'kind = "battery"\nplace = "base"\n{cells}'), wanted=1800.0, dim=(BOW,), dim_seconds=1000.0)  # fmt: skip
    (fact,) = facts(batteries, "battery.dim-early", made)
    assert fact.case == case
    stops = battery(made, wanted=1800.0, stops=(("driver", 9.0),), stops_seconds=100.0)
    assert [fact.case for fact in facts(batteries, "battery.stops-early", stops)] in ([case], [])
