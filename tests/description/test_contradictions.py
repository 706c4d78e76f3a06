"""What contradicts itself is refused in words that name it; what stands beside it and makes sense is read."""

from __future__ import annotations

import pytest

from postcheck.description.problems import BuildError
from tests.survey.small import lamp, survey

FIVE = '[supply.five]\nkind = "converter"\nfrom = "{}"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\n'
NINE = FIVE.replace("five", "nine").replace('"5 V"', '"9 V"')
BOARD = '[board.winker]\nplace = "base"\nsupply = "{}"\n[circuit.one]\nboard = "winker"\nchannel = 1\n[circuit.two]\nboard = "winker"\nchannel = {}\n'
ADAPTOR = 'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\nrated = "1 A"\n'
KIND = "[lamp_kind.own]\n{}\n"
RUN = '[[run]]\nname = "more"\n{}\nlength = "100 mm"\n'
STRINGS = '[[lamp]]\nname = "bow lamp"\ncircuit = "lights"\nkind = "smd-0402-red"\nplace = "bow"\nparallel = 2\n{}\n'
PACK = '[supply.pack]\nkind = "battery"\nchemistry = "li-ion"\nsize = "18650"\nplace = "base"\nprotected = true\n{}\n'
PORT = '[supply.port]\nkind = "usb"\nport = "type-c"\nplace = "base"\nvolts = "{}"\ncc_resistors = {}\n'

CASES = [
    (FIVE.format("main"), None),
    (FIVE.replace('from = "{}"\n', ""), "converter 'five' needs `from`"),
    (FIVE.format("nine") + NINE.format("five"), "converters feed each other in a circle: five from nine from five"),
    (FIVE.format("five"), "converters feed each other in a circle: five from five"),
    (FIVE.format("nine") + NINE.format("main"), None),
    (BOARD.format("main", 2), None),
    (BOARD.format("main", 1), "channel 1 of board 'winker' already drives circuit 'one'"),
    (BOARD.format("main", 2).replace("[circuit.one]\n", '[circuit.one]\nsupply = "five"\n') + FIVE.format("main"),
     "board 'winker' is fed by 'main', not by 'five'"),
    ('[circuit."lights+"]\nsupply = "main"\n', "the name 'lights+' ends like the pole of a supply"),
    (KIND.format('kind = "filament"\nrated = "60 mA"'), "filament lamp 'own' needs `volts`"),
    (KIND.format('kind = "filament"\nvolts = "6 V"'), "filament lamp 'own' needs `rated`"),
    (KIND.format('kind = "filament"\nvolts = "6 V"\nrated = "60 mA"'), None),
    (KIND.format('rated = "20 mA"'), "LED 'own' needs `forward`"),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nlow_forward = "2.1 V"\nlow_at = "5 mA"'), "the second point of the curve must lie below the first"),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nlow_forward = "1.9 V"\nlow_at = "30 mA"'), "the second point of the curve must lie below the first"),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nlow_forward = "2 V"\nlow_at = "5 mA"'), "the second point of the curve must lie below the first"),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nlow_forward = "1.9 V"\nlow_at = "20 mA"'), "the second point of the curve must lie below the first"),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nlow_forward = "1.9 V"\nlow_at = "5 mA"'), None),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nper_kelvin = "-20 mV"'), None),
    (KIND.format('rated = "20 mA"\nforward = "2 V"\nper_kelvin = "-20.1 mV"'), "no LED of 2 V changes by -20.1 mV per kelvin"),
    ('[[strip]]\nname = "hall"\ncircuit = "lights"\nkind = "smd-5050-warm-white"\nplace = "hull"\n', "strip 'hall' needs `length` or `segments`"),
    (RUN.format('line = "lights"\nends = ["hull", "hull"]'), "run 'more' begins and ends at 'hull'"),
    (RUN.format('ends = ["hull", "bow"]'), "run 'more' needs `line`"),
    (RUN.format('ends = ["hull", "bow"]\nspare = true'), None),
    ('[circuit.screw]\nsupply = "main"\non_share = "10 %"\n', "circuit 'screw' is steady, and counts as on all the time"),
    ('[circuit.screw]\nsupply = "main"\non_share = "100 %"\n', None),
    ('[circuit.screw]\nsupply = "main"\nbehaviour = "dim"\nfrequency = "1 kHz"\non_share = "10 %"\n', None),
    ('[passage.arm]\nfrom = "hull"\nto = "hull"\nbore = "5 mm"\nlength = "50 mm"\n', "passage 'arm' begins and ends at 'hull'"),
    ('[circuit.screw]\nsupply = "main"\nbehaviour = "flash"\non_share = "0 %"\n', "'on_share' is zero; it must be above zero here"),
    (PACK.format('cells = 2\ncut_off = "3 V"'), "2 li-ion cells are empty at 6 V in all, and 3 V would empty each to 1.5 V"),
    (PACK.format('cells = 2\ncut_off = "3.5 V"'), "2 li-ion cells are empty at 6 V in all, and 3.5 V would empty each to 1.75 V"),
    (PACK.format('cells = 2\ncut_off = "3.6 V"'), None),
    (PACK.format('cells = 1\ncut_off = "1.5 V"'), None),
    (PACK.format('cells = 2'), None),
    (PORT.format("9 V", "true"), "resistors alone ask a type C port for 5 V, not for 9 V"),
    (PORT.format("9 V", "false"), None),
    (PORT.format("5.5 V", "true"), None),
    ('[passage.arm]\nfrom = "hull"\nto = "bow"\nbore = "0 mm"\nlength = "50 mm"\n', "'bore' is zero; it must be above zero here"),
]  # fmt: skip


