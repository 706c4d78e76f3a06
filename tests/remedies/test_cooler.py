"""What is offered for a place that is too hot: what goes out of it, what dissipates less and by how much, and in which order."""

from __future__ import annotations

import pytest

from postcheck.remedies.table import proposals
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.checks.facts import with_figures
from tests.checks.test_lamps import own_kind, string
from tests.survey.small import lamp, survey

from .offers import given, offers

HULL, BOW_LAMP = ("place", "hull"), ("lamp", "bow lamp")
CLOSED = 'access = "cover"\nmaterial = "abs"\nsurface = "100 cm2"'
ADAPTOR = 'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "2 A"\n'
HORN = '[[load]]\nname = "horn"\nkind = "{}"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n{}\n'
MOVED = ("Move the resistor of 'bow lamp' out to 'bow'.", 'lamp.0.resistor = "1.5 kohm 1/4 W at bow"')


def hull(kind: str = "sound", more: str = "", at: str = " at hull", heat: str = "") -> Survey:
    return survey(hull=CLOSED + heat, extra=HORN.format(kind, more), lamps=lamp(at=at))


def told(made: Survey, **more: object) -> list[tuple[str, ...]]:
    return offers(made, given("place.too-hot", HULL, **more))


def test_a_resistor_goes_out_and_a_room_that_is_cool_enough_comes_last():
    assert told(hull()) == [MOVED]
    assert told(hull(), figures={"room": 23.4}) == [MOVED, ("Mend it.", 'build.air = "5..23.4 degC"')]
    assert told(hull(), figures={"room": 23.4}, remedy=None) == [MOVED]
    assert told(hull(at="")) == []


def test_several_resistors_are_told_by_their_place():
    both = lamp(at=" at hull") + lamp(at=" at hull").replace("bow lamp", "stern lamp")
    edits = [f'lamp.{n}.resistor = "1.5 kohm 1/4 W at bow"' for n in (0, 1)]
    assert told(survey(hull=CLOSED, lamps=both)) == [("Move the resistors in 'hull' out to 'bow'.", *edits)]
    twice = lamp(at=" at hull") + "parallel = 2\n"
    assert told(survey(hull=CLOSED, lamps=twice)) == [
        ("Move the resistors in 'hull' out to 'bow'.", edits[0])
    ]
    # each to where its own lead ends
    inside = (
        lamp(at=" at hull", lead="120 mm to base").replace('"bow"', '"hull"').replace("bow lamp", "hull lamp")
    )
    assert told(survey(hull=CLOSED, lamps=lamp(at=" at hull") + inside)) == [
        (
            "Move the resistors in 'hull' out to 'bow' and 'base'.",
            edits[0],
            'lamp.1.resistor = "1.5 kohm 1/4 W at base"',
        )
    ]


def test_but_not_to_where_it_is_too_hot_as_well():
    # 3 W in 100 cm2 of ABS, which stands 65 degC, and 0.1 W
    for heat, offered in (("3 W", False), ("100 mW", True)):
        made = survey(
            hull=f'{CLOSED}\n[place.nose]\n{CLOSED}\nheat = "{heat}"',
            lamps=lamp(at=" at hull").replace('place = "bow"', 'place = "nose"'),
        )
        assert (made.places["nose"].hottest > made.places["nose"].stands) is not offered
        assert told(made) == ([(MOVED[0].replace("'bow'.", "'nose'."), MOVED[1].replace("at bow", "at nose"))] if offered else [])  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "more", "offered"),
    [
        ("sound", "", True),
        ("other", "", True),
        ("motor", "", False),
        ("sound", 'lead = "90 mm to hull"', False),
    ],
)
def test_electronics_go_to_where_their_circuit_begins(kind, more, offered):
    parts = {"begin": Subject("load", "horn")}
    there = ("Put 'horn' in 'base', which is open.", 'load.0.place = "base"')
    assert told(hull(kind, more), parts=parts) == [MOVED, *([there] if offered else [])]
    assert told(hull(kind, more), parts={"begin": Subject("lamp", "bow lamp")}) == [MOVED]


