"""Of several lamps on an adaptor without its load the worst, with currents of our own."""

from __future__ import annotations

import pytest

from postcheck.checks import alone
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, survey

from .facts import facts, judged, units, values, with_figures
from .test_lamps import string

BOW, RED = Subject("lamp", "bow lamp"), Subject("lamp", "red lamp")
LAMPS = string("smd-0603-white") + string("smd-0603-red").replace("bow lamp", "red lamp")
RISES = adaptor() + '\nunloaded = "16 V"'


def two(supply: str | None = None, **each: tuple[float, float]) -> Survey:
    """Both lamps with other figures, the first and the second of each."""
    made = survey(supply=supply, lamps=LAMPS)
    lamps = {
        name: lamp._replace(**{figure: pair[index] for figure, pair in each.items()})  # type: ignore[arg-type]
        for index, (name, lamp) in enumerate(made.electrics.lamps.items())
    }
    return with_figures(made, lamps=lamps)


@pytest.mark.parametrize(
    ("alone_on", "worst"),
    [((0.025, 0.025), None), ((0.025, 0.0251), RED), ((0.0251, 0.025), BOW), ((0.03, 0.04), RED), ((0.05, 0.04), BOW)],
)  # fmt: skip
def test_an_adaptor_without_its_load(alone_on, worst):
    # a quarter more than the rating
    got = facts(alone, "supply.unloaded", two(RISES, alone=alone_on, rated=(0.02, 0.02)))
    assert [fact.parts for fact in got] == ([{"lamp": worst}] if worst else [])
    for fact in got:
        assert values(fact) == {"unloaded": 16.0, "volts": 12.0, "current": max(alone_on), "rated": 0.02}
        assert units(fact) == {"unloaded": "V", "volts": "V", "current": "A", "rated": "A"}
        assert (fact.severity, fact.subject, fact.path) == ("note", Subject("supply", "main"), ("supply", "main", "unloaded"))  # fmt: skip
        assert fact.limit is not None
        assert worst is not None
        assert (fact.limit.value, fact.because_of) == (pytest.approx(0.025), f"lamp.over-rating:{worst.name}")


def test_the_one_that_is_furthest_over_its_own_rating():
    (fact,) = facts(alone, "supply.unloaded", two(RISES, alone=(0.05, 0.04), rated=(0.03, 0.02)))
    assert (fact.parts, values(fact)["current"], values(fact)["rated"]) == ({"lamp": RED}, 0.04, 0.02)


def test_how_its_volts_rise_is_said_in_one_of_two_ways():
    (fact,) = facts(
        alone,
        "supply.unloaded",
        two(adaptor() + '\nregulation = "25 %"', alone=(0.03, 0.0), rated=(0.02,) * 2),
    )
    assert (fact.path, values(fact)["unloaded"]) == (("supply", "main", "regulation"), pytest.approx(15.0))
    assert judged(alone, "supply.unloaded", two(alone=(9.0, 9.0))) == []
    dark = survey(supply=RISES, lamps="")
    assert judged(alone, "supply.unloaded", dark) == []
