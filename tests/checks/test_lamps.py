from types import SimpleNamespace

import pytest

from postcheck.checks import brightness, chips, lamps, strings, unlike
from postcheck.checks.known import bare_on
from postcheck.description.limits import limit_changes
from postcheck.limits import Limits
from postcheck.remedies.proposal import changed
from postcheck.remedies.resistor import resistance_for
from postcheck.remedies.table import proposals
from postcheck.survey import Survey
from postcheck.survey.network.resistor_choice import body_for
from tests.survey.small import adaptor, survey

from .run import run

LAMPS = SimpleNamespace(
    CHECKS=(*lamps.CHECKS, *chips.CHECKS, *strings.CHECKS, *brightness.CHECKS, *unlike.CHECKS)
)
USB = 'kind = "usb"\nplace = "base"\nport = "plain"'


def string(kind="smd-0603-white", resistor="1k 1/4 W", **more):
    text = f'[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "{kind}"\nplace = "bow"\nlead = "120 mm to hull"\n'
    if resistor:
        text += f'resistor = "{resistor}"\n'
    return text + "".join(f"{key} = {value}\n" for key, value in more.items())


def own_kind(rated="20 mA", forward="3.2 V", reverse="5 V"):
    # one forward voltage without a spread, and no change with heat: only the supply and the resistor deviate
    return (
        f'[lamp_kind.own]\nforward = "{forward}"\nat = "20 mA"\nlow_forward = "2.85 V"\nlow_at = "5 mA"\n'
        f'rated = "{rated}"\nreverse = "{reverse}"\nper_kelvin = "0 mV"\n'
    )


def severities(check, **parts):
    return [finding.severity for finding in run(LAMPS, check, survey(**parts))[0]]


# A white 0603 (2.9/3.2/3.6 V at 20 mA, 20 mA continuous: OptoSupply OSXX0603C1C). By I = (V - Vf) / R on 12 V 5 %:
# 330 ohm 26.7 mA, a third over; 430 ohm 20.5 mA, just over; 470 ohm 18.7 mA.
@pytest.mark.parametrize(
    ("resistor", "severity"),
    [("330 ohm 1 W", ["stop"]), ("430 ohm 1/2 W", ["caution"]), ("470 ohm 1/2 W", [])],
)
def test_one_white_on_twelve_volts(resistor, severity):
    assert severities("lamp.over-rating", lamps=string(resistor=resistor)) == severity


# three whites and 150 ohm on 12 V 5 %: 7.9/17.1/25.3 mA by hand with r_d 18 ohm; the commonest string of the trade
@pytest.mark.parametrize("resistor", ["150 ohm 1/4 W", "330 ohm 1/4 W", "470 ohm 1/4 W"])
def test_three_whites_are_sound(resistor):
    whites = survey(lamps=string(resistor=resistor, series=3))
    for check in LAMPS.CHECKS:
        assert run(LAMPS, check.name, whites) == ([], [])


def test_over_rating_gives_its_figures_and_limit():
    (finding,), _ = run(LAMPS, "lamp.over-rating", survey(lamps=string(resistor="330 ohm 1 W")))
    # (12 - Vf) / 330 with 3.2 V at 20 mA and a slope of 21 ohm at 20 mA (two-point fit)
    assert finding.figures["nominal"].value == pytest.approx((12 - 3.2 + 0.021 * 20) / (330 + 21), rel=0.02)
    assert finding.figures["rated"].value == 0.02
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(1.25 * 0.02)
    assert finding.path == ("lamp", 0)


def test_limit_changed_in_the_file_counts():
    strict = '[[limit]]\nname = "lamp.current.stop"\nvalue = "40 %"\nreason = "long life"\n'
    build = survey(lamps=string(), extra=strict).build  # 9 mA where 20 mA is the rating
    assert run(LAMPS, "lamp.over-rating", Survey(build))[0] == []
    (finding,), _ = run(LAMPS, "lamp.over-rating", Survey(build, Limits(limit_changes(build)[0])))
    assert finding.severity == "stop"
    assert finding.limit is not None
    assert "long life" in finding.limit.source


def test_a_filament_goes_by_its_volts():
    grain = string("rice-12v", None)
    assert severities("lamp.over-rating", lamps=grain) == []
    assert severities("lamp.over-rating", lamps=string("rice-3v", None), supply=USB) == ["stop"]
    # it shines either way round
    turned = string("rice-3v", None, backwards="true")
    assert severities("lamp.over-rating", lamps=turned, supply=USB) == ["stop"]


