"""Ends at one place that look alike: with ends of our own. Nothing here is worked out from a build but its circuits."""

from __future__ import annotations

from typing import Any

import pytest

from postcheck.checks import ends
from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.bench.ends import ConductorEnd
from tests.survey.small import lamp, survey

from .facts import asked, facts, judged, units, values

HULL = Subject("place", "hull")
CIRCUITS = "".join(
    f'[circuit.{name}]\nsupply = "main"\n{more}\n'
    for name, more in (("deck", ""), ("spot", ""), ("strobe", 'behaviour = "flash"\nrate = "60 /min"'))
)


@pytest.fixture(scope="module")
def made() -> Survey:
    spare = '[[run]]\nname = "reserve"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\n'
    return survey(extra=CIRCUITS + spare, lamps=lamp() + lamp().replace("bow lamp", "stern lamp"))


def end(name: str, net: str, positive: bool | None = True, place: str = "hull", **more: Any) -> ConductorEnd:
    own: dict[str, Any] = {"colour": "red", "letters": "RD", "wire": "ptfe-28"} | more
    return ConductorEnd(place, net, own.pop("kind", "run"), name, ("run", name), positive=positive, **own)


def with_ends(made: Survey, *some: ConductorEnd, **more: Any) -> Survey:
    other = Survey(made.build, made.limits)
    other.__dict__["ends"] = some
    other.__dict__.update(more)
    return other


# -- alike: what comes of taking one for another, the worst of it


@pytest.mark.parametrize(
    ("some", "reason"),
    [
        ((end("a", "lights"), end("b", "main-", False)), "poles"), ((end("a", "lights"), end("b", "deck")), "switched"), ((end("a", "lights"), end("b", "strobe")), "flashing"),
        ((end("a", "main-", False), end("b", "aft-", False)), "returns"), ((end("a", "lights"), end("b", "data", None)), "signals"), ((end("a", "data", None), end("b", "clock", None)), "signals"),
        ((end("a", "lights"), end("b", "main+")), "switched"), ((end("a", "lights"), end("b", "main-", False), end("c", "data", None)), "poles"),
    ],
)  # fmt: skip
def test_what_comes_of_taking_one_for_another(made, some, reason):
    (fact,) = facts(ends, "ends.alike", with_ends(made, *some))
    assert (fact.reason, fact.severity, fact.subject) == (reason, "caution", HULL)
    assert values(fact) == {"ends": float(len(some)), "alike": float(len(some))}
    assert set(units(fact).values()) == {""}
    assert fact.words == {"colour": "red", "wire": "ptfe-28"}
    # one colour on both sides, one line on each, is a finding of its own
    assert fact.because_of == ("colour.both-poles:red" if reason == "poles" and len(some) == 2 else None)


@pytest.mark.parametrize(
    "other",
    [
        end("b", "lights"), end("b", "deck", colour="blue"), end("b", "deck", wire="ptfe-30"), end("b", "deck", cable="grey"), end("b", "deck", label="two"), end("b", "deck", place="bow"),
        end("b", ""), end("b", "deck", colour=""), end("b", "deck", wire=""),
    ],
)  # fmt: skip
def test_what_tells_them_apart(made, other):
    assert facts(ends, "ends.alike", with_ends(made, end("a", "lights"), other)) == []


@pytest.mark.parametrize(("length", "shown"), [(40, "w" * 40), (41, "w" * 37 + "...")])
def test_a_long_name_of_a_wire_is_cut(made, length, shown):
    some = [end(name, net, wire="w" * length) for name, net in (("a", "lights"), ("b", "deck"))]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *some))
    assert fact.words["wire"] == shown
    spare = facts(ends, "ends.spare", with_ends(made, end("reserve", "", None, wire="w" * length), some[1]))
    assert [one.words["wire"] for one in spare] == [shown]


def test_flags_are_alike_in_large_letters_and_small(made):
    (fact,) = facts(
        ends, "ends.alike", with_ends(made, end("a", "lights", label="One"), end("b", "deck", label="one"))
    )
    assert values(fact)["alike"] == 2.0


def test_three_lines_are_named_and_the_others_counted(made):
    some = [
        end(name, net)
        for name, net in (("a", "lights"), ("b", "deck"), ("c", "spot"), ("d", "strobe"), ("e", "lights"))
    ]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *some))
    assert values(fact) == {"ends": 5.0, "alike": 5.0, "further": 1.0}
    assert fact.parts["first"] == (Subject("run", "a"), Subject("run", "e"))
    assert [fact.parts[f"{role}_line"] for role in ("first", "second", "third")] == [
        Subject("line", net) for net in ("lights", "deck", "spot")
    ]
    # the one with the fewest ends gets another colour
    assert (fact.parts["recoloured"], fact.path) == (Subject("line", "deck"), ("run", "b"))


