"""Averages over time, worked by hand."""

import pytest

from postcheck.survey.network.averages import comes_and_goes, flashes, fraction_in_resistor

from .small import lamp, survey

FIVE = (
    '[supply.five]\nkind = "converter"\nfrom = "main"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nefficiency = "80 %"\n'
    '[circuit.beacon]\nsupply = "five"\nbehaviour = "flash"\nrate = "60 /min"\non_share = "10 %"\n'
    '[[run]]\nline = "beacon"\nends = ["base", "hull"]\nlength = "200 mm"\n'
    '[[run]]\nline = "five-"\nends = ["base", "hull"]\nlength = "200 mm"\n'
)


def test_a_flasher_behind_a_converter_spares_its_source_too():
    made = survey(lamps=lamp(at="").replace('"lights"', '"beacon"'), extra=FIVE)
    five, main = made.electrics.supplies["five"], made.electrics.supplies["main"]
    assert five.average == pytest.approx(0.1 * five.nominal, rel=1e-6)
    # power: 5 V x I / 80 % = 12 V x I'
    assert main.nominal == pytest.approx(five.nominal * 5.0 / (0.8 * 12.0), rel=1e-6)
    assert main.average == pytest.approx(0.1 * main.nominal, rel=1e-6)


def test_a_converter_warms_by_its_average():
    text = (
        FIVE.replace('place = "base"', 'place = "hull"')
        + '[[run]]\nline = "main+"\nends = ["base", "hull"]\nlength = "200 mm"\n'
    )
    made = survey(lamps=lamp(at="").replace('"lights"', '"beacon"'), extra=text)
    five = made.electrics.supplies["five"]
    # a quarter of what it gives is lost: 1 / 80 % - 1
    assert dict(made.places["hull"].parts)["five"] == pytest.approx(0.25 * 5.0 * five.average, rel=1e-6)


def test_a_dimmed_circuit_is_off_for_part_of_every_period():
    # while it is off, what shares a return with it gets more; the same build with a flasher says how much
    shared = '[circuit.glow]\nsupply = "main"\nbehaviour = "{how}"\n{more}[[run]]\nline = "glow"\nends = ["base", "hull"]\nlength = "1 m"\n'
    glow = (
        lamp(at="")
        .replace('"lights"', '"glow"')
        .replace("bow lamp", "glow lamp")
        .replace("1k5 1/4 W", "100 ohm 1 W")
    )
    both = lamp(at="") + glow
    dim, flash = (
        survey(lamps=both, extra=shared.format(how=how, more=more), wire="enamel-0.10")
        for how, more in (
            ("dim", 'frequency = "1 kHz"\non_share = "50 %"\n'),
            ("flash", 'rate = "60 /min"\non_share = "50 %"\n'),
        )
    )
    highest = dim.electrics.lamps["bow lamp"].highest
    assert highest == pytest.approx(flash.electrics.lamps["bow lamp"].highest, rel=1e-6)
    steady = survey(lamps=both, extra=shared.format(how="steady", more=""), wire="enamel-0.10")
    assert highest > 1.005 * steady.electrics.lamps["bow lamp"].highest


# energy: what a strip takes, resistors and all, stays where it is
def test_a_strip_warms_by_all_that_it_takes():
    strip = '[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "strip-12v-warm-white-60"\nplace = "hull"\nlength = "100 mm"\n'
    made = survey(hull='access = "cover"', lamps=strip)
    figures = made.electrics.strips["hall"]
    taken = dict(made.places["hull"].parts)["hall"]
    assert taken == pytest.approx(figures.nominal * figures.first_volts, rel=1e-6)


@pytest.mark.parametrize(
    ("said", "flashing", "changes"),
    [
        # to a flash belong three a second, and a tenth of the light
        ('behaviour = "fade"\nrate = "3 Hz"\nleast_share = "90 %"', False, True),
        ('behaviour = "fade"\nrate = "3.01 Hz"\nleast_share = "90 %"', True, True),
        ('behaviour = "fade"\nrate = "3.01 Hz"\nleast_share = "91 %"', False, False),
        ('behaviour = "flash"\nrate = "1 Hz"', True, True),
    ],
)
def test_what_comes_and_goes_as_a_flash_does(said: str, flashing: bool, changes: bool) -> None:
    made = survey(circuit=said)
    circuit = made.build.circuit["lights"]
    assert (flashes(circuit, made.limits), comes_and_goes(circuit, made.limits)) == (flashing, changes)


@pytest.mark.parametrize(("rate", "share"), [("30 /min", 0.5), ("29.9 /min", 1.0)])
def test_a_pulse_of_a_second_still_counts_by_its_average(rate: str, share: float) -> None:
    made = survey(circuit=f'behaviour = "flash"\nrate = "{rate}"\non_share = "50 %"')
    assert fraction_in_resistor(made.build, "lights") == share
