"""Against volts lost on the way: how much thicker a wire has to be, how many side by side, how stiff a supply.

What of a loss is in the runs comes down with their resistance, so `k` times less leaves `1 - f (1 - 1/k)` of it, where `f` is the
fraction that they have of it; a quarter more than that, for the current grows with the volts gained. Wire by ASTM B258 and IEC 60028:
28 AWG 0.1983 ohm/m, 26 0.1162, 24 0.0731, 22 0.0460, 20 0.0289.
"""

from __future__ import annotations

import pytest

from postcheck.remedies.beside import beside_metal
from postcheck.remedies.drops import eased, lossy_runs, works_from
from postcheck.remedies.hot_wires import thickened
from postcheck.remedies.shared import own_return, stiffer
from postcheck.remedies.table import proposals
from postcheck.remedies.table_spec import table_of
from postcheck.report import Finding, Subject
from postcheck.survey import Survey
from tests.checks.facts import with_figures
from tests.survey.small import adaptor, lamp, survey

from .offers import given, offers, typed, where

BOTH = "Use {} for 'feed' and 'negative'."
TWO = ("run.0.wire", "run.1.wire")


@pytest.fixture(scope="module")
def made() -> Survey:
    return survey()


def both(wire: str) -> tuple[str, ...]:
    return BOTH.format(wire), f'run.0.wire = "{wire}"', f'run.1.wire = "{wire}"'


def one(wire: str) -> tuple[str, ...]:
    return f"Use {wire} for 'feed'.", f'run.0.wire = "{wire}"'


def side_by_side(count: int) -> tuple[str, ...]:
    return (
        f"Lay {count} conductors side by side for each one of 'feed' and 'negative'.",
        f"run.0.conductors = {count}",
        f"run.1.conductors = {count}",
    )


def of_two(made: Survey, allowed: float, feed: float = 0.5, negative: float = 0.5, of: float = 1.0):
    runs = made.electrics.runs
    some = [runs["feed"]._replace(drop=feed), runs["negative"]._replace(drop=negative)]
    return typed(eased(made, some, 1.0, allowed, of))


def test_half_as_much_lost_wants_both_wires_two_and_a_half_times_as_thick(made):
    # one of them alone could not do it; 0.0793 ohm/m each, the next by at least 0.15 less
    assert of_two(made, 0.5) == [both("ptfe-24"), both("ptfe-22"), side_by_side(3), both("ptfe-20")]


def test_one_of_them_is_tried_first_where_it_can_do_alone(made):
    # a tenth less: one alone 1.25 x 0.5 / 0.4 = 1.5625 times, 0.1269 ohm/m; both 1.25 / 0.9 = 1.389 times, so two of each do
    assert of_two(made, 0.9) == [
        one("ptfe-26"), both("ptfe-26"), both("ptfe-24"), side_by_side(2),
        one("ptfe-24"), one("ptfe-22"), one("ptfe-20"), both("ptfe-22"), both("ptfe-20"),
    ]  # fmt: skip


def test_no_more_than_four_side_by_side(made):
    # to 0.3: 4.17 times, 0.0476 ohm/m, and five would be needed; to 0.3125 exactly four
    assert of_two(made, 0.3) == [both("ptfe-22"), both("ptfe-20")]
    assert of_two(made, 0.3125) == [both("ptfe-22"), both("ptfe-20"), side_by_side(4)]
    # to 0.2: 6.25 times, 0.0317
    assert of_two(made, 0.2) == [both("ptfe-20")]
    # to 0.17: 7.35 times, 0.0270, and no wire of the sort is that thick
    assert of_two(made, 0.17) == []


def test_what_is_lost_elsewhere_too_asks_for_more_of_the_runs(made):
    # they have 0.8 of it: 1.25 x 0.8 / (0.8 - 0.5) = 3.33 times, 0.0595 ohm/m
    assert of_two(made, 0.5, 0.4, 0.4) == [both("ptfe-22"), both("ptfe-20"), side_by_side(4)]
    # of the run with 0.6 alone 1.25 x 0.6 / 0.1 = 7.5 times; of both 2.5
    assert of_two(made, 0.5, 0.6, 0.4)[0] == both("ptfe-24")
    # to 0.6 1.25 x 0.6 / 0.2 = 3.75 times of the one; of both 1.25 / 0.6 = 2.083 times: 0.0952 ohm/m, and three of each
    assert of_two(made, 0.6, 0.6, 0.4) == [
        one("ptfe-22"), both("ptfe-24"), both("ptfe-22"), side_by_side(3), one("ptfe-20"), both("ptfe-20"),
    ]  # fmt: skip
    # all of it lost elsewhere
    assert of_two(made, 0.5, 0.25, 0.25) == []
    assert of_two(made, 0.5, of=0.0) == []


