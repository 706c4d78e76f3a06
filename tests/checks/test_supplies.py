from functools import cached_property

import pytest

from postcheck.checks import alone, joined_supplies, supplies
from postcheck.remedies.ratings import rating_for
from postcheck.survey import Survey
from postcheck.survey.network.figures import Electrics
from tests.survey.small import adaptor, survey

from .run import run
from .test_lamps import string

AUX = """
[supply.aux]
{supply}
[circuit.second]
supply = "aux"
{lamps}
[[run]]
name = "second feed"
line = "second"
ends = ["base", "hull"]
length = "300 mm"
"""
BACK = '[[run]]\nname = "aux negative"\nline = "aux-"\nends = ["base", "hull"]\nlength = "300 mm"\n'


def second(resistor="150 ohm 1/4 W"):
    return string(resistor=resistor).replace("bow lamp", "tank lamp").replace('"lights"', '"second"')


def severities(check, of):
    module = supplies if any(one.name == check for one in supplies.CHECKS) else joined_supplies
    return [finding.severity for finding in run(module, check, of)[0]]


class Given(Survey):
    """A survey with electrics of our own."""

    def __init__(self, of, **figures):
        super().__init__(of.build)
        self.given = Electrics(**figures)

    @cached_property
    def electrics(self):
        return self.given


# -- load: 80 % for continuous load (NFPA 70 210.19(A)(1)); a white and 1k on 12 V take 9 mA, 10.6 mA at worst


@pytest.mark.parametrize(("count", "severity"), [(60, []), (90, ["caution"]), (120, ["stop"])])
def test_share_of_its_rating(count, severity):
    assert severities("supply.overload", survey(lamps=string(parallel=count))) == severity


# 11 whites of 9 mA take 99 mA, 117 mA at worst
@pytest.mark.parametrize(
    ("limit", "severity"), [("120 mA", []), ("110 mA", ["caution"]), ("95 mA", ["stop"])]
)
@pytest.mark.parametrize("rated", ["1 A", "500 mA"])
def test_a_limit_below_its_rating_is_what_it_gives(rated, limit, severity):
    limited = (
        f'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "{rated}"\ncurrent_limit = "{limit}"'
    )
    assert severities("supply.overload", survey(supply=limited, lamps=string(parallel=11))) == severity


def test_a_limit_above_its_rating_changes_nothing():
    limited = 'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "100 mA"\ncurrent_limit = "150 mA"'
    (finding,), _ = run(supplies, "supply.overload", survey(supply=limited, lamps=string(parallel=11)))
    assert (finding.severity, finding.path) == ("caution", ("supply", "main"))


def test_a_motor_takes_what_it_may():
    motor = (
        '[[load]]\nname = "winch"\ncircuit = "lights"\nplace = "hull"\ntypical = "300 mA"\nmost = "{most}"\n'
    )
    assert severities("supply.overload", survey(lamps=motor.format(most="400 mA"))) == []
    assert severities("supply.overload", survey(lamps=motor.format(most="900 mA"))) == ["caution"]
    assert severities("supply.overload", survey(lamps=motor.format(most="1.1 A"))) == ["stop"]


def test_usb_owes_half_an_ampere():
    # USB 2.0: 500 mA
    usb = 'kind = "usb"\nplace = "base"\nport = "plain"'
    assert severities(
        "supply.overload", survey(supply=usb, lamps=string(resistor="100 ohm 1/4 W", parallel=40))
    ) == ["stop"]


def test_without_a_resistor_it_is_a_consequence():
    # as warm as what destroys them makes them, each string takes half an ampere
    (finding,), _ = run(supplies, "supply.overload", survey(lamps=string(resistor=None, parallel=3)))
    assert finding.because_of == "lamp.no-resistor:bow lamp"
    assert finding.remedy is None


def test_no_rating_no_judgement():
    unrated = survey(supply='kind = "adaptor"\nplace = "base"\nvolts = "12 V"', lamps=string())
    assert severities("supply.overload", unrated) == []
    findings, (question,) = run(supplies, "supply.no-rating", unrated)
    assert (findings, question.subject, question.vital) == ([], "main", True)
    assert run(supplies, "supply.no-rating", survey()) == ([], [])


@pytest.mark.parametrize(("highest", "rating"), [(0.3, 0.5), (0.41, 1.0), (1.3, 2.0), (9.0, None)])
def test_next_rating(highest, rating):
    assert rating_for(highest, 0.8) == rating


def converter(rated="200 mA", more=""):
    return (
        'kind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\ntolerance = "2 %"\n'
        f'efficiency = "85 %"\nrated = "{rated}"\n{more}'
    )


