"""Cells where they sit, against makers' sheets and the rules for coin cells and hydrogen."""

from math import cos, pi

import pytest

import postcheck
from postcheck.checks import cells, joined_supplies, light, scope
from tests.survey.small import adaptor, lamp, survey
from tests.write_expected import FAULTY

from .run import run
from .test_batteries import _battery

LI = 'size = "18650"\ncells = 1\nprotected = true'


def in_air_of(celsius: int, chemistry: str = "li-ion", more: str = LI, room: int = 35):
    """A battery with 60 cm2 around it: 3.5 W/(m2 K) x 60 cm2 = 21 mW a kelvin above the room, the load's own included."""
    watts = 0.021 * (celsius - room)
    hull = f'access = "cover"\nmaterial = "polycarbonate"\nsurface = "60 cm2"\nheat = "{watts:.6f} W"'
    return _battery(chemistry, more, "1 uA", "hull", hull)


# sheets of lithium polymer (LP-503759) and LiFePO4 cells (IFR10440): discharge to 60 degC, charge to 45 degC
@pytest.mark.parametrize(
    ("celsius", "severity", "firm"),
    [
        (44, [], False),
        (46, ["note"], False),
        (59, ["note"], False),
        (61, ["stop"], True),
        (70, ["stop"], True),
    ],
)
def test_a_lithium_cell_in_hot_air(celsius, severity, firm):
    findings, _ = run(cells, "battery.hot", in_air_of(celsius))
    assert [finding.severity for finding in findings] == severity
    assert all(bool(finding.firm) == firm for finding in findings)
    assert all(round(finding.figures["air"].value) == celsius for finding in findings)


def test_other_cells_are_not_charged_and_leak_at_most():
    found = [
        [finding.severity for finding in run(cells, "battery.hot", in_air_of(celsius, "alkaline", 'size = "aa"\ncells = 3'))[0]]
        for celsius in (59, 61)
    ]  # fmt: skip
    assert found == [[], ["caution"]]


def test_the_heat_that_is_offered_keeps_a_cell_within_its_limit():
    (finding,), _ = run(cells, "battery.hot", in_air_of(70))
    allowed = finding.figures["allowed"].value
    assert 0.97 * 0.021 * 25 < allowed < 0.021 * 25


@pytest.mark.parametrize(
    ("said", "access", "severity"),
    [
        ('port = "power-bank"', "sealed", ["stop"]),
        ('switches_off_below = "20 mA"', "sealed", ["stop"]),
        ('port = "plain"', "sealed", []),
        ('switches_off_below = "20 mA"', "cover", []),
    ],
)
def test_a_power_bank_is_a_lithium_battery(said, access, severity):
    text = (FAULTY / "battery-lithium-sealed-bank.post.toml").read_text(encoding="utf-8")
    made = text.replace('port = "power-bank"', said).replace('access = "sealed"', f'access = "{access}"')
    findings = postcheck.check(postcheck.loads(made), remedies=False).files[0].findings
    found = [finding for finding in findings if finding.check == "battery.lithium-sealed"]
    assert [finding.severity for finding in found] == severity
    assert all(finding.firm and "lithium" in finding.says for finding in found)


COVER, SEALED, OPEN = 'access = "cover"', 'access = "sealed"', 'access = "open"'


# UL 4200A, 16 CFR 1263: coin and button cells of any chemistry; a tool, or two movements at once
@pytest.mark.parametrize(
    ("chemistry", "more", "hull", "found"),
    [
        ("lithium-coin", 'size = "cr2032"\ncells = 1', COVER, 1),
        ("lithium-coin", 'capacity = "100 mAh"\ncells = 1', COVER, 1),
        ("alkaline", 'size = "lr44"\ncells = 2', COVER, 1),
        ("alkaline", 'size = "aaa"\ncells = 2', COVER, 0),
        ("lithium-coin", 'size = "cr2032"\ncells = 1', OPEN, 1),
        ("lithium-coin", 'size = "cr2032"\ncells = 1', SEALED, 0),
        ("lithium-coin", 'size = "cr2032"\ncells = 1', f'{COVER}\nopens_with = "tool"', 0),
        ("lithium-coin", 'size = "cr2032"\ncells = 1', f'{COVER}\nopens_with = "two movements"', 0),
    ],
)
def test_coin_cells_and_children(chemistry, more, hull, found):
    findings, _ = run(cells, "battery.coin", _battery(chemistry, more, "1 mA", "hull", hull))
    assert [finding.severity for finding in findings] == ["caution"] * found
    assert all("child" in finding.firm for finding in findings)


@pytest.mark.parametrize(
    ("hull", "severity"),
    [(COVER, ["stop"]), (SEALED, ["stop"]), (OPEN, []), (f"{COVER}\nvented = true", [])],
)
def test_hydrogen_of_lead_acid(hull, severity):
    made = _battery("lead-acid", 'size = "12v-1.2ah"', "10 mA", "hull", hull)
    findings, _ = run(cells, "battery.gas", made)
    assert [finding.severity for finding in findings] == severity
    assert all("hydrogen" in finding.firm for finding in findings)