def test_the_worst_colour_first_and_the_others_named(made):
    green = [
        end(name, net, colour="green", letters="GN")
        for name, net in (("x", "lights"), ("y", "deck"), ("z", "spot"))
    ]
    red = [end("a", "lights"), end("b", "main-", False)]
    blue = [end(name, net, colour="blue", letters="BU") for name, net in (("v", "lights"), ("w", "deck"))]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *blue, *green, *red))
    # both poles before all else, then the most ends
    assert fact.words["colour"] == "red"
    assert values(fact) == {"ends": 7.0, "alike": 2.0}
    # one colour with both poles is enough; a finding of its own is all of it only where every colour is on both
    assert (fact.reason, fact.because_of) == ("poles", None)
    assert "green" in fact.words["more"]
    assert fact.words["more"].index("green") < fact.words["more"].index("blue")
    (fact,) = facts(ends, "ends.alike", with_ends(made, *blue, *green))
    assert fact.words["colour"] == "green"


def test_the_same_at_the_other_end_is_told_with_it(made):
    here = [end("a", "lights"), end("b", "deck"), end("c", "spot")]
    there = [end("a", "lights", place="base"), end("b", "deck", place="base")]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *there, *here))
    assert (fact.subject, fact.parts["also_at"]) == (HULL, (Subject("place", "base"),))
    # another conductor there is another matter
    other = [*there, end("d", "strobe", place="base")]
    found = facts(ends, "ends.alike", with_ends(made, *other, *here))
    assert [fact.subject.name for fact in found] == ["base", "hull"]
    assert all("also_at" not in fact.parts for fact in found)


def test_the_same_at_the_other_end_in_every_colour(made):
    blue = {"colour": "blue", "letters": "BU"}
    here = [end("a", "lights"), end("b", "deck"), end("c", "lights", **blue), end("d", "spot", **blue)]
    there = [one._replace(place="base") for one in here]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *here, *there))
    assert fact.parts["also_at"] == (Subject("place", "base"),)
    # of one colour there are others
    white = {"colour": "white", "letters": "WH"}
    there[2:] = [end("x", "lights", place="base", **white), end("y", "spot", place="base", **white)]
    found = facts(ends, "ends.alike", with_ends(made, *here, *there))
    assert [fact.subject.name for fact in found] == ["hull", "base"]


def test_of_several_colours_one_with_a_signal_is_enough(made):
    blue = {"colour": "blue", "letters": "BU"}
    some = [
        end("a", "lights"),
        end("b", "deck"),
        end("c", "data", None, **blue),
        end("d", "clock", None, **blue),
    ]
    (fact,) = facts(ends, "ends.alike", with_ends(made, *some))
    assert fact.reason == "signals"


def test_colours_have_to_be_said(made):
    bare = {"colour": "", "letters": ""}
    (question,) = asked(
        ends, "ends.uncoloured", with_ends(made, end("a", "lights", **bare), end("b", "deck", **bare))
    )
    assert (question.subject, question.vital) == ("hull", False)
    for other in (end("b", "lights", **bare), end("b", "deck", label="b", **bare), end("b", "deck", asked=True, **bare), end("b", "", **bare), end("b", "deck", place="bow", **bare), end("b", "deck")):  # fmt: skip
        assert asked(ends, "ends.uncoloured", with_ends(made, end("a", "lights", **bare), other)) == []


# -- spares


@pytest.mark.parametrize(
    ("other", "found"),
    [(end("b", "deck"), True), (end("b", "deck", colour="blue"), False), (end("b", "deck", wire="ptfe-30"), False), (end("b", "deck", label="b"), False), (end("b", "deck", place="bow"), False), (end("b", ""), False)],
)  # fmt: skip
def test_a_spare_that_looks_like_what_is_in_use(made, other, found):
    spare = [end("reserve", "", None), end("reserve", "", None, "base")]
    got = facts(ends, "ends.spare", with_ends(made, *spare, other))
    assert len(got) == found
    for fact in got:
        assert fact.parts == {
            "spares": (Subject("run", "reserve"),),
            "others": (Subject("run", "b"),),
            "places": (HULL,),
        }
        assert (fact.severity, fact.subject, fact.words) == (
            "caution",
            Subject("run", "reserve"),
            {"colour": "red", "wire": "ptfe-28"},
        )


# -- both legs of a lead


def legs(name: str, *colours: str, label: str = "", **more: Any) -> list[ConductorEnd]:
    sides = (("supply", "lights", True), ("return", "main-", False))
    return [
        end(name, net, side, kind="lamp", leg=leg, colour=colour, label=label, **more)
        for (leg, net, side), colour in zip(sides, colours, strict=True)
    ]


