"""What eyes see: kinds of light by their words, ultraviolet by hand, flashes that add up."""

from __future__ import annotations

from math import cos, pi, radians

import pytest

from postcheck.report import Subject
from postcheck.survey import Survey
from postcheck.survey.light import (
    beam_of,
    colour_words,
    flashes_together,
    short_wave,
    ultraviolet,
    ultraviolet_at_eye,
)
from tests.survey.small import lamp, survey

KIND = '[lamp_kind.{name}]\ncolour = "{colour}"\nforward = "3.2 V"\nat = "20 mA"\nrated = "20 mA"\nper_kelvin = "0 V"\n'


def lit(name: str, colour: str, more: str = "") -> Survey:
    one = lamp().replace("smd-0402-red", name) + more
    return survey(lamps=one, extra=KIND.format(name=name, colour=colour))


@pytest.mark.parametrize(
    ("name", "colour", "seen", "burns"),
    [
        ("spot", "red", False, False),
        ("spot", "UV", True, False),
        ("spot", "near ultraviolet", True, False),
        ("spot", "UVA", True, False),
        ("spot", "blacklight", True, False),
        ("spot", "uv-b", True, False),
        ("spot", "uvb", True, True),
        ("spot", "UVC", True, True),
        ("uvc-lamp", "violet", True, True),
        ("uv395", "violet", True, False),
        ("louvre", "white", False, False),
    ],
)
def test_ultraviolet_by_its_colour_or_the_name_of_its_kind(
    name: str, colour: str, seen: bool, burns: bool
) -> None:
    made = lit(name, colour)
    told = (Subject("lamp", "bow lamp"),)
    assert ultraviolet(made.parts) == (told if seen else ())
    assert short_wave(made.parts) == (told if burns else ())
    assert short_wave(made.parts, {"bow lamp"}) == (told if burns else ())
    assert short_wave(made.parts, {"other"}) == ()


def test_a_strip_too() -> None:
    tape = (
        KIND.format(name="glow", colour="UVC")
        + '[strip_kind.tape]\nvolts = "12 V"\nsegment = "50 mm"\nseries = 3\nohms = "150 ohm"\nkind = "glow"\n'
        + '[[strip]]\nname = "tape"\ncircuit = "lights"\nkind = "tape"\nplace = "hull"\nlength = "100 mm"\n'
    )
    made = survey(extra=tape)
    assert short_wave(made.parts) == ultraviolet(made.parts) == (Subject("strip", "tape"),)


def test_words_are_told_apart_by_all_that_is_no_letter() -> None:
    assert colour_words("UV-A 395nm", "Deep.Red") == {"uv", "a", "nm", "deep", "red", ""} - {""}


@pytest.mark.parametrize(("series", "parallel"), [(1, 1), (2, 1), (2, 3)])
@pytest.mark.parametrize(("name", "lens"), [("led-5mm-glow", True), ("smd-0402-glow", False)])
def test_how_much_of_it_meets_an_eye(series: int, parallel: int, name: str, lens: bool) -> None:
    """Four tenths of what its dice take, 200 mm off: in a cone of 20 degrees, or of a chip by Lambert's law."""
    made = lit(name, "uv", f"series = {series}\nparallel = {parallel}\n")
    (one,) = made.electrics.lamps.values()
    watts = 0.4 * one.nominal * 3.2 * series * parallel
    cone = 2.0 * pi * (1.0 - cos(radians(10.0))) if lens else pi
    assert ultraviolet_at_eye(one, made.limits) == pytest.approx(watts / (cone * 0.2**2), rel=1e-4)
    beam = beam_of(one, made.limits)
    assert beam == (pytest.approx(radians(20.0), rel=1e-4) if lens else None)


def circuits(*said: str) -> str:
    return "".join(f'[circuit.c{number}]\nsupply = "main"\n{one}\n' for number, one in enumerate(said))


def together(*said: str) -> dict[str, float]:
    made = survey(extra=circuits(*said))
    return {
        subject.name: rate for subject, rate in flashes_together(made.build, made.parts, made.limits).items()
    }


FLASH = 'behaviour = "flash"\nrate = "{} /s"'


def test_flashes_at_moments_of_their_own() -> None:
    assert together(FLASH.format(1.5), FLASH.format(2.5), "") == {"c0": 1.5, "c1": 2.5}


def test_what_keeps_step_counts_once_by_the_fastest() -> None:
    """Whichever names the other, and by way of a third."""
    one, two, four = FLASH.format(1), FLASH.format(2), FLASH.format(4)
    assert sum(together(one, f'{two}\nin_step_with = "c0"').values()) == 2.0
    assert sum(together(f'{two}\nin_step_with = "c1"', one).values()) == 2.0
    assert (
        sum(
            together(
                one, f'{four}\nin_step_with = "c0"', f'{two}\nin_step_with = "c1"', FLASH.format(0.5)
            ).values()
        )
        == 4.5
    )
    chain = together(f'{one}\nin_step_with = "c1"', f'{two}\nin_step_with = "c2"', four)
    assert list(chain.values()) == [4.0]


@pytest.mark.parametrize(("least", "counts"), [("91 %", False), ("90 %", True), ("50 %", True)])
def test_a_fade_counts_from_a_tenth(least: str, counts: bool) -> None:
    """WCAG 2.2: a flash is a pair of opposing changes of a tenth."""
    assert together(f'behaviour = "fade"\nrate = "2 /s"\nleast_share = "{least}"') == (
        {"c0": 2.0} if counts else {}
    )


def test_chips_never_keep_step() -> None:
    """Two in series in three strings, twice a second each: twelve flashes a second."""
    kind = KIND.format(name="winker", colour="red") + 'flashes = "2 /s"\n'
    one = lamp().replace("smd-0402-red", "winker") + "series = 2\nparallel = 3\n"
    made = survey(lamps=one, extra=kind + circuits(FLASH.format(1)))
    assert flashes_together(made.build, made.parts, made.limits) == {
        Subject("circuit", "c0"): 1.0,
        Subject("lamp", "bow lamp"): 12.0,
    }