# -- no resistor


def test_no_resistor_is_told_once():
    bare = survey(lamps=string(resistor=None))
    (finding,), _ = run(LAMPS, "lamp.no-resistor", bare)
    assert finding.severity == "stop"
    assert "burns out" in finding.says
    assert " mA, " not in finding.says  # five times its rating: beyond that the curve means nothing
    assert "nominal" not in finding.figures
    for check in LAMPS.CHECKS:
        if check.name != "lamp.no-resistor":
            assert run(LAMPS, check.name, bare)[0] == []


def test_constant_current_needs_no_resistor():
    steady = 'output = "20 mA constant, compliance 1 V"'
    assert severities("lamp.no-resistor", lamps=string(resistor=None, series=3), circuit=steady) == []
    assert severities("lamp.over-rating", lamps=string(resistor=None, series=3), circuit=steady) == []
    above = 'output = "22 mA constant, compliance 1 V"'
    assert severities("lamp.over-rating", lamps=string(resistor=None, series=2), circuit=above) == ["caution"]


def test_a_coin_cell_limits_by_itself():
    cell = 'kind = "battery"\nplace = "base"\nchemistry = "lithium-coin"\nsize = "cr2032"\ncells = 1'
    assert severities("lamp.no-resistor", lamps=string("led-3mm-blue", None), supply=cell) == ["note"]


# -- strobe: the pulse rating (100 mA) holds for 0.1 ms at 1/10 (OptoSupply OSXX0603C1C)


@pytest.mark.parametrize(
    ("share", "over_rating", "strobe"),
    [("0.02 %", [], []), ("0.021 %", [], ["stop"]), ("4 %", [], ["stop"])],  # 0.1 ms, 0.105 ms, 20 ms at 2 Hz
)
def test_pulse_rating_up_to_a_tenth_of_a_millisecond(share, over_rating, strobe):
    flash = f'behaviour = "flash"\nrate = "2 Hz"\non_share = "{share}"'
    parts = {"lamps": string(resistor="180 ohm 2 W"), "circuit": flash}
    assert severities("lamp.over-rating", **parts) == over_rating
    assert severities("lamp.strobe", **parts) == strobe


@pytest.mark.parametrize(
    ("rate", "share", "reason"),
    [
        (
            "2 kHz",
            "20 %",
            "at most 10 % of the time, and this lamp is on for 20 %.",
        ),  # 0.1 ms: short enough, but not rare enough
        ("2 Hz", "4 %", "does not count here. It holds for pulses of at most 100 us. A die"),
        (
            "2 Hz",
            "40 %",
            "pulses of at most 100 us. It holds for at most 10 % of the time, and this lamp is on for 40 %.",
        ),
    ],
)
def test_the_condition_of_the_pulse_rating_that_is_missed_is_named(rate, share, reason):
    dim = f'behaviour = "dim"\nfrequency = "{rate}"\non_share = "{share}"'
    if rate == "2 Hz":
        dim = f'behaviour = "flash"\nrate = "{rate}"\non_share = "{share}"'
    (finding,), _ = run(LAMPS, "lamp.strobe", survey(lamps=string(resistor="180 ohm 2 W"), circuit=dim))
    assert reason in finding.why
    assert ("direct current" in finding.why) == (rate == "2 Hz")


def test_no_figure_is_given_for_a_lamp_that_burns_out():
    (finding,), _ = run(LAMPS, "lamp.over-rating", survey(lamps=string(resistor="22 ohm 5 W")))
    assert "burns out" in finding.says
    assert set(finding.figures) == {"rated"}


def test_even_the_pulse_rating_ends():
    flash = 'behaviour = "flash"\nrate = "2 Hz"\non_share = "0.01 %"'
    (finding,), _ = run(LAMPS, "lamp.over-rating", survey(lamps=string(resistor="62 ohm 5 W"), circuit=flash))
    assert finding.figures["rated"].value == 0.1


def test_dimming_at_full_peak_counts_by_its_peak():
    dim = 'behaviour = "dim"\nfrequency = "2 kHz"\non_share = "40 %"'
    assert severities("lamp.strobe", lamps=string(resistor="330 ohm 1 W"), circuit=dim) == ["stop"]
    assert severities("lamp.strobe", lamps=string(), circuit=dim) == []


# -- shared resistor