def test_one_run_alone_is_offered_three_sizes(made):
    feed = made.electrics.runs["feed"]._replace(drop=1.0)
    assert typed(eased(made, [feed], 1.0, 0.7, 1.0)) == [
        # 1.25 / 0.7 = 1.786 times: 0.111 ohm/m
        one("ptfe-24"), one("ptfe-22"), one("ptfe-20"),
        ("Lay 2 conductors side by side for each one of 'feed'.", "run.0.conductors = 2"),
    ]  # fmt: skip
    assert typed(eased(made, [], 1.0, 0.7, 1.0)) == []


def test_several_side_by_side_become_as_many_times_more():
    doubled = survey(
        extra='[[run]]\nname = "extra"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\nconductors = 2\n'
    )
    run = doubled.electrics.runs["extra"]._replace(drop=1.0)
    assert typed(eased(doubled, [run], 1.0, 0.7, 1.0))[-1] == (
        "Lay 2 conductors side by side for each one of 'extra'.",
        "run.2.conductors = 4",
    )  # fmt: skip


def test_what_loses_little_is_left_as_it_is():
    # by Ohm's law as their lengths: 300, 91 and 89 mm of the same wire in one line after the other
    def run(name: str, line: str, start: str, end: str, length: int, more: str = "") -> str:
        return f'[[run]]\nname = "{name}"\nline = "{line}"\nends = ["{start}", "{end}"]\nlength = "{length} mm"\n{more}\n'

    places = "".join(f'[place.{name}]\naccess = "open"\n' for name in ("one", "two", "three"))
    more = (
        run("first", "lights", "hull", "one", 91)
        + run("second", "lights", "one", "two", 89)
        + run("other", "main-", "hull", "two", 400)
        + run("bar", "main-", "two", "three", 400, 'ohms = "0.2 ohm"')
        + run("last", "lights", "two", "three", 250)
    )
    far = lamp(lead="120 mm to three").replace('place = "bow"', 'place = "three"')
    found = lossy_runs(survey(lamps=far, extra=places + more), {"lights", "main-"})
    assert [one.part.name for one in found] == ["other", "feed", "negative", "last"]
    found = lossy_runs(survey(lamps=far, extra=places + more), {"lights"})
    assert [one.part.name for one in found] == ["feed", "last", "first"]
    # nothing flows, nothing is lost
    assert lossy_runs(survey(lamps=""), {"lights", "main-"}) == []


@pytest.mark.parametrize(
    ("ohms", "fraction", "first", "second"),
    [
        # 1 ohm x 0.3 / 1.25 = 0.24 and / 3 = 0.1
        ("1 ohm", 0.3, "240 mohm", "100 mohm"),
        # 2.6 x 0.47 = 1.222: / 1.25 = 0.9776, / 3 = 0.4073, each to two figures down
        ("2.6 ohm", 0.47, "970 mohm", "400 mohm"),
        # 40 x 0.5: 16 and 6.67
        ("40 ohm", 0.5, "16 ohm", "6.6 ohm"),
    ],
)
def test_a_supply_with_less_resistance_inside(ohms, fraction, first, second):
    own = survey(supply=adaptor() + f'\nresistance = "{ohms}"')
    assert typed(stiffer(own, "main", fraction)) == [
        (f"Use a supply that has no more than {some} inside.", f'supply.main.resistance = "{some}"')
        for some in (first, second)
    ]
    cells = survey(
        supply=f'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aaa"\ncells = 8\nresistance = "{ohms}"'
    )
    assert typed(stiffer(cells, "main", fraction)) == [
        (f"Use cells that all together have no more than {some} inside.", f'supply.main.resistance = "{some}"')
        for some in (first, second)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("loses", "offered"), [("8 %", True), ("2.1 %", True), ("2 %", False), ("1 %", False)]
)
def test_a_regulated_supply_instead_of_one_that_sags(loses, offered):
    made = survey(supply=adaptor() + f'\nregulation = "{loses}"')
    assert (
        typed(stiffer(made, "main", 0.5))
        == [
            (
                "Use a regulated supply, one that loses no more than 2 % from no load to full.",
                'supply.main.regulation = "2 %"',
            )
        ]
        * offered
    )