@pytest.mark.parametrize(
    ("hull", "socket", "severity"),
    [
        (COVER, "", ["stop"]), (SEALED, "", ["stop"]), (OPEN, "", []), (COVER, 'socket = "5.5/2.1 mm"', []),
    ],
)  # fmt: skip
def test_mains_stays_outside(hull, socket, severity):
    made = survey(supply=adaptor().replace('"base"', '"hull"') + f"\n{socket}", hull=hull)
    findings, _ = run(scope, "supply.mains-inside", made)
    assert [finding.severity for finding in findings] == severity
    assert all(finding.firm for finding in findings)


def test_no_advice_moves_an_adaptor_into_a_body():
    sealed = FAULTY / "supply-mains-inside-sealed.post.toml"
    report = postcheck.check(postcheck.load(sealed)).files[0]
    assert [finding.id for finding in report.findings] == ["supply.mains-inside:main"]
    # with a board beside it that does belong behind a cover
    text = sealed.read_text(encoding="utf-8") + '[board.blink]\nplace = "hull"\nsupply = "main"\n'
    findings = postcheck.check(postcheck.loads(text)).files[0].findings
    (found,) = (finding for finding in findings if finding.check == "access.sealed")
    assert "'blink'" in (found.remedy or "")
    assert "'main'" not in (found.remedy or "")


@pytest.mark.parametrize(("said", "vital"), [("", True), ('open_volts = "30 V"', False)])
def test_an_inverter_without_its_open_volts_is_asked_about(said, vital):
    foil = f'[[load]]\nname = "foil"\nkind = "inverter"\ncircuit = "lights"\nplace = "hull"\ntypical = "40 mA"\n{said}\n'
    _, questions = run(scope, "scope.volts", survey(extra=foil))
    assert [question.vital for question in questions] == [True] * vital


@pytest.mark.parametrize(
    ("one", "other", "found"),
    [
        ("5.5/2.1 mm, centre positive", "5.5/2.1 mm centre negative", 1),
        ("5.5/2.1 mm, centre positive", "5.5/2.1 mm (center +)", 0),
        ("5.5/2.1 mm, centre positive", "5.5/2.5 mm, centre negative", 1),
        ("5.5/2.1 mm, centre positive", "5.5/2.1 mm", 0),
        ("barrel 5.5/2.1, tip positive", "negative centre, barrel 5.5/2.1", 1),
        ("5.5/2.1 mm, tip -", "5.5/2.1 mm, positive centre", 1),
    ],
)
def test_the_pole_at_the_centre(one, other, found):
    aux = (
        "[supply.aux]\n"
        + adaptor()
        + f'\nsocket = "{other}"\n[circuit.tank]\nsupply = "aux"\n'
        + lamp().replace('"lights"', '"tank"')
    )
    aux = (
        aux.replace('name = "bow lamp"', 'name = "tank lamp"')
        .replace('place = "bow"', 'place = "base"')
        .replace("120 mm to hull", "9 mm to base")
    )
    findings, _ = run(
        joined_supplies, "supply.polarity", survey(supply=adaptor() + f'\nsocket = "{one}"', extra=aux)
    )
    # 12 V the wrong way round are more than the 5 V that an LED is tested at
    assert [finding.severity for finding in findings] == ["stop"] * found


# IEC 62471 judges ultraviolet of 315 to 400 nm; a blue lamp of 20 mA is no strong one
@pytest.mark.parametrize(
    ("kind", "cases"),
    [
        ("smd-0603-uv", ["ultraviolet"]),
        ("smd-0603-blue", []),
        ("smd-0603-white", []),
        ("led-5mm-uv", ["ultraviolet"]),
    ],
)
def test_light_that_can_hurt_eyes(kind, cases):
    findings, _ = run(light, "lamp.eyes", survey(lamps=lamp().replace("smd-0402-red", kind)))
    assert [(finding.case or "").rstrip(":") for finding in findings] == cases


# a 0603 has no lens: watts/(pi 0.2**2); others may gather the same into 20 degrees: watts/(2 pi (1 - cos 10 deg) 0.2**2), 33
# times as much; IEC 62471 exempts up to 10 W/m2
@pytest.mark.parametrize(
    ("kind", "resistor", "count", "severity"),
    [("smd-0603-uv", "330 ohm 1 W", 1, "note"), ("led-5mm-uv", "470 ohm 1 W", 1, "note"), ("led-5mm-uv", "220 ohm 1 W", 1, "caution"),
     ("led-5mm-uv", "470 ohm 1 W", 3, "caution")],
)  # fmt: skip
def test_near_ultraviolet_by_what_falls_on_an_eye(kind, resistor, count, severity):
    said = lamp().replace("1k5 1/4 W", resistor).replace("resistor", f"parallel = {count}\nresistor")
    of = survey(lamps=said.replace("smd-0402-red", kind))
    (finding,), _ = run(light, "lamp.eyes", of)
    (figures,) = of.electrics.lamps.values()
    watts = 0.4 * count * figures.nominal * figures.part.dice[0].forward[1]
    gathered = pi if kind.startswith("smd") else 2.0 * pi * (1.0 - cos(0.34907 / 2.0))
    at_eye = watts / gathered / 0.04
    assert ((at_eye > 10.0), finding.severity) == (severity == "caution", severity)
    if severity == "caution":
        assert finding.figures["most"].value == pytest.approx(at_eye)