def test_two_whites_behind_one_resistor():
    # 5 V, two whites, 45 ohm: 35.6 and 4.0 mA with 2.9 and 3.6 V (worked by hand); here 2.9 against 3.2 V
    pair = string(resistor="47 ohm 1/4 W", parallel=2, one_resistor="true")
    (finding,), _ = run(LAMPS, "lamp.shared-resistor", survey(lamps=pair, supply=USB))
    assert finding.severity == "stop"
    # 0.3 V apart over the slope of a white, 21 ohm at 20 mA, less what its own heat takes off it: 3.1 V x 3 mV/K x
    # 500 K/W (the warmer one takes more, and gets warmer)
    apart = finding.figures["greatest"].value - finding.figures["least"].value
    assert apart == pytest.approx(0.3 / (21 - 3.1 * 0.003 * 500), rel=0.05)
    total = finding.figures["greatest"].value + finding.figures["least"].value
    assert total * 47 + 3.2 == pytest.approx(5.0, abs=0.25)  # Kirchhoff: what the resistor leaves
    assert run(LAMPS, "lamp.over-rating", survey(lamps=pair, supply=USB))[0] == []


# (5 - 3.2) V / 27 ohm = 62 mA by typical lamps (each of two takes 31 mA), behind 47 ohm each 19 mA; rated 20 mA
@pytest.mark.parametrize(("ohms", "told"), [("27 ohm 1/2 W", True), ("47 ohm 1/4 W", False)])
def test_too_much_for_lamps_that_share_evenly_is_told_of_each(ohms, told):
    pair = string(resistor=ohms, parallel=2, one_resistor="true")
    assert bool(severities("lamp.over-rating", lamps=pair, supply=USB)) is told


def test_matched_lamps_may_share():
    pair = {"parallel": 2, "one_resistor": "true", "matched": "true"}
    assert (
        severities("lamp.shared-resistor", lamps=string(resistor="120 ohm 1/4 W", **pair), supply=USB) == []
    )
    assert severities("lamp.over-rating", lamps=string(resistor="82 ohm 1/4 W", **pair), supply=USB) == []
    assert severities("lamp.over-rating", lamps=string(resistor="15 ohm 1/4 W", **pair), supply=USB) == [
        "stop"
    ]


# two of 16.5 mA behind 270 ohm on 12 V: with one dark (12 - 3.2) V / 270 ohm = 33 mA on 20, behind 560 ohm 16
@pytest.mark.parametrize(("ohms", "told"), [("270 ohm 1 W", ["caution"]), ("560 ohm 1/2 W", [])])
def test_one_of_two_matched_lamps_goes_dark(ohms, told):
    pair = string(resistor=ohms, parallel=2, one_resistor="true", matched="true")
    assert severities("lamp.shared-resistor", lamps=pair) == told


# -- constant current and parallel strings: Kirchhoff's current law


@pytest.mark.parametrize(("steady", "told"), [("20 mA", False), ("22 mA", True)])
def test_one_of_two_strings_opens(steady, told):
    output = f'output = "{steady} constant, compliance 1 V"'
    ballast = string(resistor="100 ohm 1/4 W", parallel=2)
    findings, _ = run(LAMPS, "lamp.sibling-open", survey(lamps=ballast, circuit=output))
    assert bool(findings) is told
    if told:
        assert findings[0].figures["left"].value == pytest.approx(0.022)


# -- backwards


LOW = adaptor().replace("12 V", "4.7 V")


@pytest.mark.parametrize(
    ("supply", "highest", "severity"),
    [(adaptor(), 12.6, "stop"), (USB, 5.25, "stop"), (LOW, 4.935, "caution")],
)
def test_the_wrong_way_round(supply, highest, severity):
    # the supply at its highest, 5 % up (USB 2.0: 4.75 to 5.25 V), against the usual 5 V of a leakage test
    (finding,), _ = run(LAMPS, "lamp.backwards", survey(lamps=string(backwards="true"), supply=supply))
    assert finding.severity == severity
    assert finding.figures["reverse"].value == pytest.approx(highest, rel=1e-3)
    assert "tested at 5 V" in finding.says


def test_one_die_of_a_string_may_take_all_the_reverse_voltage():
    three = string(backwards="true", series=3)
    (finding,), _ = run(LAMPS, "lamp.backwards", survey(lamps=three))
    assert "may take nearly all" in finding.says
    assert finding.figures["reverse"].value == pytest.approx(12.6, rel=1e-3)


