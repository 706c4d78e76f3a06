"""What is offered where circuits share what they flow through: wire, a return of its own, a stiffer supply, flags on ends.

Of a step of 0.1 of which 0.03 may be, 0.3 of the supply's resistance is left: a quarter less than that, or a third. The runs: `k` times
thicker, so that what they share loses 0.7 less, k = 1.25 / 0.3 = 4.17: 0.0476 ohm/m.
"""

from __future__ import annotations

import pytest

from postcheck.remedies.drops import lossy_runs
from postcheck.remedies.table import proposals
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.checks.facts import with_figures
from tests.survey.small import adaptor, lamp, survey

from .offers import given, offers, where

STROBE = (
    '[circuit.strobe]\nsupply = "main"\nbehaviour = "flash"\nrate = "60 /min"\n'
    '[[run]]\nname = "s"\nline = "strobe"\nends = ["base", "hull"]\nlength = "300 mm"\n'
) + lamp().replace("bow lamp", "flash").replace('"lights"', '"strobe"')
WINCH = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "100 mA"\nstarting = "500 mA"\nlowest = "5 V"\n'
SOFT = adaptor() + '\nresistance = "1 ohm"'
STRATEGY = "Use a supply that has no more than {} inside."


def stiffer(*ohms: str) -> list[tuple[str, ...]]:
    return [(STRATEGY.format(one), f'supply.main.resistance = "{one}"') for one in ohms]


def own_return(name: str) -> tuple[str, ...]:
    return (
        f"Give '{name}' a return of its own: own_return = true, and for the line '{name}-return' one more conductor beside 'negative'.",
        f"circuit.{name}.own_return = true",
        f'run.+ = {{ name = "negative {name}", line = "{name}-return", ends = ["base", "hull"], length = "300 mm" }}',
    )


def wire(name: str) -> tuple[str, ...]:
    return f"Use {name} for 'negative'.", f'run.1.wire = "{name}"'


STEP = {"figures": {"step": 0.1}, "limit": 0.03}


def test_a_flasher_gets_less_in_common():
    firm = survey(extra=STROBE)
    assert offers(firm, given("circuit.step", ("circuit", "strobe"), **STEP)) == [
        wire("ptfe-22"), wire("ptfe-20"), own_return("strobe"),
    ]  # fmt: skip
    # 0.5 of it: 2.5 times; two sizes, the return, then the third size and conductors side by side
    half = {"figures": {"step": 0.1}, "limit": 0.05}
    assert offers(firm, given("circuit.step", ("circuit", "strobe"), **half)) == [
        wire("ptfe-24"), wire("ptfe-22"), own_return("strobe"), wire("ptfe-20"),
        ("Lay 3 conductors side by side for each one of 'negative'.", "run.1.conductors = 3"),
    ]  # fmt: skip


def test_no_wire_is_offered_where_the_supply_itself_loses_most():
    """1 ohm in the supply beside 0.06 ohm of 300 mm of 28 AWG: no wire takes away half of what the two lose."""
    made = survey(supply=SOFT, extra=STROBE)
    assert offers(made, given("circuit.step", ("circuit", "strobe"), **STEP)) == [
        own_return("strobe"), *stiffer("240 mohm", "100 mohm"),
    ]  # fmt: skip


def test_without_a_limit_only_the_return_is_offered():
    made = survey(supply=SOFT, extra=STROBE)
    finding = given("circuit.step", ("circuit", "strobe"), figures={"step": 0.1})
    assert offers(made, finding) == [own_return("strobe")]


def test_a_lamp_that_flashes_by_itself_shares_its_line_as_well():
    finding = given("circuit.step", ("lamp", "flash"), **STEP)
    found = offers(survey(extra=STROBE), finding)
    assert {edit.split(".wire")[0] for edit in found[0][1:]} == {"run.1", "run.2"}
    assert offers(survey(supply=SOFT, extra=STROBE), finding) == stiffer("240 mohm", "100 mohm")


OWN_SUPPLY = "Feed 'lights' from a supply of its own, with a return of its own beside 'negative'."