def test_larger_cells_where_nobody_knows_their_resistance(made):
    cells = survey(supply='kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8')
    larger = [("Use C cells.", 'supply.main.size = "c"'), ("Use D cells.", 'supply.main.size = "d"')]
    assert typed(stiffer(cells, "main", 0.5)) == larger
    assert typed(stiffer(cells, "main", 0.0)) == larger
    assert typed(stiffer(made, "main", 0.5)) == []
    assert typed(stiffer(made, None, 0.5)) == []
    assert typed(stiffer(made, "no such", 0.5)) == []


def test_half_the_resistance_then_a_quarter_an_eighth_a_sixteenth():
    # of 0.501 ohm/m (ptfe-32): 0.2505, 0.1253, 0.0601, 0.0301; 30 AWG has 0.3155
    thin = survey(wire="ptfe-32")
    expected = [
        (BOTH.format(wire), *(f'{path} = "{wire}"' for path in TWO))
        for wire in ("ptfe-28", "ptfe-26", "ptfe-22", "ptfe-20")
    ]
    assert typed(thickened(thin, thin.parts.runs)) == expected
    assert typed(thickened(thin, [])) == []
    thick = survey(wire="ptfe-22")
    # half of 0.046 is less than the thickest has
    assert typed(thickened(thick, thick.parts.runs)) == []


def test_three_fiftieths_of_the_resistance_are_the_least_that_is_tried():
    # R ~ 1 / d^2: of 0.1 mm 0.141, 0.2, 0.289 and 0.408: the next sizes of the catalogue, 0.40 is just too thin
    fine = survey(wire="enamel-0.10")
    found = [edits[0].partition(" = ")[2].strip('"') for _, *edits in typed(thickened(fine, fine.parts.runs))]
    assert [float(wire.removeprefix("enamel-")) for wire in found] == [0.15, 0.2, 0.315, 0.45]


def test_more_than_three_runs_are_counted():
    run = '[[run]]\nname = "{}"\nline = "main-"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    for count, says in (
        (3, "Use ptfe-24 for 'feed', 'negative' and 'n3'."),
        (4, "Use ptfe-24 for 4 runs."),
    ):
        made = survey(extra="".join(run.format(f"n{number}") for number in range(3, count + 1)))
        first = next(thickened(made, made.parts.runs))
        assert first.says == says
        assert [change.path for change in first.changes] == [("run", n, "wire") for n in range(count)]
        assert {name: figure.value for name, figure in first.figures.items()} == (
            {"runs_of_ptfe-24": 4.0} if count == 4 else {}
        )


@pytest.mark.parametrize(
    ("got", "works"), [(11.4, "9 V"), (9.0, "9 V"), (8.99, "7 V"), (0.9, "900 mV"), (0.8, None)]
)
def test_a_load_that_works_from_what_it_gets(got, works):
    path = ("load", 0, "lowest")
    assert where(typed(works_from(path, got))) == (
        [] if works is None else [(f"Use one that works from {works}.", "load.0.lowest")]
    )
    assert [says for says, _ in typed(works_from(path, got, ", or none"))] == (
        [] if works is None else [f"Use one that works from {works}, or none."]
    )  # fmt: skip