def test_a_lamp_that_stands_its_reverse_voltage():
    turned = string("own", backwards="true")
    assert severities("lamp.backwards", lamps=turned, extra=own_kind(reverse="15 V")) == ["caution"]


# -- too little, unlike, not as wanted


def test_dim_and_dark():
    # V(1 mA) of a white is 2.69 V by its fit: five need 13.5 V and more
    assert severities("lamp.dim", lamps=string(resistor="150 ohm 1/4 W", series=5)) == ["stop"]
    assert severities("lamp.dim", lamps=string(resistor="47 ohm 1/4 W", series=4)) == ["caution"]
    assert severities("lamp.dim", lamps=string(resistor="10k 1/4 W")) == ["note"]
    assert severities("lamp.dim", lamps=string(resistor="10k 1/4 W", wanted='"0.9 mA"')) == []
    # 4.5 and 2.2 % of 20 mA, and 1.8 and 0.9 %
    for ohms, told in (("10k", "note"), ("20k", "note"), ("24k", "caution"), ("47k", "caution")):
        assert severities("lamp.dim", lamps=string(resistor=f"{ohms} 1/4 W")) == [told]


@pytest.mark.parametrize(
    ("kind", "volts", "series", "told"),
    [
        ("smd-0603-white", "1 V", 1, ["stop"]), ("smd-0603-white", "2.6 V", 1, ["caution"]),
        ("smd-0603-white", "2.7 V", 1, []), ("smd-0603-white", "5 V", 3, ["stop"]), ("led-3mm-red", "3 V", 1, []),
    ],
)  # fmt: skip
def test_a_bare_lamp_on_too_few_volts_is_dark(kind, volts, series, told):
    # V(1 mA) of a white is 2.69 V, of which 0.4 mA are far too dim; a red at 3 V burns out and is told as that
    supply = f'kind = "adaptor"\nplace = "base"\nvolts = "{volts}"\ntolerance = "1 %"\nrated = "1 A"'
    assert severities("lamp.dim", lamps=string(kind, None, series=series), supply=supply) == told


def test_two_cells_on_a_bare_red_are_not_dim():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 2'
    assert severities("lamp.dim", lamps=string("led-3mm-red", None), supply=cells) == []


def test_an_emptying_battery_is_not_a_dim_lamp():
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 3'
    assert severities("lamp.dim", lamps=string(resistor="68 ohm 1/4 W"), supply=cells) == []


def two(first, second, more=""):
    return string(resistor=first) + string(resistor=second).replace("bow lamp", "stern lamp") + more


@pytest.mark.parametrize(
    ("second", "severity"),
    [("1k 1/4 W", []), ("1.1k 1/4 W", []), ("1.5k 1/4 W", ["note"]), ("10k 1/4 W", ["note"])],
)
def test_unlike_lamps(second, severity):
    assert severities("lamp.unequal", lamps=two("1k 1/4 W", second)) == severity


def test_of_several_unlike_ones_all_are_named_and_no_like_one():
    """(12 V - 3 V) over 1k, 1k, 1k, 10k and 3k3: 9 mA three times, 0.9 mA, which is farthest off, and 2.7 mA."""
    values = {"port": "1k", "bow": "1k", "mast": "1k", "stern": "10k", "cabin": "3k3"}
    several = "".join(
        string(resistor=f"{ohms} 1/4 W").replace("bow lamp", name) for name, ohms in values.items()
    )
    (finding,), _ = run(LAMPS, "lamp.unequal", survey(lamps=several))
    assert finding.subject.name == "stern"
    assert [one.name for one in finding.parts["also"]] == ["cabin"]


def test_unlike_by_their_leads_is_a_caution():
    long = two("100 ohm 1/4 W", "100 ohm 1/4 W").replace("120 mm to hull", "5 m of enamel-0.063 to hull", 1)
    assert severities("lamp.unequal", lamps=long, supply=USB) == ["caution"]


def test_unlike_on_purpose():
    assert severities("lamp.unequal", lamps=two("1k 1/4 W", "10k 1/4 W", 'wanted = "0.9 mA"\n')) == []


@pytest.mark.parametrize(
    ("wanted", "severity"), [("9 mA", []), ("7.5 mA", []), ("6 mA", ["caution"]), ("15 mA", ["caution"])]
)
def test_not_as_wanted(wanted, severity):
    assert severities("lamp.not-as-wanted", lamps=string(wanted=f'"{wanted}"')) == severity


# -- remedies


