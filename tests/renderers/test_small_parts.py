"""Numbers, bars, streams, explanations and lists."""

from __future__ import annotations

import io
import math

import pytest

from postcheck import catalogue
from postcheck.checks.table import CHECKS
from postcheck.limits import LIMITS
from postcheck.renderers import catalogue_list, explain
from postcheck.renderers.bars import bar
from postcheck.renderers.figures import show
from postcheck.renderers.streams import ascii_words, colour_wanted, encodable
from postcheck.renderers.words import limit_words
from postcheck.report import Limited


# prefixes: BIPM SI brochure; year of 365.25 days: IAU; the rest is arithmetic
@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (0.0152, "A", "15.2 mA"), (1.0, "A", "1 A"), (0.99996, "A", "1 A"), (0.9994, "A", "999 mA"), (2.5e-6, "A", "2.5 uA"),
        (4700.0, "ohm", "4.7 kohm"), (1e6, "ohm", "1 Mohm"), (0.0832, "ohm", "83.2 mohm"), (12.0, "V", "12 V"), (-0.5, "V", "-500 mV"),
        (0.25, "W", "250 mW"), (1250.0, "Hz", "1.25 kHz"), (9000.0, "C", "9 kC"), (0.005, "J", "5 mJ"),
        (0.00153, "m", "1.53 mm"), (1.5, "m", "1500 mm"), (0.0038, "m2", "38 cm2"), (7.85e-9, "m2", "0.00785 mm2"), (0.25e-6, "m2", "0.25 mm2"),
        (0.4, "share", "40 %"), (0.9829, "share", "98.3 %"), (math.pi / 2, "rad", "90 deg"), (6.2832, "rad", "360 deg"),
        (0.012, "s", "12 ms"), (45.0, "s", "45 s"), (59.99, "s", "1 min"), (90.0, "s", "1.5 min"), (5400.0, "s", "1.5 h"), (216000.0, "s", "60 h"), (288000.0, "s", "80 h"),
        (10 * 86400.0, "s", "10 days"), (10 * 365.25 * 86400.0, "s", "10 years"),
        (48.0, "degC", "48 degC"), (4.25, "K", "4.25 K"), (36525.0, "", "36525"), (0.0, "A", "0 A"), (0.0, "m", "0 mm"), (0.0, "", "0"),
        (99.96, "degC", "100 degC"), (math.nan, "A", "not known"), (math.inf, "s", "not known"), (None, "A", "not known"),
    ],
)  # fmt: skip
def test_numbers_read_well(value: float | None, unit: str, words: str) -> None:
    assert show(value, unit) == words


# what the file says of a bore is told as it says it; what is worked out, to three digits
@pytest.mark.parametrize(
    ("metres", "words"),
    [(0.001998, "1.998 mm"), (0.005, "5 mm"), (0.0063496, "6.3496 mm"), (0.0063496042, "6.35 mm")],
)
def test_a_length_as_a_limit(metres: float, words: str) -> None:
    assert limit_words(Limited(metres, "m", "the bore")) == f"{words}; the bore"


@pytest.mark.parametrize(
    ("nominal", "highest", "free", "drawn"),
    [
        (0.5, 0.75, 0.25, "█████▒▒░░░"[:5] + "▒▒▒" + "░░"),
        (0.0, 0.0, 1.0, "░" * 10),
        (0.001, 0.001, 0.999, "█" + "░" * 9),
        (0.99, 0.99, 0.01, "█" * 9 + "░"),
        (1.0, 1.0, 0.0, "█" * 10),
        (1.0, 2.0, -1.0, "█████|▒▒▒▒▒"),
    ],
)
def test_bars_are_to_scale(nominal: float, highest: float, free: float, drawn: str) -> None:
    assert bar(nominal, highest, free, 10) == drawn


class Stream(io.StringIO):
    def __init__(self, tty: bool = False, encoding: str | None = None) -> None:
        super().__init__()
        self._tty, self._encoding = tty, encoding

    def isatty(self) -> bool:
        return self._tty

    @property
    def encoding(self) -> str | None:  # type: ignore[override]
        return self._encoding