def test_a_wire_beside_metal_is_as_long_as_the_longest_beside_it():
    runs = (
        '[[run]]\nname = "tube"\nline = "main-"\nends = ["hull", "base"]\nbody = true\nlength = "160 mm"\nohms = "20 mohm"\n'
        '[[run]]\nname = "long"\nline = "lights"\nends = ["base", "hull"]\nlength = "420 mm"\n'
        '[[run]]\nname = "not said"\nspare = true\nends = ["base", "hull"]\n'
        '[[run]]\nname = "elsewhere"\nline = "lights"\nends = ["hull", "bow"]\nlength = "900 mm"\n'
    )
    made = survey(extra=runs)
    wire = beside_metal(made, made.build.run[2])
    assert (wire.line, wire.ends, wire.length) == ("main-", ("hull", "base"), 0.42)
    assert (wire.body, wire.ohms, wire.name, wire.colour) == (False, None, None, None)
    alone = survey(
        extra='[passage.boom]\nfrom = "hull"\nto = "bow"\nbore = "5 mm"\nlength = "90 mm"\n'
        '[[run]]\nline = "main-"\nends = ["hull", "bow"]\nbody = true\nlength = "90 mm"\nohms = "20 mohm"\n'
    )
    assert beside_metal(alone, alone.build.run[2]).length == 0.09
    assert offers(made, given("metal.slides", ("run", "tube"), ("run", 2))) == [
        ("Mend it.", 'run.+ = { line = "main-", ends = ["hull", "base"], length = "420 mm" }')
    ]
    assert offers(made, given("metal.slides", ("run", "tube"), ("run", 2), remedy=None)) == []


def edits_of_both(made: Survey, finding: Finding) -> list[set[str]]:
    """The edits of each offer for both runs, which lose the same."""
    return [{*edits} for _, *edits in offers(made, finding) if len(edits) == len(TWO)]


# -- what the findings come to: of 1 V lost of which 0.75 may be, both wires 1.25 / 0.75 = 1.667 times as good: 0.119 ohm/m


@pytest.mark.parametrize(
    ("case", "figures"), [("light", {"lost": 0.4, "dimmer": 0.25}), (None, {"lost": 0.25, "dimmer": 0.9})]
)
def test_a_lamp_that_loses_volts(made, case, figures):
    # 7 mA lose 2 x 0.4 mV here, and 0.24 m of 2.195 ohm/m in the lead 3.7 mV: of what is lost next to nothing, and nothing is offered
    assert (
        offers(made, given("line.drop", ("circuit", "lights"), figures=figures, limit=0.1, case=case)) == []
    )
    # of a loss that is all theirs, with nothing in the lead
    bow = made.electrics.lamps["bow lamp"]
    made = with_figures(made, lamps={"bow lamp": bow._replace(lead_drop=0.0)})
    drop = made.electrics.runs["feed"].drop
    own = {**figures, "lost": 2.0 * drop}
    allowed = 0.1 / (own["dimmer"] if case else own["lost"])
    finding = given(
        "line.drop", ("circuit", "lights"), figures=own, limit=0.1 if case else 0.75 * 2.0 * drop, case=case
    )
    wanted = 0.19832 / (1.25 / (allowed if case else 0.75))
    first = next(
        wire
        for wire, ohms in (("ptfe-26", 0.1162), ("ptfe-24", 0.0731), ("ptfe-22", 0.046))
        if ohms <= wanted
    )
    assert set(both(first)[1:]) in edits_of_both(made, finding)


def test_a_load_that_runs_down_with_its_battery_or_behind_a_converter():
    load = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "400 mA"\nlowest = "{}"\n'
    # 11.4 V of the adaptor at its least; 0.6 m of 0.1983 ohm/m and the fuse lose a tenth of a volt
    made = survey(extra=load.format("11.5 V"))
    finding = given(
        "load.low-volts", ("load", "winch"), figures={"lowest": 11.3, "volts": 11.9, "needs": 11.5}
    )
    assert where(offers(made, finding)) == [
        ("Use one that works from 9 V, or a supply of more volts.", "load.0.lowest")
    ]
    # may lose 0.075 of 0.1 V
    drops = made.electrics.runs
    lost = made.electrics.supplies["main"].volts - made.electrics.loads["winch"].volts
    share = (drops["feed"].drop + drops["negative"].drop) / lost
    finding = given(
        "load.low-volts", ("load", "winch"), figures={"lowest": 11.3, "volts": 11.9, "needs": 11.325}
    )
    wanted = 0.19832 / (1.25 * share / (share - 0.25))
    sizes = [
        wire
        for wire, ohms in (("ptfe-26", 0.11622), ("ptfe-24", 0.07307), ("ptfe-22", 0.04598))
        if ohms <= wanted
    ]
    assert edits_of_both(made, finding)[0] == set(both(sizes[0])[1:])


