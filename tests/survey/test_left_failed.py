"""What a part that failed and is left so does to the others: by hand, and as the build without it is judged."""

from __future__ import annotations

import pytest

import postcheck
from postcheck.renderers import repaired
from postcheck.repair import Repair
from postcheck.survey import Survey
from postcheck.survey.left import without

HULL = 'place = { base = { access = "open" }, hull = { access = "cover", material = "abs", surface = "900 cm2" } }\n'


def lamp(name: str, more: str, colours: str = "red/black") -> str:
    said = f'name = "{name}"\n' if name else ""
    return f'[[lamp]]\n{said}circuit = "cab"\nkind = "smd-0603-white"\nplace = "hull"\nlead = "150 mm of enamel-0.20 to base, {colours}"\n{more}\n'


def tender(supply: str, circuit: str, *parts: str) -> str:
    head = f'format = 1\n{HULL}[build]\nname = "Tender"\n[supply.main]\nplace = "base"\n{supply}\n'
    return f'{head}[circuit.cab]\nsupply = "main"\n{circuit}\n' + "\n".join(parts)


def left(text: str, part: str) -> Repair:
    return postcheck.reach(postcheck.loads(text), part)


STEADY = tender(
    'kind = "adaptor"\nvolts = "12 V"\nrated = "500 mA"\nfuse = "100 mA"',
    'output = "40 mA constant, 1.5 V compliance"',
    lamp("fore", "series = 2"),
    lamp("aft", "series = 2", "blue/white"),
)


def test_a_constant_current_goes_to_who_is_left() -> None:
    """40 mA for two strings, and then for one: twice the 20 mA that a white 0603 is rated for."""
    found = left(STEADY, "fore")
    assert found.changed == (("aft", pytest.approx(0.020, rel=1e-3), pytest.approx(0.040, rel=1e-3)),)
    assert [(one.id, one.severity) for one in found.left] == [("lamp.over-rating:aft", "stop")]
    told = repaired.render(found)
    assert "Then 'aft' gets 40 mA instead of 20 mA.\nLeft so, stop: 'aft' gets 40 mA" in told
    assert "Nothing else" not in told


def test_a_load_that_no_longer_weighs_on_the_return() -> None:
    """5 V, 250 mA through 3 ohm: 0.75 V more for all others once the horn is silent. (5 - 3.2 - 0.75) / (56 + 3) is 18 mA, (5 - 3.2) / (56 + 3) is 31."""
    text = tender(
        'kind = "adaptor"\nvolts = "5 V"\nrated = "2 A"\nfuse = "1 A"', "",
        '[[run]]\nline = "cab"\nends = ["base", "hull"]\nwire = "ptfe-28"\nlength = "200 mm"\n',
        '[[run]]\nline = "main-"\nends = ["base", "hull"]\nohms = "3 ohm"\nlength = "200 mm"\nwire = "ptfe-28"\n',
        '[[lamp]]\nname = "stern"\ncircuit = "cab"\nkind = "smd-0603-white"\nplace = "hull"\nresistor = "56 ohm 1/4 W"\n',
        '[[load]]\nname = "horn"\ncircuit = "cab"\nplace = "hull"\ntypical = "250 mA"\nhighest = "6 V"\n',
    )  # fmt: skip
    found = left(text, "horn")
    ((name, before, after),) = found.changed
    assert name == "stern"
    assert 0.017 < before < 0.020 < 0.029 < after < 0.033
    assert [(one.id, one.severity) for one in found.left] == [("lamp.over-rating:stern", "stop")]


BANK = 'kind = "usb"\nport = "power-bank"\nvolts = "5 V"\nrated = "1 A"\nswitches_off_below = "30 mA"\nfuse = "500 mA"'


def test_a_bank_that_switches_off_for_what_is_left() -> None:
    """Three of some (5 - 3.1) / 150 = 12.7 mA are 38 mA, two 25: less than the 30 mA below which the bank goes off."""
    three = [lamp(name, 'resistor = "150 ohm at base"') for name in ("fore", "mid", "aft")]
    found = left(tender(BANK, "", *three), "fore")
    assert found.changed == ()
    assert [(one.id, one.severity) for one in found.left] == [("supply.switches-off:main", "stop")]
    assert "Left so, stop: 'main' switches off below 30 mA." in repaired.render(found)


