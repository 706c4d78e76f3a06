"""The sheet as text: names stay text, the parts asked for are there, the words say what the records hold."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

import postcheck
from postcheck.checking import sheet_of
from postcheck.expected import Expected
from postcheck.renderers import sheet_markdown
from postcheck.renderers.sheet import client_words, page_count, render, words
from postcheck.renderers.sheet.style import STYLE
from postcheck.sheet import PARTS
from tests.renderers.hostile import FORBIDDEN, NAMES
from tests.renderers.sheet.builds import BARE, hostile_sheet

ROOT = Path(__file__).parents[3]
AIRSHIP = ROOT / "example_builds" / "mail_airship.post.toml"
BARE_LEAD = ROOT / "tests" / "builds" / "faulty" / "lead-bare.post.toml"

by_name = pytest.mark.parametrize("name", NAMES.values(), ids=NAMES.keys())


class _Tags(HTMLParser):
    """Elements and text of a page, as a browser's parser would find them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.said: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.said.append(data)


@by_name
def test_a_name_adds_no_element_and_nothing_that_acts(name: str) -> None:
    page, plain = _Tags(render(hostile_sheet(name))), _Tags(render(hostile_sheet("lamp")))
    kinds = set(page.tags)
    assert kinds <= set(plain.tags) | {"title", "tspan"}  # what is cut shows the whole to a resting pointer
    assert not kinds & {"script", "iframe", "object", "img", "a", "base", "form"}
    assert not any(key.startswith("on") or key in ("href", "src") for key, _ in page.attributes)
    assert not FORBIDDEN.search("".join(page.said).replace("\n", ""))


@pytest.mark.parametrize("name", [name for name in NAMES.values() if name.strip()])
def test_markdown_keeps_its_lines_and_its_cells(name: str) -> None:
    text, plain = sheet_markdown.render(hostile_sheet(name)), sheet_markdown.render(hostile_sheet("lamp"))
    assert not FORBIDDEN.search(text.replace("\n", ""))
    assert text.count("\n") == plain.count("\n")
    for line, other in zip(text.splitlines(), plain.splitlines(), strict=True):
        assert len(re.findall(r"(?<!\\)\|", line)) == len(re.findall(r"(?<!\\)\|", other))
    assert "<" not in text
    assert not re.search(r"(?<!\\)[`\[]", re.sub(r"- \[[ x]\] ", "", text))


def test_each_part_alone_and_all_together() -> None:
    build = postcheck.load(AIRSHIP)
    whole = sheet_of(build)
    assert whole.parts == tuple(PARTS)
    for part, heading in words.HEADINGS.items():
        alone = render(sheet_of(build, [part]))
        assert f">{heading}</h2>" in alone
        assert [other for other in words.HEADINGS.values() if f">{other}</h2>" in alone] == [heading]
    assert page_count(whole) == render(whole).count('class="leaf"')


def test_a_motor_the_wrong_way_round_is_a_short_through_its_diode() -> None:
    build = ROOT / "tests" / "builds" / "sound" / "motor-on-a-supply-of-its-volts.post.toml"
    text = sheet_markdown.render(sheet_of(postcheck.load(build), ["bench"]))
    assert "a short: through the motor's diode" in text
    assert "destroyed" not in text


def test_the_bare_lead_stands_on_the_bench_card_with_its_figures() -> None:
    text = sheet_markdown.render(sheet_of(postcheck.load(BARE_LEAD), ["bench"]))
    (line,) = [line for line in text.splitlines() if line.startswith("| stern lamp")]
    for said in (
        "this end is bare",
        "destroyed: 511 mA at 12.6 V",
        "3.2 V, limit 2 mA",
        "5.6 kohm 1/8 W or more: 1.51 to 1.8 mA",
    ):
        assert said in line


def test_a_build_with_stops_says_so_on_its_sheet_but_not_on_the_card() -> None:
    build = postcheck.load(ROOT / "tests" / "builds" / "faulty" / "lamp-no-resistor.post.toml")
    drawn = sheet_of(build)
    assert drawn.stops
    assert "open stop" in render(replace(drawn, parts=("bench",)))
    assert "open stop" not in render(replace(drawn, parts=("client",)))