def test_lamps_that_get_less_are_given_thicker_leads():
    # half of 2.195 ohm/m: 1.0976, the next 0.15 less
    lamps = lamp() + lamp().replace("bow lamp", "stern lamp")
    made = survey(lamps=lamps)
    also = {"also": (Subject("lamp", "stern lamp"),)}
    words = offers(made, given("lamp.unequal", ("lamp", "bow lamp"), parts=also))
    assert words[:2] == [
        (
            f"Use {wire} for the lead of 'bow lamp' and 'stern lamp'.",
            f'lamp.0.lead = "120 mm of {wire} to hull"',
            f'lamp.1.lead = "120 mm of {wire} to hull"',
        )
        for wire in ("enamel-0.15", "enamel-0.18")
    ]
    assert offers(made, given("lamp.unequal", ("lamp", "bow lamp")))[0] == (
        "Use enamel-0.15 for the lead of 'bow lamp'.",
        'lamp.0.lead = "120 mm of enamel-0.15 to hull"',
    )


def test_a_load_on_a_battery_by_what_its_cells_usually_give():
    load = '[[load]]\nname = "winch"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "400 mA"\nlowest = "11 V"\n'
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8\nresistance = "10 mohm"'
    made = survey(supply=cells, extra=load)
    # 8 x 1.5 V; 11.8 are got: of 0.2 V lost 0.19 may be
    finding = given(
        "load.low-volts", ("load", "winch"), figures={"volts": 11.8, "lowest": 1.0, "needs": 11.81}
    )
    assert [one for one in offers(made, finding) if "Use one" in one[0]] == []
    assert edits_of_both(made, finding)
    # what it needs is more than they have
    finding = given(
        "load.low-volts", ("load", "winch"), figures={"volts": 11.8, "lowest": 1.0, "needs": 12.01}
    )
    assert where(offers(made, finding)) == [
        ("Use one that works from 9 V, or a supply of more volts.", "load.0.lowest")
    ]


# of 12 V nothing may be lost, and as much as is lost may be
@pytest.mark.parametrize("needs", [12.0, 11.8])
def test_no_wire_is_thick_enough_where_nothing_may_be_lost_and_none_is_wanted_where_all_may(needs):
    load = '[[load]]\nname = "winch"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "400 mA"\nlowest = "11 V"\n'
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8\nresistance = "10 mohm"'
    finding = given(
        "load.low-volts", ("load", "winch"), figures={"volts": 11.8, "lowest": 1.0, "needs": needs}
    )
    assert where(offers(survey(supply=cells, extra=load), finding)) == [
        ("Use one that works from 9 V, or a supply of more volts.", "load.0.lowest")
    ]


def test_cells_of_no_size_have_none_that_is_larger():
    pack = survey(supply='kind = "battery"\nplace = "base"\nchemistry = "lipo"\ncells = 3\nprotected = true')
    assert typed(stiffer(pack, "main", 0.5)) == []


def test_what_a_converter_gives_is_no_loss_of_a_wire():
    five = '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n[circuit.aft]\nsupply = "five"\n'
    runs = "".join(
        f'[[run]]\nname = "{name}"\nline = "{line}"\nends = ["base", "hull"]\nlength = "3 m"\n'
        for name, line in (("aft feed", "aft"), ("aft back", "five-"))
    )
    load = '[[load]]\nname = "winch"\nkind = "sound"\ncircuit = "aft"\nplace = "hull"\ntypical = "400 mA"\nlowest = "4.9 V"\n'
    made = survey(extra=five + runs + load)
    assert made.electrics.runs["aft feed"].drop > 0.1
    finding = given("load.low-volts", ("load", "winch"), figures={"lowest": 4.6, "volts": 4.8, "needs": 4.9})
    assert offers(made, finding) == []


@pytest.mark.parametrize(
    ("cables", "offered"), [((False, False), True), ((True, False), False), ((True, True), False)]
)
def test_a_return_of_its_own_needs_room_beside_every_run_of_the_old_one(cables, offered):
    """In a sheathed cable there is none for one conductor more."""
    spare = '[cable.trunk]\noutside = "6 mm"\n' if any(cables) else ""
    far = '[place.mast]\naccess = "open"\n' + "".join(
        f'[[run]]\nname = "n{number}"\nline = "main-"\nends = ["{start}", "{end}"]\nlength = "300 mm"\n{"cable = " + chr(34) + "trunk" + chr(34) if cable else ""}\n'
        for number, (start, end, cable) in enumerate((("hull", "bow", cables[0]), ("bow", "mast", cables[1])))
    )
    made = survey(extra=spare + far)
    told = typed(own_return(made, "lights"))
    assert bool(told) is offered
    if offered:
        ((says, *edits),) = told
        assert "beside 'negative' and 'n0' and 'n1'" in says
        assert [edit.split(" ", 1)[0] for edit in edits] == [
            "circuit.lights.own_return",
            "run.+",
            "run.+",
            "run.+",
        ]