def test_legs_that_look_the_same(made):
    (fact,) = facts(
        ends,
        "lead.same-legs",
        with_ends(made, *legs("bow lamp", "red", "red"), *legs("stern lamp", "red", "black")),
    )
    assert (fact.case, values(fact), fact.parts) == (
        "one",
        {"leads": 1.0},
        {"owners": (Subject("lamp", "bow lamp"),)},
    )
    assert (fact.severity, fact.subject, fact.words) == ("caution", HULL, {"colour": "red"})
    (fact,) = facts(
        ends,
        "lead.same-legs",
        with_ends(made, *legs("bow lamp", "red", "red"), *legs("stern lamp", "blue", "blue")),
    )
    assert (fact.case, values(fact)) == ("several", {"leads": 2.0})
    assert facts(ends, "lead.same-legs", with_ends(made, *legs("bow lamp", "red", "black"))) == []
    one, other = legs("bow lamp", "red", "red")
    assert facts(ends, "lead.same-legs", with_ends(made, one._replace(label="+"), other)) == []
    rice = survey(lamps=lamp().replace("smd-0402-red", "rice-12v").replace('resistor = "1k5 1/4 W"', ""))
    assert facts(ends, "lead.same-legs", with_ends(rice, *legs("bow lamp", "red", "red"))) == []


# -- colours in poor light: twelve by CIEDE2000


@pytest.mark.parametrize(("apart", "found"), [(12.0, False), (11.9, True)])
def test_colours_that_are_too_alike(made, apart, found):
    two = (end("a", "lights"), end("b", "deck", colour="brown", letters="BN"))
    built = with_ends(made, *two, poor_light={("RD", "BN"): apart, ("BN", "RD"): apart})
    got = facts(ends, "ends.poor-light", built)
    assert len(got) == found
    for fact in got:
        assert (values(fact), fact.severity, fact.subject) == ({"difference": apart}, "note", HULL)
        assert fact.parts == {"one": Subject("run", "a"), "other": Subject("run", "b")}
        assert fact.words == {"colour": "red", "other_colour": "brown"}


@pytest.mark.parametrize(
    "other",
    [
        end("b", "lights", colour="brown", letters="BN"), end("b", "deck", colour="brown", letters="BN", wire="ptfe-30"), end("b", "deck", colour="brown", letters="BN", cable="grey"),
        end("b", "deck", colour="brown", letters="BN", label="b"), end("b", "deck", colour="brown", letters="BN", place="bow"), end("b", "deck", colour="tea"),
    ],
)  # fmt: skip
def test_what_a_hand_need_not_tell_apart_in_poor_light(made, other):
    built = with_ends(made, end("a", "lights"), other, poor_light={("RD", "BN"): 1.0, ("BN", "RD"): 1.0})
    assert judged(ends, "ends.poor-light", built) == []


@pytest.mark.parametrize(
    ("further", "more"),
    [
        (1, "red and orange"), (3, "red and orange, red and pink and brown and orange"), (4, "red and orange, red and pink, brown and orange and 1 pair more"),
        (5, "red and orange, red and pink, brown and orange and 2 pairs more"),
    ],
)  # fmt: skip
def test_three_further_pairs_are_named_and_the_others_counted(made, further, more):
    codes = {"red": "RD", "brown": "BN", "orange": "OG", "pink": "PK"}
    some = [end(name, net, colour=colour, letters=codes[colour]) for name, net, colour in zip("abcd", ("lights", "deck", "spot", "strobe"), codes, strict=True)]  # fmt: skip
    pairs = [("RD", "BN"), ("RD", "OG"), ("RD", "PK"), ("BN", "OG"), ("BN", "PK"), ("OG", "PK")][
        : further + 1
    ]
    light = {pair: 3.0 + n for n, pair in enumerate(pairs)}
    (fact,) = facts(ends, "ends.poor-light", with_ends(made, *some, poor_light=light))
    assert (fact.words["colour"], fact.words["other_colour"], fact.words["more"]) == ("red", "brown", more)


def test_the_most_alike_first_and_the_same_elsewhere(made):
    three = [
        end("a", "lights"),
        end("b", "deck", colour="brown", letters="BN"),
        end("c", "spot", colour="orange", letters="OG"),
    ]
    codes = {("RD", "BN"): 9.0, ("RD", "OG"): 5.0, ("BN", "OG"): 7.0}
    light = codes | {(b, a): value for (a, b), value in codes.items()}
    again = [one._replace(place="base") for one in three]
    (fact,) = facts(ends, "ends.poor-light", with_ends(made, *three, *again, poor_light=light))
    assert values(fact) == {"difference": 5.0}
    assert (fact.words["colour"], fact.words["other_colour"]) == ("red", "orange")
    assert fact.parts["also_at"] == (Subject("place", "base"),)
    assert fact.words["more"].index("brown and orange") < fact.words["more"].index("red and brown")