@pytest.mark.parametrize(("linear", "offered"), [("true", True), ("false", False)])
def test_a_switching_converter_for_a_linear_one(linear, offered):
    five = f'[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "hull"\nvolts = "5 V"\nrated = "1 A"\nlinear = {linear}\n[circuit.low]\nsupply = "five"\n'
    feed = '[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    made = survey(hull=CLOSED, extra=five + feed)
    assert told(made, parts={"largest": Subject("supply", "five")}) == (
        [
            (
                "Use a switching converter for 'five', of 85 % or more, instead of a linear one.",
                "supply.five.linear = false",
                'supply.five.efficiency = "85 %"',
            )
        ]
        * offered
    )
    assert told(made, parts={"largest": Subject("lamp", "five")}) == []
    assert told(made, parts={"largest": Subject("supply", "main")}) == []


# 2 W of something else: to 1.5 W, then four fifths and three fifths of that, which other things in that air may need
def test_less_of_what_else_is_warm():
    made = survey(hull=f'{CLOSED}\nheat = "2 W"')
    figures, words = {"allowed": 1.5}, "Bring it down to 1.5 W or less."
    less = [
        ("Bring it down to 1.5 W or less.", 'place.hull.heat = "1.5 W"'),
        ("Bring it down to 1.2 W or less.", 'place.hull.heat = "1.2 W"'),
        ("Bring it down to 900 mW or less.", 'place.hull.heat = "900 mW"'),
    ]
    assert told(made, figures=figures, remedy=words) == less
    assert told(made, figures=figures, remedy="Bring it down.") == []
    assert told(made, figures=figures, remedy=None) == []
    assert told(made, remedy=words) == []
    assert told(survey(hull=CLOSED), figures=figures, remedy=words) == []
    # beside 0.12 W of a horn: what is left of 0.4 W, of 0.32 and of 0.24 W
    beside = hull(at="", heat='\nheat = "2 W"')
    assert [edit for _, edit in told(beside, figures={"allowed": 0.4}, remedy="To 400 mW or less.")] == [
        'place.hull.heat = "280 mW"', 'place.hull.heat = "200 mW"', 'place.hull.heat = "120 mW"',
    ]  # fmt: skip
    # no more than the others have
    assert [edit for _, edit in told(beside, figures={"allowed": 0.14}, remedy="To 140 mW or less.")] == [
        'place.hull.heat = "20 mW"'
    ]


def test_of_the_place_that_a_battery_is_in():
    cells = 'kind = "battery"\nplace = "hull"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    made = survey(supply=cells, hull=f'{CLOSED}\nheat = "2 W"', lamps="")
    figures, words = {"allowed": 1.5}, "Bring it down to 1.5 W or less."
    assert offers(made, given("battery.hot", ("supply", "main"), figures=figures, remedy=words))[0] == (
        words,
        'place.hull.heat = "1.5 W"',
    )


# 65 mW of the 185 mW are of its resistor: at 165 mW 69 % are left of the 6.58 mA, at 150 mW 46 %, at 140 mW too little for a lamp
@pytest.mark.parametrize(
    ("allowed", "fraction"), [(0.165, 0.691), (0.159, 0.599), (0.147, 0.415), (0.145, None), (None, None)]
)
def test_a_lamp_with_less_light(allowed, fraction):
    made = hull()
    found = told(
        made,
        figures={} if allowed is None else {"allowed": allowed},
        parts={"largest": Subject(*BOW_LAMP)},
    )
    assert found[0] == MOVED
    if fraction is None:
        assert len(found) == 1
        return
    # the volts over it stay nearly what they are
    above = [value for value in (1500, 1800, 2200, 2700, 3300, 3900, 4700) if value >= 1500 / fraction][:2]
    assert found[1:] == [
        (
            f"Use {value / 1e3:g} kohm instead of 1.5 kohm for 'bow lamp', which costs some light.",
            f'lamp.0.resistor = "{value / 1e3:g} kohm 1/4 W at hull"',
        )
        for value in above
    ]
    assert told(made, figures={"allowed": allowed}, parts={"largest": Subject("load", "horn")}) == [MOVED]


def test_a_larger_body_beside_a_wall():
    made = survey(lamps=string("own", resistor="470 ohm 1/4 W"), extra=own_kind())
    spot = given("part.hot-spot", BOW_LAMP, ("lamp", 0, "resistor"), figures={"may": 0.123})
    held_off = ("Mend it.", "lamp.0.held_off = true")
    assert offers(made, spot) == [
        *(
            (f"Use one of {power} there, or hold it off the wall: as it is it may dissipate 123 mW.", f'lamp.0.resistor = "470 ohm {power}"')
            for power in ("1/2 W", "1 W", "2 W", "3 W", "5 W")
        ),
        held_off,
    ]  # fmt: skip
    assert offers(made, given("part.hot-spot", BOW_LAMP, ("lamp", 0, "resistor"))) == [held_off]
    for resistor in ("470 ohm", "470 ohm 1/4 W + 100 ohm 1/4 W"):
        other = survey(lamps=string("own", resistor=resistor), extra=own_kind())
        assert offers(other, spot) == [held_off]