def test_resistance_for_a_current():
    # R = (V - Vf) / I: 12 V and 3.2 V at 20 mA, 440 ohm
    (lamp,) = survey(lamps=string("own", "1k 1/4 W"), extra=own_kind()).electrics.lamps.values()
    assert resistance_for(lamp, 0.02) == pytest.approx((12 - 3.2) / 0.02, rel=0.005)


def test_resistance_for_a_current_worked_example():
    # 5 V, a white of 3.2 V at 15 mA: 120 ohm (worked example); the curve lies at 3.10 V there
    (lamp,) = survey(lamps=string(resistor="220 ohm 1/4 W"), supply=USB).electrics.lamps.values()
    assert resistance_for(lamp, 0.015) == pytest.approx(120, rel=0.1)


@pytest.mark.parametrize(
    ("watts", "power"),
    [(0.046, 0.125), (0.093, 0.125), (0.094, 0.25), (0.187, 0.25), (0.19, 0.5), (3.7, 5.0), (3.8, None)],
)
def test_the_power_that_is_not_judged_too_hot(watts, power):
    # three quarters of what it is made for: a little below the 80 % of the limit resistor.power.caution
    found = body_for(watts, Limits())
    assert (found[0] if found else None) == power


@pytest.mark.parametrize(
    ("check", "lamps_text", "parts"),
    [
        ("lamp.over-rating", string(resistor="330 ohm 1 W"), {}),
        ("lamp.over-rating", string(resistor="82 ohm 1/4 W", series=3), {}),
        ("lamp.not-as-wanted", string(wanted='"3 mA"'), {}),
        ("lamp.no-resistor", string(resistor=None), {}),
        (
            "lamp.shared-resistor",
            string(resistor="27 ohm 1 W", parallel=4, one_resistor="true"),
            {"supply": USB},
        ),
        ("lamp.backwards", string(backwards="true"), {}),
    ],
)
def test_a_proposal_holds_when_solved_again(check, lamps_text, parts):
    before = survey(lamps=lamps_text, **parts)
    (finding,), _ = run(LAMPS, check, before)
    proposed = list(proposals(before, finding))
    assert proposed
    left = [run(LAMPS, check, Survey(changed(before.build, proposal.changes)))[0] for proposal in proposed]
    assert [] in left
    for proposal in proposed:
        assert all(change.written for change in proposal.changes)


def test_a_dark_lamp_is_told_what_it_takes_and_what_there_is():
    # white 0603, 3.2 V at its rating by the catalogue: three in series take 9.6 V
    (finding,), _ = run(
        LAMPS, "lamp.dim", survey(lamps=string(resistor="150 ohm 1/4 W", series=3), supply=USB)
    )
    assert finding.says == "'bow lamp' gets 0 mA and stays dark."
    assert "its 3 LEDs in series take about 9.6 V. Its joints get 5 V" in finding.why
    (finding,), _ = run(LAMPS, "lamp.dim", survey(lamps=string(resistor="10M 1/4 W", series=1), supply=USB))
    assert "its resistor lets no more through" in finding.why


def test_the_cause_is_sought_on_its_own_circuit():
    made = survey(lamps=string(resistor=None), extra='[circuit.others]\nsupply = "main"\n')
    assert bare_on(made, {"lights"}) == bare_on(made, {"lights", "others"}) == "lamp.no-resistor:bow lamp"
    assert bare_on(made, {"others"}) is None
    assert bare_on(survey(lamps=string()), {"lights"}) is None


def test_no_resistor_gives_no_current():
    figures = survey(lamps=string()).electrics.lamps["bow lamp"]
    assert resistance_for(figures, 0.0) is None
    assert resistance_for(figures, -1e-3) is None
    # white, 3.0 V at 9 mA: (12 V - 3.0 V) / 9 mA, less the few ohms of wire
    assert resistance_for(figures, 9e-3) == pytest.approx(1000.0, rel=0.02)


# (12 V - 3.17 V) at 16 mA 552 ohm, and behind an output that drops 2 V 427
@pytest.mark.parametrize(("output", "ohms"), [("", 560), ('output = "100 mA, 2 V drop"', 470)])
def test_a_resistor_still_to_be_said_is_worked_out_behind_its_output(output, ohms):
    bare = '[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "own"\nplace = "bow"\n'
    made = survey(lamps=bare, circuit=output, extra=own_kind() + '[stock]\nseries = "E12"\n')
    (question,) = run(LAMPS, "lamp.no-resistor", made)[1]
    assert question.missing == f'its resistor, such as resistor = "{ohms} ohm"'