@pytest.mark.parametrize(("rated", "severity"), [("100 mA", []), ("14 mA", ["caution"]), ("10 mA", ["stop"])])
def test_load_of_a_converter(rated, severity):
    # 5 V, a white and 150 ohm: 12.4 mA
    extra = AUX.format(supply=converter(rated), lamps=second()) + BACK
    assert severities("converter.overload", survey(extra=extra)) == severity
    assert severities("supply.overload", survey(extra=extra)) == []


def test_a_converter_below_its_least_input():
    extra = AUX.format(supply=converter(more='least_input = "15 V"\n'), lamps=second()) + BACK
    (finding,), _ = run(supplies, "converter.no-start", survey(extra=extra))
    assert (finding.severity, finding.subject.name) == ("stop", "aux")
    assert severities("converter.no-start", survey(extra=extra.replace("15 V", "7 V"))) == []


# -- against each other


def test_two_batteries_joined():
    def pack(cells, more=""):
        return (
            f'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = {cells}\n{more}'
        )

    join = '[[join]]\nplace = "hull"\nlines = ["lights", "second"]\n'
    extra = (
        AUX.format(supply=pack(2, 'shares_negative_with = "main"\n'), lamps=second("220 ohm 1/4 W")) + join
    )
    lamps = string("smd-0603-red", "220 ohm 1/4 W")
    (finding,), _ = run(joined_supplies, "supply.backfeed", survey(supply=pack(3), lamps=lamps, extra=extra))
    assert (finding.severity, finding.subject.name) == ("stop", "aux")
    assert (
        severities("supply.backfeed", survey(supply=pack(3), lamps=lamps, extra=extra.replace(join, "")))
        == []
    )


def test_two_adaptors_joined_have_no_solution():
    extra = AUX.format(
        supply='kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nshares_negative_with = "main"',
        lamps=second(),
    )
    clash = survey(extra=extra + '[[join]]\nplace = "base"\nlines = ["main+", "aux+"]\n')
    (finding,), _ = run(joined_supplies, "supply.conflict", clash)
    assert finding.severity == "stop"
    given = {name: figure.value for name, figure in finding.figures.items()}
    assert given == {"main": 12.0, "aux": 5.0, "highest": 12.0, "lowest": 5.0}
    (unsolved,), (question,) = run(joined_supplies, "network.unsolved", clash)
    assert unsolved.because_of == finding.id
    assert question.vital
    assert clash.electrics.lamps == {}  # no figure is given
    assert severities("supply.conflict", survey(extra=extra)) == []
    assert run(joined_supplies, "network.unsolved", survey(extra=extra)) == ([], [])


def test_a_network_that_does_not_converge_says_which_state_and_why():
    (finding,), _ = run(
        joined_supplies,
        "network.unsolved",
        Given(survey(), failed=(("all on", "no end in 60 steps"), ("start", "x"))),
    )
    assert "all on" in finding.says
    assert "no end in 60 steps" in finding.says
    assert "1 other state" in finding.says
    assert finding.because_of is None


def sockets(volts, first="5.5/2.1 mm", then="5.5/2.1 mm", lamps=None):
    aux = f'kind = "adaptor"\nplace = "base"\nvolts = "{volts}"\nrated = "1 A"\nsocket = "{then}"'
    return survey(
        supply=adaptor() + f'\nsocket = "{first}"',
        lamps=string(),
        extra=AUX.format(supply=aux, lamps=lamps or second()) + BACK,
    )


def test_plugs_that_can_be_swapped():
    (finding,), _ = run(joined_supplies, "supply.wrong-adaptor", sockets("5 V"))
    assert (finding.severity, finding.subject.name) == ("stop", "aux")
    # with a fixed 3.03 V it is (12 - 3.03) / 150 = 59.8 mA into a lamp for 20 mA; the die's own resistance of about
    # 11 ohm takes 0.6 V of that
    assert "55.8 mA" in finding.says
    assert severities("supply.wrong-adaptor", sockets("9 V", lamps=second("1k 1/4 W"))) == ["caution"]
    assert severities("supply.wrong-adaptor", sockets("5 V", then="3.5/1.35 mm")) == []
    assert severities("supply.wrong-adaptor", sockets("12 V", lamps=second("1k 1/4 W"))) == []