def test_two_fifths_of_its_light_are_the_least():
    # all of 1 W is its resistor's, and 0.4 W are allowed: 1500 / 0.4
    made = hull()
    parts = (("the resistor of bow lamp", 1.0),)
    made.__dict__["places"] = {"hull": made.places["hull"]._replace(parts=parts)}
    lamp_parts = {"largest": Subject(*BOW_LAMP)}
    assert [says for says, _ in told(made, figures={"allowed": 0.4}, parts=lamp_parts)[1:]] == [
        f"Use {value} kohm instead of 1.5 kohm for 'bow lamp', which costs some light."
        for value in ("3.9", "4.7")
    ]
    assert told(made, figures={"allowed": 0.399}, parts=lamp_parts)[1:] == []
    # with what flashes on for good, by what is dissipated then
    made.__dict__["places"] = {
        "hull": made.places["hull"]._replace(
            steady_parts=(("the resistor of bow lamp", 0.5), ("bow lamp", 0.5))
        )
    }
    assert len(told(made, figures={"allowed": 0.5}, parts=lamp_parts, case="stuck")) == 3
    made.__dict__["places"] = {"hull": made.places["hull"]._replace(steady_parts=(("horn", 1.0),))}
    assert len(told(made, figures={"allowed": 0.5}, parts=lamp_parts, case="stuck")) == 1


def test_what_is_allowed_in_smaller_shares_is_a_figure():
    made = survey(hull=f'{CLOSED}\nheat = "2 W"')
    finding = given("place.too-hot", HULL, figures={"allowed": 1.5}, remedy="Bring it down to 1.5 W or less.")
    less = [proposal for proposal in proposals(made, finding) if "or less" in proposal.says]
    assert [{name: figure.value for name, figure in proposal.figures.items()} for proposal in less] == [
        {}, {"may": pytest.approx(1.2)}, {"may": pytest.approx(0.9)},
    ]  # fmt: skip
    assert all(proposal.alone for proposal in less)


def warm(
    watts: float, others: float, *, nominal: float = 0.02, count: int = 4, stuck: bool = False, **more: object
) -> Survey:
    """LEDs that dissipate so many watts in the hull with their resistors, a quarter of it themselves, and a horn."""
    kind = str(more.pop("kind", "own"))
    made = survey(
        lamps=string(kind, resistor="470 ohm 1/4 W", parallel=count), hull=CLOSED, extra=own_kind(), circuit=str(more.pop("circuit", ""))
    )  # fmt: skip
    lamp = made.electrics.lamps["bow lamp"]._replace(nominal=nominal)
    made = with_figures(made, lamps={"bow lamp": lamp})
    parts = (("bow lamp", watts / 4.0), ("horn", others), ("the resistor of bow lamp", 0.75 * watts))
    rows = {"steady_parts": parts} if stuck else {"parts": parts}
    made.__dict__["places"] = {"hull": made.places["hull"]._replace(**rows)}
    return made


# Four strings of one take 1/64 A each and warm the hull by 0.5 W in all: 8 V. Two strings of two are 16 V x I, so of what the horn leaves, 0.25 W
# give all of it, 0.225 W nine tenths, 0.1 W two fifths. All four in one string want more than 12 V, and three do not divide four.
# (12 V - 2 x 3.1 V) at 15.6 mA 372 ohm, at 14.1 mA 415; (12 V - 2 x 2.9 V) at 6.25 mA 990
@pytest.mark.parametrize("stuck", [False, True])
@pytest.mark.parametrize("others", [0.0, 0.25])
@pytest.mark.parametrize(
    ("left", "ohms", "dimmer"),
    [(0.3, "390 ohm", False), (0.225, "470 ohm", False), (0.2249, "470 ohm", True), (0.1, "1 kohm", True), (0.0999, None, True)],
)  # fmt: skip
def test_leds_that_warm_a_place_in_longer_strings(left, ohms, dimmer, others, stuck):
    made = warm(0.5, others, nominal=1.0 / 64.0, stuck=stuck)
    costs = ", which costs some light" if dimmer else ""
    assert told(made, figures={"allowed": left + others}, case="stuck" if stuck else None) == (
        []
        if ohms is None
        else [
            (
                f"Put 2 of 'bow lamp' in series, in 2 strings, each with {ohms}{costs}.",
                f'lamp.0.resistor = "{ohms} 1/4 W"',
                "lamp.0.series = 2",
                "lamp.0.parallel = 2",
            )
        ]
    )