@pytest.mark.parametrize("lamp_name", ["bow lamp", "flash"])
def test_what_dips_as_a_motor_starts(lamp_name):
    # of 0.2 there may be 0.13: 0.65 / 1.25 and / 3; of 500 mA 0.52 are 260 mA
    parts = {"load": Subject("load", "winch")}
    figures = {"dip": 0.2, "starting": 0.5}
    finding = given("lamp.dip", ("lamp", lamp_name), figures=figures, limit=0.13, parts=parts)
    found = offers(survey(supply=SOFT, extra=STROBE + WINCH), finding)
    assert [one for one in found if "inside" in one[0]] == stiffer("520 mohm", "210 mohm")
    smaller = [*proposals(survey(supply=SOFT, extra=STROBE + WINCH), finding)][-1]
    assert smaller.says == "Use a smaller one for 'winch', that takes no more than 260 mA as it starts."
    assert {change.path: change.value for change in smaller.changes} == pytest.approx(
        {("load", 0, "starting"): 0.26, ("load", 0, "typical"): 0.052}
    )
    assert where(found)[-1] == (smaller.says, "load.0.starting", "load.0.typical")
    # a return, or a supply, of its own where the lamp hangs on another line
    apart = lamp_name == "flash"
    assert (own_return("lights") in found) is (OWN_SUPPLY in [says for says, *_ in found]) is apart
    found = offers(survey(extra=STROBE + WINCH), finding)
    runs = {edit.split(".wire")[0] for _, *edits in found for edit in edits if ".wire" in edit}
    assert runs == ({"run.1"} if apart else {"run.0", "run.1"})


def test_no_motor_of_less_than_a_third_is_offered():
    parts = {"load": Subject("load", "winch")}
    # 0.13 / 1.25 are a third of 0.312; what it takes in use, 100 mA, is not all that it takes as it starts
    for dip, starting, limit, told in (
        (0.31, 0.5, 0.13, 1), (0.312, 0.5, 0.13, 1), (0.313, 0.5, 0.13, 0), (0.2, 0.1, 0.13, 0), (0.2, 0.101, 0.13, 1), (0.2, 0.5, None, 0),
    ):  # fmt: skip
        figures = {"dip": dip, "starting": starting}
        finding = given("lamp.dip", ("lamp", "flash"), figures=figures, limit=limit, parts=parts)
        found = offers(survey(extra=STROBE + WINCH), finding)
        assert sum("smaller" in says for says, *_ in found) == told