@pytest.mark.parametrize(("shares", "noted"), [("", True), ('strings_share = "nothing"\n', False)])
def test_the_hub_map_says_what_is_taken_of_strings_side_by_side(shares: str, *, noted: bool) -> None:
    text = AIRSHIP.read_text().replace('resistor = "1k5 at', f'parallel = 2\n{shares}resistor = "1k5 at', 1)
    name = next(lamp.name for lamp in postcheck.loads(text).lamp if lamp.parallel == 2)
    drawn = sheet_of(postcheck.loads(text), ["hub"])
    for page in (render(drawn), sheet_markdown.render(drawn)):
        assert (f"Each string of '{name}' brings both" in page) is noted


@pytest.mark.parametrize(
    ("span", "shown"),
    [
        (Expected(6.02e-3, 6.5e-3, 7.15e-3), "6.02 to 7.15\u00a0mA"),
        (Expected(2e-3, 2e-3, 2e-3), "2\u00a0mA"),
        (Expected(858e-6, 1e-3, 1.62e-3), "858\u00a0uA to 1.62\u00a0mA"),
    ],
)
def test_a_current_names_its_unit_once(span: Expected, shown: str) -> None:
    assert words.current(span) == shown


def test_a_row_says_where_its_resistor_sits() -> None:
    assert words.resistor(BARE) == "1\u00a0kohm, at base: this end is bare"
    assert words.resistor(replace(BARE, resistor_position="ahead")) == "1\u00a0kohm, in the lead"
    assert "bare until it is on" in words.resistor(replace(BARE, resistor_position="here"))


def _luminance(colour: str) -> float:
    def linear(channel: float) -> float:
        return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(int(colour[n : n + 2], 16) / 255.0) for n in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


# WCAG 2.2, 1.4.3 (text, 4.5 to 1) and 1.4.11 (what is drawn, 3 to 1); the formula is that of its definitions.
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("ink", "least"), [("ink", 7.0), ("soft", 4.5), ("warn", 4.5), ("mark", 3.0)])
def test_contrast_is_enough_by_wcag(scheme: str, ink: str, least: float) -> None:
    light, dark = re.findall(r":root\{([^}]*--paper[^}]*)\}", STYLE)
    given = dict(re.findall(r"--(\w+):(#[0-9a-f]{6})", light if scheme == "light" else dark))
    assert _contrast(given[ink], given["paper"]) >= least


@pytest.mark.parametrize(
    ("build", "said"),
    [
        ("faulty/battery-coin-cover", "Coin cells kill children"),
        ("sound/coin-cell-behind-a-screw", "Coin cells kill children"),
        ("faulty/battery-lithium-sealed-protected", "A lithium battery is sealed into 'hull'"),
        ("faulty/battery-gas", "gives off hydrogen"),
        ("faulty/dim-frequency-some-people", "flicker at 50 Hz: this can trigger a seizure"),
        ("faulty/flash-together", "flash 4 Hz together: this can trigger a seizure"),
        ("faulty/lamp-eyes-ultraviolet", "ultraviolet"),
        ("faulty/supply-wrong-adaptor", "which pole is at the centre of its plug is not stated"),
    ],
)
def test_the_client_is_told_what_can_hurt(build: str, said: str) -> None:
    path = ROOT / "tests" / "builds" / f"{build}.post.toml"
    card = sheet_of(postcheck.load(path), parts=("client",)).client
    assert card is not None
    told = [
        *map(client_words.plugs_in, card.supplies),
        *client_words.do_not(card),
        *client_words.cautions(card),
    ]
    assert any(said in sentence.replace("\u00a0", " ") for sentence in told)


def test_a_client_with_nothing_of_that_is_told_none_of_it() -> None:
    card = sheet_of(postcheck.load(AIRSHIP), parts=("client",)).client
    assert card is not None
    told = " ".join(
        [*map(client_words.plugs_in, card.supplies), *client_words.do_not(card), *client_words.cautions(card)]
    )
    assert not any(
        word in told
        for word in ("Coin", "ithium", "hydrogen", "ultraviolet", "seizure", "centre of its plug")
    )


def test_the_owner_of_a_model_without_lamps_is_told_of_none() -> None:
    path = ROOT / "tests" / "builds" / "sound" / "motor-with-a-diode.post.toml"
    card = sheet_of(postcheck.load(path), parts=("client",)).client
    assert card is not None
    assert not card.lit
    told = " ".join(client_words.do_not(card))
    assert "lamps" not in told
    assert "what is in the model would be destroyed" in told


def test_the_supply_budget_of_a_coin_cell_names_the_danger() -> None:
    path = ROOT / "tests" / "builds" / "faulty" / "battery-coin-cover.post.toml"
    (budget,) = sheet_of(postcheck.load(path), parts=("supply",)).supplies
    assert any("by two movements at once" in sentence for sentence in words.budget(budget))