def test_a_run_is_written_with_the_size_of_its_joint():
    run = '[[run]]\nname = "more"\nspare = true\nends = ["base", "hull"]\nlength = "300 mm"\njoint = "{}"\n'
    for said, written in (
        ("4.56789 x 0.123456 mm", "4.56789 x 0.123456 mm"),
        ("4.56789 mm", "4.56789 mm"),
        ("1/4 x 1/16 in", "6.35 x 1.5875 mm"),
    ):
        made = survey(extra=run.format(said))
        assert table_of(made.build.run[2]) == {
            "name": "more", "spare": True, "ends": ["base", "hull"], "length": "300 mm", "joint": written,
        }  # fmt: skip


def with_leads(*drops: float, run: float = 0.1) -> Survey:
    """Lamps whose leads lose so many volts."""
    several = "".join(lamp().replace("bow lamp", f"lamp {n}") for n in range(len(drops)))
    made = survey(lamps=several)
    lamps = {f"lamp {n}": made.electrics.lamps[f"lamp {n}"]._replace(lead_drop=drop) for n, drop in enumerate(drops)}  # fmt: skip
    runs = {name: one._replace(drop=run) for name, one in made.electrics.runs.items()}
    return with_figures(made, lamps=lamps, runs=runs)


# 1 V in the worst lead, of which 0.7 may be: 1.25 / 0.7 = 1.786 times; of 0.10 mm enamelled 2.195 ohm/m, so 1.229: 0.125 mm has 1.405, 0.14 mm 1.12
@pytest.mark.parametrize(
    ("drops", "whose", "leads"),
    [
        ((1.0,), "lead of 'lamp 0'", [0]), ((0.5, 1.0, 0.3), "leads of 'lamp 1', 'lamp 0' and 'lamp 2'", [1, 0, 2]),
        ((0.5, 1.0, 0.299), "leads of 'lamp 1' and 'lamp 0'", [1, 0]), ((1.0,) * 4, "leads of 4 lamps", [0, 1, 2, 3]),
    ],
)  # fmt: skip
def test_leads_that_lose_most_are_made_thicker_together(drops, whose, leads):
    finding = given("line.drop", ("circuit", "lights"), figures={"lost": 1.0}, limit=0.7)
    found = [*proposals(with_leads(*drops), finding)]
    assert [proposal.says for proposal in found][:3] == [
        f"Use enamel-{size} for the {whose}." for size in ("0.14", "0.16", "0.18")
    ]
    assert [change.path for change in found[0].changes] == [("lamp", number, "lead") for number in leads]
    counted = {name: figure.value for name, figure in found[0].figures.items()}
    assert counted == ({"leads": 4.0} if len(leads) > 3 else {})
    # of no two leads one lies beside the other
    assert not any("side by side" in proposal.says for proposal in found)


def test_leads_and_runs_that_lose_nearly_as_much_are_made_thicker_together():
    # of 1.6 V in all 1.25 x 1.6 / 1.3 = 1.538 times: 1.427 and 0.1289 ohm/m; the lead alone as before
    finding = given("line.drop", ("circuit", "lights"), figures={"lost": 1.0}, limit=0.7)
    assert [proposal.says for proposal in proposals(with_leads(1.0, run=0.3), finding)][:3] == [
        "Use enamel-0.14 for the lead of 'lamp 0'.",
        "Use enamel-0.125 for the lead of 'lamp 0', ptfe-26 for 'feed' and 'negative'.",
        "Use enamel-0.14 for the lead of 'lamp 0', ptfe-24 for 'feed' and 'negative'.",
    ]


def test_three_runs_of_one_wire_are_listed():
    third = survey(
        extra='[[run]]\nname = "third"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    )
    runs = [run._replace(drop=0.3) for run in third.electrics.runs.values()]
    assert next(eased(third, runs, 1.0, 0.7, 0.9)).says == "Use ptfe-24 for 'feed', 'negative', 'third'."