def refusal(**parts: str) -> str | None:
    try:
        survey(**parts)
    except BuildError as refused:
        return str(refused)
    return None


@pytest.mark.parametrize(("extra", "says"), CASES)
def test_what_contradicts_itself_is_refused(extra: str, says: str | None) -> None:
    told = refusal(lamps=lamp(at=""), extra=extra)
    assert told is None if says is None else says in str(told)


@pytest.mark.parametrize(
    ("fuse", "says"),
    [
        ('{ rated = "500 mA", kind = "resettable", trips_at = "2.5 A", trips_in = "4 s" }', None),
        ('{ rated = "500 mA", kind = "resettable", trips_at = "2.5 A" }', "trips_at goes with trips_in, from its maker's table"),
        ('{ rated = "500 mA", kind = "resettable", trips_in = "4 s" }', "trips_in goes with trips_at, from its maker's table"),
        ('{ rated = "500 mA", kind = "quick", trips_at = "2.5 A", trips_in = "4 s" }', "a quick fuse melts and trips no more than once"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_fuse(fuse: str, says: str | None) -> None:
    told = refusal(supply=f"{ADAPTOR}fuse = {fuse}", lamps=lamp(at=""))
    assert told is None if says is None else says in str(told)


@pytest.mark.parametrize(
    ("supply", "says"),
    [
        (ADAPTOR + 'from = "main"', "only a converter is fed by another supply; 'main' is an adaptor"),
        ('kind = "usb"\nplace = "base"\nport = "plain"\nvolts = "4.4 V"', None),
        ('kind = "usb"\nplace = "base"\nport = "plain"\nvolts = "4.39 V"', "a plain USB port gives 5 V, not 4.39 V"),
        ('kind = "usb"\nplace = "base"\nport = "plain"\nvolts = "5.5 V"', None),
        ('kind = "usb"\nplace = "base"\nport = "power-bank"\nvolts = "5.51 V"', "a power bank's USB port gives 5 V, not 5.51 V"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_supply(supply: str, says: str | None) -> None:
    told = refusal(supply=supply, lamps=lamp(at=""))
    assert told is None if says is None else says in str(told)


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ('resistor = "1k5 1/4 W at hull"\none_resistor = true\nmatched = true\nlead = "120 mm to hull"\nstrings_share = "lead"', None),
        ('strings_share = "lead"\nresistor = "1k5 1/4 W"', "lamp 'bow lamp' has no lead whose legs its strings could share"),
        ('resistor = "1k5 1/4 W"\none_resistor = true\nmatched = true\nlead = "120 mm to hull"\nstrings_share = "return"',
         "the strings of 'bow lamp' begin at one resistor that sits with them"),
        ('resistor = "1k5 1/4 W at hull"\nlead = "120 mm to hull"\nstrings_share = "lead"', "each string of 'bow lamp' has its resistor at 'hull'"),
        ('resistor = "1k5 1/4 W"\nlead = "120 mm to hull"\nstrings_share = "lead"', None),
    ],
)  # fmt: skip
def test_what_several_strings_can_share(said: str, says: str | None) -> None:
    told = refusal(lamps=STRINGS.format(said))
    assert told is None if says is None else says in str(told)


@pytest.mark.parametrize(
    ("places", "links", "says"),
    [
        ('["bow", "hull"]', '["60 mm"]', None),
        ('["bow", "hull", "bow"]', '["60 mm"]', "2 lamps in series need 2 places, not 3"),
        ('["bow", "hull"]', '["60 mm", "60 mm"]', "2 lamps in series have 1 links, not 2"),
    ],
)
def test_lamps_in_series_have_a_place_each_and_a_link_between(
    places: str, links: str, says: str | None
) -> None:
    said = f'series = 2\nplaces = {places}\nlinks = {links}\nresistor = "1k5 1/4 W"\nlead = "120 mm to hull"'
    told = refusal(lamps=STRINGS.format(said).replace('place = "bow"\nparallel = 2\n', 'place = "bow"\n'))
    assert told is None if says is None else says in str(told)


PLUG = '[[plug]]\nname = "post plug"\nat = "hull"\npins = ["lights", "main-"]\n'


@pytest.mark.parametrize(
    ("at", "plug", "says"),
    [
        ("hull", "", None),
        ("base", PLUG, None),
        ("hull", PLUG, "plug 'post plug' sits at 'hull' too, and the file does not say which of them comes first"),
    ],
)  # fmt: skip
def test_a_switch_and_a_plug_sit_at_places_of_their_own(at: str, plug: str, says: str | None) -> None:
    told = refusal(lamps=lamp(at=""), circuit=f'on_off = "1 A at {at}"', extra=plug)
    assert told is None if says is None else says in str(told)