# with the other pole at its centre it puts everything the wrong way round, and nobody's lamp gets more: supply.polarity
@pytest.mark.parametrize(
    ("first", "then", "wrong", "turned"),
    [
        ("positive", "positive", ["stop"], []), ("negative", "negative", ["stop"], []), ("", "negative", ["stop"], []),
        ("positive", "", ["stop"], []), ("positive", "negative", [], ["stop"]), ("negative", "positive", [], ["stop"]),
    ],
)  # fmt: skip
def test_an_adaptor_with_the_other_pole_is_turned_and_not_too_strong(first, then, wrong, turned):
    plugs = [f"5.5/2.1 mm, centre {pole}" if pole else "5.5/2.1 mm" for pole in (first, then)]
    made = sockets("5 V", *plugs)
    assert severities("supply.wrong-adaptor", made) == wrong
    assert severities("supply.polarity", made) == turned


def test_of_the_adaptors_that_fit_the_strongest_with_the_same_pole_counts():
    third = '[supply.tall]\nkind = "adaptor"\nplace = "base"\nvolts = "{}"\nrated = "1 A"\nsocket = "5.5/2.1 mm, centre {}"\n'
    aux = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nsocket = "5.5/2.1 mm, centre positive"'
    for volts, pole, higher in (
        ("24 V", "positive", "tall"),
        ("24 V", "negative", "main"),
        ("9 V", "positive", "main"),
    ):
        made = survey(
            supply=adaptor() + '\nsocket = "5.5/2.1 mm, centre positive"', lamps=string(),
            extra=AUX.format(supply=aux, lamps=second()) + BACK + third.format(volts, pole),
        )  # fmt: skip
        faults = {fault.lower: fault.higher for fault in made.electrics.wrong_adaptor_faults}
        assert faults["aux"] == higher


@pytest.mark.parametrize(("unloaded", "told"), [("12.5 V", 0), ("17 V", 1)])
def test_an_adaptor_without_regulation(unloaded, told):
    old = f'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "300 mA"\nunloaded = "{unloaded}"'
    tank = survey(supply=old, lamps=string(resistor="300 ohm 1/4 W", series=3, parallel=12))
    findings, _ = run(alone, "supply.unloaded", tank)
    assert [finding.severity for finding in findings] == ["note"] * told
    if told:
        # at worst (17 * 1.05 - 3 * 2.9) / (300 * 0.95 + 5 V / 300 mA): 30 mA
        assert findings[0].figures["current"].value == pytest.approx((17 * 1.05 - 8.7) / 301.7, rel=0.05)


# -- USB


@pytest.mark.parametrize(("asks", "severity"), [("10 mA", []), ("60 mA", ["stop"])])
def test_a_bank_that_switches_off(asks, severity):
    bank = f'kind = "usb"\nplace = "base"\nport = "power-bank"\nswitches_off_below = "{asks}"'
    assert (
        severities("supply.switches-off", survey(supply=bank, lamps=string(resistor="120 ohm 1/4 W")))
        == severity
    )


def test_a_bank_that_its_lowest_load_does_not_keep_on():
    """The lowest load of a supply against the lowest of each lamp, which bench corners and ngspice hold elsewhere."""
    bank = 'kind = "usb"\nplace = "base"\nport = "power-bank"\nswitches_off_below = "{}"'
    lamps = string(resistor="120 ohm 1/4 W", parallel=4)
    of = survey(supply=bank.format("1 mA"), lamps=lamps)
    figures = of.electrics.supplies["main"]
    lowest = 4 * of.electrics.lamps["bow lamp"].lowest
    # a lamp's own lowest is that of the moment at which it comes on; once warm it takes a little more
    assert lowest < figures.least_average < 1.1 * lowest
    assert figures.least_average < figures.average
    for asks, severity in (
        (0.99 * figures.least_average, []),
        (0.99 * figures.average, ["caution"]),
        (1.01 * figures.average, ["stop"]),
    ):
        one = survey(supply=bank.format(f"{asks * 1e3:.3f} mA"), lamps=lamps)
        assert severities("supply.switches-off", one) == severity


def test_a_bank_that_says_nothing_of_it():
    bank = 'kind = "usb"\nplace = "base"\nport = "power-bank"'
    few = survey(supply=bank, lamps=string(resistor="120 ohm 1/4 W"))
    many = survey(supply=bank, lamps=string(resistor="120 ohm 1/4 W", parallel=12))
    assert len(run(supplies, "supply.switches-off", few)[1]) == 1
    assert run(supplies, "supply.switches-off", many) == ([], [])


@pytest.mark.parametrize(("said", "findings", "questions"), [("true", 0, 0), ("false", 1, 0), (None, 0, 1)])
def test_type_c(said, findings, questions):
    source = 'kind = "usb"\nplace = "base"\nport = "type-c"\n' + (f"cc_resistors = {said}" if said else "")
    found, asked = run(
        supplies, "supply.type-c", survey(supply=source, lamps=string(resistor="120 ohm 1/4 W"))
    )
    assert (len(found), len(asked)) == (findings, questions)
    assert all(question.vital for question in asked)