@pytest.mark.parametrize("more", ["own_return = true\n", None])
def test_a_return_of_its_own_is_not_given_twice(more):
    own = '[[run]]\nline = "strobe-return"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    plug = '[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = true\n'
    extra = STROBE.replace('rate = "60 /min"\n', f'rate = "60 /min"\n{more}') + own if more else STROBE + plug
    made = survey(supply=SOFT, extra=extra)
    found = offers(made, given("circuit.step", ("circuit", "strobe"), **STEP))
    assert [one for one in found if "return of its own" in one[0]] == []
    assert [one for one in found if "inside" in one[0]] == stiffer("240 mohm", "100 mohm")


# -- starts: 11.4 V of the supply at its least, 12 V usually; what is lost to 10 V has to come down to what leaves 11


@pytest.mark.parametrize(
    ("check", "case", "figure", "ohms"),
    [
        ("load.no-start", None, "start", ("220 mohm", "95 mohm")), ("load.resets", "supply low", "lowest", ("220 mohm", "95 mohm")),
        ("load.resets", None, "lowest", ("400 mohm", "160 mohm")),
    ],
)  # fmt: skip
def test_a_load_that_is_pulled_down(check, case, figure, ohms):
    made = survey(supply=SOFT, extra=WINCH)
    finding = given(check, ("load", "winch"), ("load", 0), figures={figure: 10.0, "needs": 11.0}, case=case)
    works = ("Use one that works from 9 V.", "load.0.lowest")
    assert offers(made, finding)[:-1] == stiffer(*ohms)
    assert where(offers(made, finding))[-1] == works
    # what it needs is more than there is, or what it gets is enough
    for got, needs in ((10.0, 12.1), (11.5, 11.0)):
        finding = given(
            check, ("load", "winch"), ("load", 0), figures={figure: got, "needs": needs}, case=case
        )
        assert where(offers(made, finding)) == [works]


def test_a_board_that_is_pulled_down():
    made = survey(
        supply=SOFT, extra='[board.driver]\nplace = "base"\nsupply = "main"\nleast_volts = "11 V"\n'
    )
    finding = given("load.resets", ("board", "driver"), figures={"lowest": 10.0, "needs": 11.0})
    assert offers(made, finding) == [
        *stiffer("400 mohm", "160 mohm"), ("Use one that works from 9 V.", 'board.driver.least_volts = "9 V"'),
    ]  # fmt: skip


# -- which runs lose most


def test_from_three_tenths_of_the_worst_on():
    run = '[[run]]\nname = "{0}"\nline = "lights"\nends = ["base", "hull"]\nlength = "300 mm"\n{1}'
    made = survey(extra=run.format("third", "") + run.format("bar", 'ohms = "0.2 ohm"\n'))
    drops = {"feed": 0.3, "negative": 1.0, "third": 0.2999, "bar": 0.9}
    runs = {name: one._replace(drop=drops[name]) for name, one in made.electrics.runs.items()}
    found = lossy_runs(with_figures(made, runs=runs), {"lights", "main-"})
    # a measured one is as it is
    assert [one.part.name for one in found] == ["negative", "feed"]
    nothing = {name: one._replace(drop=0.0) for name, one in runs.items()}
    assert lossy_runs(with_figures(made, runs=nothing), {"lights", "main-"}) == []


# -- flags


def coloured(*orders: str) -> Survey:
    return survey(
        lamps="".join(
            lamp().replace("bow lamp", f"lamp {n}").replace('to hull"', f'to hull, {order}"')
            for n, order in enumerate(orders)
        )
    )


def flagged(number: int, order: str, leg: str, label: str) -> str:
    one, other = order.split("/")
    return f'lamp.{number}.lead = {{ length = "120 mm", to = "hull", colours = ["{one}", "{other}"], {leg} = {{ label = "{label}" }} }}'


def test_the_side_that_has_fewer_of_a_colour_is_flagged():
    made = coloured("red/black", "black/red", "red/black")
    assert offers(made, given("colour.both-poles", ("colour", "red"))) == [
        ("Mend it.", flagged(1, "black/red", "back", "-"))
    ]
    assert offers(made, given("colour.both-poles", ("colour", "black"))) == [
        ("Mend it.", flagged(1, "black/red", "feed", "+"))
    ]
    # as many on both sides: the negatives
    even = coloured("red/black", "black/red")
    assert offers(even, given("colour.both-poles", ("colour", "red"))) == [
        ("Mend it.", flagged(1, "black/red", "back", "-"))
    ]
    assert offers(even, given("colour.both-poles", ("colour", "green"))) == []


def test_ends_that_look_alike_are_flagged_but_for_those_of_one_line():
    made = coloured("red/black", "black/red", "red/black")
    back = flagged(1, "black/red", "back", "main-")
    for words in ({"colour": "red"}, {"colour": "red", "wire": "enamel-0.10"}):
        assert offers(made, given("ends.alike", ("place", "hull"), words=words)) == [("Mend it.", back)]
    assert (
        offers(made, given("ends.alike", ("place", "hull"), words={"colour": "red", "wire": "ptfe-28"})) == []
    )
    assert offers(made, given("ends.alike", ("place", "base"), words={"colour": ""})) == [
        ("Mend it.", 'run.1.label = "main-"')
    ]


@pytest.mark.parametrize(
    ("case", "first", "second"), [("half empty", "400 mohm", "160 mohm"), (None, "660 mohm", "270 mohm")]
)
def test_a_load_on_a_battery_that_is_half_empty(case, first, second):
    """Eight cells of 1.25 V then: of 1 V lost 0.5 V may be; of 12 V usually 2.5 V of 3. A quarter, and three times, less than that of 1 ohm."""
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8\nresistance = "1 ohm"'
    load = '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "400 mA"\nlowest = "9.5 V"\n'
    made = survey(supply=cells, extra=load)
    finding = given("load.resets", ("load", "winch"), figures={"start": 9.0, "needs": 9.5}, case=case)
    inside = [says for says, *_ in offers(made, finding) if "inside" in says]
    assert inside == [
        f"Use cells that all together have no more than {ohms} inside." for ohms in (first, second)
    ]


def test_a_return_beside_one_of_its_colour_has_a_flag():
    """Two ends of one colour and wire that go to different lines are told apart by their flags alone (`ends.alike`)."""
    black = survey(extra=STROBE).build
    runs = tuple(
        run.model_copy(update={"colour": "black"}) if run.line == "main-" else run for run in black.run
    )
    made = survey(extra=STROBE).again(black.model_copy(update={"run": runs}))
    says, _, run = offers(made, given("circuit.step", ("circuit", "strobe"), **STEP))[2]
    assert says.endswith("beside 'negative', with a flag 'strobe-return' on it.")
    assert 'label = "strobe-return"' in run


OWN_RETURN = (
    'own_return = true\n[[run]]\nline = "lights-return"\nends = ["base", "hull"]\nlength = "300 mm"\n'
)
PLUS = '[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
OTHER = '[supply.lights-supply]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'


@pytest.mark.parametrize(
    ("circuit", "more", "offered"), [("", "", True), (OWN_RETURN, "", False), ("", PLUS, False), ("", OTHER, False)]
)  # fmt: skip
def test_a_supply_of_its_own_where_the_line_shares_its_return_and_begins_at_the_supply(
    circuit, more, offered
):
    made = survey(circuit=circuit, extra=STROBE + WINCH + more)
    figures = {"dip": 0.2, "starting": 0.5}
    finding = given("lamp.dip", ("lamp", "flash"), figures=figures, limit=0.13, parts={"load": Subject("load", "winch")})  # fmt: skip
    assert (OWN_SUPPLY in [says for says, *_ in offers(made, finding)]) is offered


# a regulated one loses 2 % at most (makers' sheets, from memory)
@pytest.mark.parametrize(("regulation", "offered"), [("2 %", False), ("2.1 %", True), (None, False)])
def test_a_supply_that_is_regulated_already_is_not_offered_as_such(regulation, offered):
    made = survey(supply=adaptor() + (f'\nregulation = "{regulation}"' if regulation else ""), extra=STROBE)
    found = offers(made, given("circuit.step", ("circuit", "strobe"), **STEP))
    regulated = (
        "Use a regulated supply, one that loses no more than 2 % from no load to full.",
        'supply.main.regulation = "2 %"',
    )
    assert (regulated in found) is offered


@pytest.mark.parametrize(("size", "sizes"), [('size = "c"\n', ["d"]), ("", [])])
def test_larger_cells_are_offered_of_a_size_that_is_known(size, sizes):
    cells = f'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\n{size}cells = 8'
    found = offers(survey(supply=cells, extra=STROBE), given("circuit.step", ("circuit", "strobe"), **STEP))
    assert [edit.split('"')[1] for _, *edits in found for edit in edits if ".size" in edit] == sizes


def test_a_board_that_no_start_pulls_down_loses_all_of_it_on_its_way():
    """To 10 V, of 12 V, while 11 are needed: half of it. Both runs have 10.4 of the 12 V: 1.25 x 0.867 / 0.367 = 2.95 times, 0.0671 ohm/m."""
    board = '[board.driver]\nplace = "hull"\nsupply = "main"\nleast_volts = "11 V"\n'
    feed = '[[run]]\nname = "plus"\nline = "main+"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    made = survey(extra=board + feed)
    runs = {
        name: one._replace(drop=5.2 if name in ("plus", "negative") else 0.0)
        for name, one in made.electrics.runs.items()
    }
    made = with_figures(made, runs=runs)
    finding = given("load.resets", ("board", "driver"), figures={"lowest": 10.0, "needs": 11.0})
    assert offers(made, finding)[0] == ("Use ptfe-22 for 'negative' and 'plus'.", 'run.1.wire = "ptfe-22"', 'run.2.wire = "ptfe-22"')  # fmt: skip