@pytest.mark.parametrize(
    ("tty", "environ", "option", "wanted"),
    [
        (True, {}, "auto", True),
        (False, {}, "auto", False),
        (True, {"NO_COLOR": "1"}, "auto", False),
        (True, {"NO_COLOR": ""}, "auto", True),
        (False, {"FORCE_COLOR": "1"}, "auto", True),
        (True, {"FORCE_COLOR": "0"}, "auto", False),
        (True, {"NO_COLOR": "1", "FORCE_COLOR": "1"}, "auto", False),
        (True, {"TERM": "dumb"}, "auto", False),
        (True, {"TERM": "dumb", "FORCE_COLOR": "1"}, "auto", True),
        (False, {"NO_COLOR": "1"}, "always", True),
        (True, {"FORCE_COLOR": "1"}, "never", False),
    ],
)
def test_colour(tty: bool, environ: dict[str, str], option: str, wanted: bool) -> None:
    assert colour_wanted(Stream(tty), environ, option) is wanted  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("encoding", "takes"),
    [
        ("utf-8", True),
        (None, True),
        ("ascii", False),
        ("cp1252", False),
        ("cp437", False),
        ("no-such", False),
    ],
)
def test_what_a_stream_can_encode(encoding: str | None, takes: bool) -> None:
    assert encodable(Stream(encoding=encoding)) is takes


def test_signs_become_words() -> None:
    assert ascii_words("4.7 kΩ, 60 °C, 5 µA → 38 cm² – 3 × 5") == "4.7 kohm, 60 degC, 5 uA -> 38 cm2 - 3 x 5"
    assert ascii_words("Lämpchen 5 Ω") == "Lämpchen 5 ohm"
    assert ascii_words("Lämpchen 5 Ω", "cp1252") == "Lämpchen 5 ohm"
    assert ascii_words("Lämpchen 5 Ω", "ascii") == "L\\xe4mpchen 5 ohm"


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.name)
def test_every_check_is_explained_with_its_limits(check: object) -> None:
    name, limits = check.name, check.limits  # type: ignore[attr-defined]
    text = explain.render_check(check, [row for row in LIMITS if row.name in limits])  # type: ignore[arg-type]
    assert text.startswith(name)
    for part in (check.line, check.why, check.formula, check.source, *limits):  # type: ignore[attr-defined]
        assert part in text


def test_the_list_has_every_check_once_under_its_subject() -> None:
    lines = explain.render_list(CHECKS).splitlines()
    names = [line.split()[0] for line in lines if line.startswith("    ")]
    assert sorted(names) == sorted(check.name for check in CHECKS)
    assert len([line for line in lines if line and not line.startswith(" ")]) == len(
        {name.split(".")[0] for name in names}
    )
    assert explain.render_list(()) == "\n"


@pytest.mark.parametrize("kind", catalogue.KINDS)
def test_the_catalogue_lists_every_row_on_one_line_with_the_number_of_its_source(kind: str) -> None:
    rows = catalogue.rows(kind)
    listed, _, below = catalogue_list.render(kind, rows, sources=True).partition("\n\nSources\n")
    heading, *lines = listed.splitlines()
    assert heading == f"{kind} ({len(rows)})"
    assert len(lines) == len(rows) > 0
    sources = dict(line.split(" ", 1) for line in below.splitlines())
    assert len(set(sources.values())) == len(sources)
    for line, row in zip(lines, rows, strict=True):
        assert line.startswith(row.name)
        assert sources[line[line.rindex("(") :]] == row.source


def test_no_line_of_a_page_is_wider_than_it_and_no_word_is_lost() -> None:
    pages = [(catalogue_list.render(kind, catalogue.rows(kind), width), catalogue_list.render(kind, catalogue.rows(kind)))
             for kind in catalogue.KINDS for width in (80,)]  # fmt: skip
    pages += [(explain.render_list(CHECKS, 80), explain.render_list(CHECKS))]
    for check in CHECKS:
        limits = [row for row in LIMITS if row.name in check.limits]
        pages.append((explain.render_check(check, limits, 80), explain.render_check(check, limits)))
    for page, whole in pages:
        assert max(map(len, page.splitlines())) <= 80
        assert set(page.split()) == set(whole.split())
    summary = catalogue_list.render_kinds({kind: len(catalogue.names(kind)) for kind in catalogue.KINDS})
    assert max(map(len, summary.splitlines())) <= 80
    assert all(f"postcheck catalogue {kind}" in summary for kind in catalogue.KINDS)


def test_the_catalogue_names_the_sizes_of_cells() -> None:
    lines = catalogue_list.render("battery", catalogue.rows("battery")).splitlines()
    (alkaline,) = [line for line in lines if line.startswith("alkaline")]
    assert "aa, aaa, c, d, n, lr44, 9v (6 cells)" in alkaline


def test_a_list_of_nothing() -> None:
    assert catalogue_list.render("wire", []) == "wire (0)\n"