@pytest.mark.parametrize(("volts", "questions"), [("5.5 V", 1), ("5.6 V", 1), ("9 V", 1)])
def test_a_port_of_more_volts_is_asked_by_a_board(volts, questions):
    source = f'kind = "usb"\nplace = "base"\nport = "type-c"\nvolts = "{volts}"\n'
    found, asked = run(supplies, "supply.type-c", survey(supply=source))
    assert (found, len(asked)) == ([], questions)
    assert asked[0].what.startswith("whether it gives") is (volts != "5.5 V")
    assert asked[0].vital
    found, asked = run(supplies, "supply.type-c", survey(supply=source + "cc_resistors = false\n"))
    assert (len(found), asked) == (volts == "5.5 V", [])


def test_reverse_current_below_rounding_is_none():
    of = survey()
    figures = of.electrics.supplies["main"]
    assert severities("supply.backfeed", Given(of, supplies={"main": figures._replace(reverse=1e-7)})) == []
    assert severities("supply.backfeed", Given(of, supplies={"main": figures._replace(reverse=1e-3)})) == [
        "stop"
    ]


FLASHING_BANK = 'kind = "usb"\nplace = "base"\nport = "power-bank"\nswitches_off_below = "15 mA"\n{}'


# a minute on, so many seconds off: dark for (1 - share) / rate
@pytest.mark.parametrize(
    ("rate", "after", "severity", "vital"),
    [
        ("60 /min", "", [], []),  # 0.5 s
        ("3 /min", "", [], [True]),  # 10 s, which the quickest banks take for no load
        ("3 /min", 'switches_off_after = "30 s"', [], []),
        ("1 /min", 'switches_off_after = "30 s"', ["stop"], []),
        ("1 /min", 'switches_off_after = "31 s"', [], []),
    ],
)
def test_a_bank_between_flashes(rate, after, severity, vital):
    lamps = string(resistor="120 ohm 1/4 W") + "parallel = 4\n"
    flashing = survey(
        supply=FLASHING_BANK.format(after),
        lamps=lamps,
        circuit=f'behaviour = "flash"\nrate = "{rate}"\non_share = "50 %"',
    )
    findings, questions = run(supplies, "supply.switches-off", flashing)
    assert ([one.severity for one in findings], [one.vital for one in questions]) == (severity, vital)
    figures = flashing.electrics.supplies["main"]
    assert figures.dark == pytest.approx(0.0, abs=1e-9)
    assert figures.gap == pytest.approx(0.5 * 60 / float(rate.split()[0]))


def test_a_steady_lamp_keeps_a_bank_on():
    steady = '[circuit.steady]\nsupply = "main"\n[[lamp]]\nname = "mast"\ncircuit = "steady"\nkind = "smd-0603-red"\nplace = "base"\nresistor = "120 ohm"\n'
    lit = survey(
        supply=FLASHING_BANK.format('switches_off_after = "10 s"'), lamps=string(resistor="120 ohm 1/4 W"),
        circuit='behaviour = "flash"\nrate = "1 /min"', extra=steady,
    )  # fmt: skip
    assert run(supplies, "supply.switches-off", lit) == ([], [])
    assert lit.electrics.supplies["main"].dark == pytest.approx(lit.electrics.lamps["mast"].nominal, rel=0.02)


# an adaptor with the other pole fits the socket of 'aux': told of its board, where it has that socket
@pytest.mark.parametrize(
    ("feeds", "socket", "because"), [("aux", True, "supply.polarity:driver"), ("aux", False, None), ("main", True, None)]
)  # fmt: skip
def test_a_turned_plug_is_told_of_the_board_whose_socket_it_is(feeds, socket, because):
    own = 'socket = "5.5/2.1 mm, centre negative"\n' if socket else ""
    aux = 'kind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nsocket = "5.5/2.1 mm, centre negative"'
    made = survey(
        supply=adaptor() + '\nsocket = "5.5/2.1 mm, centre positive"', lamps=string(),
        extra=AUX.format(supply=aux, lamps=second()) + BACK + f'[board.driver]\nplace = "base"\nsupply = "{feeds}"\n{own}',
    )  # fmt: skip
    turned = [one for one in run(joined_supplies, "supply.polarity", made)[0] if one.subject.kind == "supply"]
    assert [(one.subject.name, one.because_of) for one in turned] == [("aux", because)]