def test_no_longer_strings_of_what_is_dark_nor_of_bulbs_nor_where_an_output_sets_the_current():
    allowed = {"allowed": 0.3}
    assert told(warm(0.5, 0.0), figures=allowed)
    assert told(warm(0.5, 0.0)) == []
    assert told(warm(0.5, 0.0, nominal=0.0), figures=allowed) == []
    assert told(warm(0.5, 0.0, kind="rice-3v"), figures=allowed) == []
    assert told(warm(0.5, 0.0, circuit='output = "60 mA constant, compliance 2 V"'), figures=allowed) == []


@pytest.mark.parametrize(
    ("case", "typical", "most", "allowed", "offered"),
    [
        # 12 V x 0.5 A are 6 W: 2.4 W of them are 0.2 A, whatever they usually take
        ("white", "10 mA", "500 mA", 2.4, ["most"]),
        ("white", "400 mA", "500 mA", 2.4, ["typical", "most"]),
        # over time 12 V x 0.4 A are 4.8 W: half of them
        ("air", "400 mA", "500 mA", 2.4, ["typical", "most"]),
    ],
)
def test_fewer_pixels_by_the_heat_that_is_too_much(case, typical, most, allowed, offered):
    row = f'[[load]]\nname = "row"\nkind = "pixels"\ncircuit = "lights"\nplace = "hull"\ntypical = "{typical}"\nmost = "{most}"\n'
    made = survey(hull=CLOSED, supply=ADAPTOR, lamps=row, wire="silicone-22")
    finding = given("place.too-hot", HULL, case=case, figures={"allowed": allowed}, parts={"largest": Subject("load", "row")})  # fmt: skip
    (fewer,) = [one for one in proposals(made, finding) if one.says.startswith("Fit fewer pixels")]
    assert [change.path[-1] for change in fewer.changes] == offered
    assert fewer.figures["most"].value == pytest.approx(0.2, abs=0.011)
    # dimmed by a program that hangs they are as bright as ever
    assert "controller" not in fewer.says


@pytest.mark.parametrize(
    ("typical", "near", "usual"),
    [
        # 12 V x 0.15 A are 1.8 W: 1.2 W of them are 0.1 A; where these are allowed, nothing is said of it
        ("150 mA", 1.2, 0.1), ("150 mA", 1.9, None), ("400 mA", 2.6, None),
    ],
)  # fmt: skip
def test_fewer_pixels_by_what_is_too_much_usually_and_white(typical, near, usual):
    row = f'[[load]]\nname = "row"\nkind = "pixels"\ncircuit = "lights"\nplace = "hull"\ntypical = "{typical}"\nmost = "500 mA"\n'
    made = survey(hull=CLOSED, supply=ADAPTOR, lamps=row, wire="silicone-22")
    figures = {"allowed": 2.4, "usual_allowed": near}
    finding = given("place.too-hot", HULL, case="white", figures=figures, parts={"largest": Subject("load", "row")})  # fmt: skip
    (fewer,) = [one for one in proposals(made, finding) if one.says.startswith("Fit fewer pixels")]
    assert fewer.figures["most"].value == pytest.approx(0.2, abs=0.011)
    assert fewer.says.endswith(" usually.") is (usual is not None)
    if usual is not None:
        assert fewer.figures["usual"].value == pytest.approx(usual, abs=0.006)


def test_pixels_of_which_no_most_is_given_may_be_dimmed():
    row = '[[load]]\nname = "row"\nkind = "pixels"\ncircuit = "lights"\nplace = "hull"\ntypical = "400 mA"\n'
    made = survey(hull=CLOSED, supply=ADAPTOR, lamps=row, wire="silicone-22")
    finding = given("place.too-hot", HULL, case="air", figures={"allowed": 2.4}, parts={"largest": Subject("load", "row")})  # fmt: skip
    assert [one.says for one in proposals(made, finding) if "dim them by their controller" in one.says]