def test_an_adaptor_that_goes_up_as_it_has_less_to_carry() -> None:
    """9 V at 150 mA, 14 V with nothing: 33.3 ohm inside. Without the bulb the LED has more, and that is within its rating."""
    adaptor = 'kind = "adaptor"\nvolts = "9 V"\nunloaded = "14 V"\nrated = "150 mA"\nfuse = "250 mA"'
    bulb = lamp("bulb", "held_off = true", "white/black").replace("smd-0603-white", "wheat-12v")
    found = left(tender(adaptor, "", lamp("screw light", 'resistor = "560 ohm 1/2 W at base"'), bulb), "bulb")
    ((name, before, after),) = found.changed
    # what is left: (14 - 3.2) / (560 + 33.3) = 18.2 mA
    assert (name, after) == ("screw light", pytest.approx(0.0182, rel=0.02))
    assert before < 0.9 * after
    assert found.left == ()
    assert "No check finds fault with that." in repaired.render(found)


def test_what_was_so_before_is_not_told_again() -> None:
    """The one that is left stays dim, and a supply's plug fits as it did."""
    dim = [lamp(name, 'resistor = "10k at base"') for name in ("fore", "aft")]
    text = tender('kind = "adaptor"\nvolts = "12 V"\nrated = "500 mA"\nfuse = "100 mA"', "", *dim)
    assert any(one.id == "lamp.dim:aft" for one in postcheck.check(postcheck.loads(text)).files[0].findings)
    found = left(text, "fore")
    assert (found.changed, found.left) == ((), ())
    assert "Nothing else changes so that one sees it." in repaired.render(found)


def test_an_acceptance_holds_for_what_is_left() -> None:
    accepted = '[[accept]]\nfinding = "lamp.over-rating:aft"\nreason = "a spare part lies ready"\n'
    assert left(STEADY + accepted, "fore").left == ()


def test_lamps_without_a_name_keep_the_one_they_are_called_by() -> None:
    text = STEADY.replace('name = "fore"\n', "").replace('name = "aft"\n', "")
    first, second = postcheck.check(postcheck.loads(text)).files[0].figures["lamps"]
    ((name, _, after),) = left(text, first).changed
    assert (name, after) == (second, pytest.approx(0.040, rel=1e-3))


def test_one_of_several_strings() -> None:
    """Three on 60 mA, and then two: half of it each."""
    text = tender('kind = "adaptor"\nvolts = "12 V"\nrated = "500 mA"', 'output = "60 mA constant, 1.5 V compliance"',
                  lamp("fore", "parallel = 2"), lamp("aft", "", "blue/white"))  # fmt: skip
    found = left(text, "fore")
    assert {name: after for name, _, after in found.changed} == {
        "fore": pytest.approx(0.030, rel=0.02),
        "aft": pytest.approx(0.030, rel=0.02),
    }


def test_the_only_part() -> None:
    text = tender('kind = "adaptor"\nvolts = "12 V"\nrated = "500 mA"\nfuse = "100 mA"', "", lamp("fore", 'resistor = "1k at base"'))  # fmt: skip
    found = left(text, "fore")
    assert (found.changed, found.left) == ((), ())


def test_what_lay_in_a_passage_lies_there_no_more() -> None:
    """Of a lamp that is gone; what else is listed there stays, in the post and in any other passage."""
    text = tender(
        'kind = "adaptor"\nvolts = "12 V"\nrated = "1 A"', "",
        lamp("fore", 'resistor = "1k"'), lamp("aft", 'resistor = "1k"'),
        '[post]\nfrom = "base"\nto = "hull"\nbore = "5 mm"\nlength = "90 mm"\nthrough = ["fore", "aft"]\n',
        '[passage.arm]\nfrom = "hull"\nto = "top"\nbore = "5 mm"\nlength = "50 mm"\nthrough = ["aft", "fore"]\n',
    )  # fmt: skip
    build = postcheck.loads(text.replace("hull = {", 'top = { access = "open" }, hull = {'))
    parts = [part for part in Survey(build).parts.lamps if part.name == "fore"]
    rest = without(build, parts, string=False)
    assert rest is not None
    assert rest.post is not None
    assert (rest.post.through, rest.passage["arm"].through) == (("aft",), ("aft",))
    assert [one.name for one in rest.lamp] == ["aft"]
    assert without(build, Survey(build).parts.lamps, string=False) is None
