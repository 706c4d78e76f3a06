"""The usual slips of a first file: one message each, in its place, with what to type, and what is typed cures it."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.description.problems import BuildError, Problem

STARTER = (Path(postcheck.__file__).parent / "description" / "starter.toml").read_text(encoding="utf-8")


def refused(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(text)
    return caught.value.problems


def slipped(right: str, wrong: str) -> str:
    assert right in STARTER
    return STARTER.replace(right, wrong, 1)


def one(text: str) -> Problem:
    (only,) = refused(text)
    return only


# What stands in the starter, what is written instead, the piece of that to be typed anew, and what the hint says to type.
_TYPED = [
    # names with spaces and signs in headers and in front of =
    ("[place.mast]", "[place.fore mast]", "[place.fore mast]", '[place."fore mast"]'),
    ("[place.mast]", "[place.captain's]", "[place.captain's]", '[place."captain\'s"]'),
    ("[place.mast]", "[place.m\u00e4st]", "[place.m\u00e4st]", '[place."m\u00e4st"]'),
    ("[place.mast]", '[place."mast]', '[place."mast]', "[place.mast]"),
    ("[place.mast]", "[place mast]", "[place mast]", "[place.mast]"),
    ("[place.mast]", "[place:mast]", "[place:mast]", "[place.mast]"),
    ("[place.mast]", "[place.mast", "[place.mast", "[place.mast]"),
    ("[[run]]", "[[run]", "[[run]\n", "[[run]]"),
    ("[post]", "[post", "[post\n", "[post]"),
    # signs where others belong
    ('volts     = "12 V"', 'volts: "12 V"', 'volts: "12 V"', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts "12 V"', 'volts "12 V"', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts == "12 V"', 'volts == "12 V"', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts = 12 V"', 'volts = 12 V"', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts = "12 V",', 'volts = "12 V",', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts = "12 V";', 'volts = "12 V";', 'volts = "12 V"'),
    ('volts     = "12 V"', 'volts = "12 V" // from the shelf', "// from the shelf", "# from the shelf"),
    ('volts     = "12 V"', '; from the shelf\nvolts = "12 V"', "; from the shelf", "# from the shelf"),
    ("on_share  =", "on share =", "on share =", "on_share ="),
    # tables by another name
    ("[supply.main]", "[psu.main]", "[psu.main]", "[supply.main]"),
    ("[supply.main]", "[supply-main]", "[supply-main]", "[supply.main]"),
    ("[supply.main]", "[supply]", "[supply]", "[supply.main]"),
    ("[build]", "[model]", "[model]", "[build]"),
    ("[post]", "[pole]", "[pole]", "[post]"),
    ('[supply.main]\n', '[[supply]]\nname = "main"\n', '[[supply]]\nname = "main"', "[supply.main]"),
    # choices by another word
    ('"adaptor" ', '"wall wart" ', 'kind      = "wall wart"', 'kind = "adaptor"'),
    ('behaviour = "flash"', 'behaviour = "blinking"', 'behaviour = "blinking"', 'behaviour = "flash"'),
    ('access   = "sealed"', 'access   = "glued shut"', 'access   = "glued shut"', 'access = "sealed"'),
    ('access   = "cover"', 'access   = "hatch"', 'access   = "hatch"', 'access = "cover"'),
    ('ends   = ["base", "hub"]', 'ends = "base, hub"', 'ends = "base, hub"', 'ends = ["base", "hub"]'),
    ('ends   = ["base", "hub"]', 'ends = "base to hub"', 'ends = "base to hub"', 'ends = ["base", "hub"]'),
    ('ends   = ["base", "hub"]', 'from = "base"\nto = "hub"', 'from = "base"\nto = "hub"', 'ends = ["base", "hub"]'),
    # quantities
    ('resistor = "1k5 at hub"', "resistor = 470", "resistor = 470", 'resistor = "470 ohm"'),
    ('length = "150 mm"', 'length = 6"', 'length = 6"', 'length = "6 in"'),
    ('"150 mm"', '"5\u00bd in"', '"5\u00bd in"', '"5 1/2 in"'),
    ("1k5 at hub", "680 at hub", '"680 at hub"', '"680 ohm at hub"'),
    ("1k5 at hub", "1,5k at hub", '"1,5k at hub"', '"1.5k at hub"'),
    ("1k5 at hub", "1k5 0,25 W at hub", '"1k5 0,25 W at hub"', '"1k5 0.25 W at hub"'),
    ("1k5 at hub", "1.5 kOhm, 1/4W at hub", '"1.5 kOhm, 1/4W at hub"', '"1.5 kOhm 1/4W at hub"'),
    ("1k5 at hub", "1k5 in hub", '"1k5 in hub"', '"1k5 at hub"'),
    ("1k5 at hub", "1k5 @ hub", '"1k5 @ hub"', '"1k5 at hub"'),
    ('= "12 V"\n', '= "12,0 V"\n', '"12,0 V"', '"12.0 V"'),
    ('= "12 V"\n', '= "12 V."\n', '"12 V."', '"12 V"'),
    ('"500 mA"', '"500 mA."', '"500 mA."', '"500 mA"'),
    ('"500 mA"', '"500 MA"', '"500 MA"', '"500 mA"'),
    ('"4 mm"', '"\u00f84 mm"', '"\u00f84 mm"', '"4 mm"'),
    ('"45 deg"', '"\u00b145 deg"', '"\u00b145 deg"', '"45 deg"'),
    ('"20 %"', "0.2", "0.2", '"20 %"'),
    ('"20 %"', '"20"', '"20"', '"20 %"'),
    ("180 mm to hub, red/black", "180 to hub, red/black", '"180 to hub, red/black"', '"180 mm to hub, red/black"'),
    ("180 mm to hub, red/black", "180 mm. to hub", '"180 mm. to hub"', '"180 mm to hub"'),
    ("180 mm to hub, red/black", "180 mm hub", '"180 mm hub"', '"180 mm to hub"'),
    ("180 mm to hub, red/black", "180 mm to hub, red and black", '"180 mm to hub, red and black"', '"180 mm to hub, red/black"'),
    ("180 mm to hub, red/black", "180 mm to hub, red, black", '"180 mm to hub, red, black"', '"180 mm to hub, red/black"'),
    ('"250 mA"', '"250 mA fast blow"', '"250 mA fast blow"', '"250 mA fast"'),
    ('"250 mA"', '"250 mA slow-blow"', '"250 mA slow-blow"', '"250 mA slow"'),
    ("100 mA, 0.2 V drop", "100 mA 0.2 V", '"100 mA 0.2 V"', '"100 mA, 0.2 V drop"'),
]  # fmt: skip


@pytest.mark.parametrize(("right", "wrong", "piece", "typed"), _TYPED)
def test_what_the_message_says_to_type_cures(right: str, wrong: str, piece: str, typed: str) -> None:
    text = slipped(right, wrong)
    only = one(text)
    assert typed in (only.hint or "")
    first = STARTER[: STARTER.index(right)].count("\n") + 1
    assert only.line in range(first, first + 1 + wrong.count("\n"))
    end = "\n" if piece.endswith("\n") else ""
    # a name that is used elsewhere is another matter: here only what is written there is
    cured = text.replace(piece, typed + end, 1)
    if cured.count("fore mast") or "captain" in cured or "m\u00e4st" in cured:
        cured = cured.replace(
            'place    = "mast"', f"place    = {typed.partition('.')[2].partition(']')[0].partition('.')[0]}"
        )
    postcheck.loads(cured)


@pytest.mark.parametrize(
    ("right", "written"),
    [
        ("1k5 at hub", "1.5 kOhm at hub"), ("1k5 at hub", "1k5Ohm at hub"), ("1k5 at hub", "1.5 K\u03a9 at hub"),
        ("1k5 at hub", "1.5 K ohm at hub"), ("1k5 at hub", "1.5k Ohm at hub"), ("1k5 at hub", "1500 OHM at hub"),
        ("1/4 W 5 %", "1/4w 5 %"), ('= "12 V"\n', '= "12v"\n'), ('= "12 V"\n', '= "12V"\n'), ('= "12 V"\n', '= "12 Volts"\n'), ('"4 mm"', '"4mm"'),
    ],
)  # fmt: skip
def test_what_can_mean_one_thing_only_is_read(right: str, written: str) -> None:
    assert postcheck.loads(slipped(right, written)) == postcheck.loads(STARTER)


@pytest.mark.parametrize("header", ["[[lamps]]", "[[led]]", "[[LEDs]]", "[[light]]", "[[Lamp]]", "[lamps]"])
def test_lamps_under_another_name_are_one_message(header: str) -> None:
    only = one(STARTER.replace("[[lamp]]", header))
    assert "rite [[lamp]], in double brackets" in (only.hint or "")


def test_lamps_named_in_their_header() -> None:
    text = slipped('[[lamp]]\nname     = "port running lamp"', "[lamp.port]")
    only = one(text)
    assert only.hint == 'write [[lamp]] and below it name = "port"'
    assert (only.line, only.column) == (STARTER[: STARTER.index("[[lamp]]")].count("\n") + 1, 1)
    postcheck.loads(text.replace("[lamp.port]", '[[lamp]]\nname = "port"'))


@pytest.mark.parametrize(
    ("port", "ours"),
    [("type a", "plain"), ("usb-a", "plain"), ("USB A", "plain"), ("A", "plain"), ("micro usb", "plain"), ("Micro-USB", "plain"),
     ("USB 2.0", "plain"), ("USB C", "type-c"), ("c", "type-c"), ("powerbank", "power-bank"), ("Power Bank", "power-bank")],
)  # fmt: skip
def test_a_port_by_another_name(port: str, ours: str) -> None:
    usb = slipped('"adaptor" ', f'"usb"\nport = "{port}" ').replace(
        'volts     = "12 V"\ntolerance = "5 %"\n', ""
    )
    only = one(usb)
    assert f'write port = "{ours}"' in (only.hint or "")
    postcheck.loads(usb.replace(f'"{port}"', f'"{ours}"'))


@pytest.mark.parametrize(
    ("kind", "typed"),
    [
        ("usb-c", 'kind = "usb" and port = "type-c"'),
        ("power bank", 'kind = "usb" and port = "power-bank"'),
        ("micro usb", 'kind = "usb" and port = "plain"'),
    ],
)
def test_a_supply_called_by_its_port(kind: str, typed: str) -> None:
    assert one(slipped('"adaptor" ', f'"{kind}" ')).hint == f"write {typed}"


@pytest.mark.parametrize(
    "end",
    [
        "\n<<<<<<< HEAD\n{}\n=======\n{}\n>>>>>>> other\n",
        "\n<<<<<<< HEAD\n{}\n||||||| base\n{}\n=======\n{}\n>>>>>>> other\n",
    ],
)
@pytest.mark.parametrize("lines", ['[place.stern]\naccess = "open"', 'label = "x"'])
def test_a_merge_conflict_is_called_one(end: str, lines: str) -> None:
    text = STARTER + end.replace("{}", lines)
    only = one(text)
    assert "a merge left both versions here" in only.says
    assert "delete" in (only.hint or "")
    assert text.splitlines()[(only.line or 1) - 1] == "<<<<<<< HEAD"
    assert only.column == 1


def test_seven_equals_signs_alone_are_told_for_the_mark_of_a_merge() -> None:
    only = one(STARTER + "\n=======\n")
    assert only.says.startswith("seven equals signs alone are the mark that a merge leaves")
    assert only.line == STARTER.count("\n") + 2
    for ruled in ("\n======\n", "\n========\n", '\n[usual]\nlead = """\n=======\n"""\n'):
        assert "merge" not in one(STARTER + ruled).says


def test_a_space_from_a_web_page() -> None:
    only = one(slipped('volts     = "12 V"', 'volts\u00a0= "12 V"'))
    assert "not an ordinary one" in only.says
    assert only.column == 6


def test_a_key_that_is_missing_for_its_name_alone_is_reported_once() -> None:
    only = one(slipped('kind     = "smd-0603-red"', 'type = "smd-0603-red"'))
    assert (only.check, only.hint) == ("file.unknown-key", "did you mean 'kind'?")


def test_a_table_without_a_name_is_one_message() -> None:
    only = one(STARTER.replace("[place.mast]", "[place]"))
    assert only.says == "[place] has no name of its own"


# -- unknown names, and the lines that describe them

_UNKNOWN = [
    ('place    = "mast"', 'place    = "funnel"', "funnel", "[place.funnel]"),
    ('place    = "mast"', 'place    = "fore mast"', "fore mast", '[place."fore mast"]'),
    ('supply    = "main"', 'supply    = "pack"', "pack", "[supply.pack]"),
    ('supply    = "main"', 'board     = "flasher"', "flasher", "[board.flasher]"),
    ("[circuit.running]", "[circuit.runnings]", "running", "[circuit.running]"),
    ('"smd-0603-red"', '"old stock red"', "old stock red", '[lamp_kind."old stock red"]'),
    ('run      = "ptfe-28"', 'run      = "shop wire"', "shop wire", '[wire."shop wire"]'),
    ("180 mm to hub", "180 mm to engine room", "engine room", '[place."engine room"]'),
    ("1k5 at hub", "1k5 at locker", "locker", "[place.locker]"),
]  # fmt: skip


@pytest.mark.parametrize(("right", "wrong", "name", "header"), _UNKNOWN)
def test_an_unknown_name_comes_with_the_lines_that_describe_it(
    right: str, wrong: str, name: str, header: str
) -> None:
    text = slipped(right, wrong)
    first, *again = refused(text)
    assert f"'{name}'" in first.says
    assert first.lines[0] == header
    assert "describe it:" in (first.hint or "")
    assert not any(problem.lines for problem in again), "once is enough"
    left = () if header == "[place.locker]" else refused_or_none(text + "\n" + "\n".join(first.lines) + "\n")
    assert not any(problem.check == "file.unknown-name" for problem in left)


def refused_or_none(text: str) -> tuple[Problem, ...]:
    try:
        postcheck.loads(text)
    except BuildError as error:
        return error.problems
    return ()


def test_the_lines_are_printed_below_the_message() -> None:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(slipped('place    = "mast"', 'place    = "funnel"'), "ferry")
    assert str(caught.value).splitlines()[1:] == [
        "    [place.funnel]",
        '    access = "cover"  # or open, sealed',
    ]


@pytest.mark.parametrize("called", ["negative", "ground", "GND", "minus", "common"])
def test_a_pole_by_another_name(called: str) -> None:
    text = slipped('line   = "main-"', f'line   = "{called}"')
    assert one(text).hint == "did you mean 'main-'?"


@pytest.mark.parametrize(
    ("kind", "such"), [("red led", "-red'"), ("0402 green", "smd-0402-green"), ("red", "-red'")]
)
def test_a_kind_of_lamp_in_plain_words(kind: str, such: str) -> None:
    assert such in (one(slipped('"smd-0603-red"', f'"{kind}"')).hint or "")


def test_a_lead_to_an_unknown_place_is_reported_at_its_own_line_once() -> None:
    only = one(slipped("180 mm to hub, red/black", "180 mm to hull, red/black"))
    at = STARTER.index("180 mm to hub, red/black") - 1
    assert (only.line, only.column) == (STARTER[:at].count("\n") + 1, at - STARTER.rfind("\n", 0, at))


def test_colours_without_their_comma_are_no_place() -> None:
    only = one(slipped("180 mm to hub, red/black", "180 mm to hub red/black"))
    assert "to hub, red/black" in (only.hint or "")


# -- a plain USB port gives 5 V


@pytest.mark.parametrize("port", ["", 'port = "plain"', 'port = "power-bank"'])
def test_a_usb_port_at_twelve_volts_is_one_cause(port: str) -> None:
    text = slipped('"adaptor" ', f'"usb"\n{port}\n#')
    only = one(text)
    assert "USB port gives 5 V, not 12 V" in only.says
    assert text.splitlines()[(only.line or 1) - 1].startswith("volts ")
    for typed in ('volts = "5 V"', 'kind = "adaptor"', 'port = "type-c"'):
        assert typed in (only.hint or "")
    postcheck.loads(text.replace('volts     = "12 V"', 'volts = "5 V"'))


def test_what_a_plan_may_take_instead_is_held_to_the_same() -> None:
    (only,) = refused(slipped('fuse      = "250 mA"', 'instead = ["usb 12 V 1 A"]'))
    assert "a plain USB port gives 5 V, not 12 V" in only.says


@pytest.mark.parametrize("volts", ["4.75 V", "5 V", "5.1 V", "5.25 V"])
def test_five_volts_and_what_a_port_may_have_pass(volts: str) -> None:
    postcheck.loads(slipped('"adaptor" ', '"usb" #').replace('volts     = "12 V"', f'volts = "{volts}"'))


def test_a_type_c_port_may_be_asked_for_more() -> None:
    postcheck.loads(slipped('"adaptor" ', '"usb"\nport = "type-c"\n#'))


@pytest.mark.parametrize(
    ("kind", "row"),
    [
        ("white led 3mm", "led-3mm-white"),
        ("0603 red smd", "smd-0603-red"),
        ("3mm warm white led", "led-3mm-warm-white"),
    ],
)
def test_the_words_of_a_kind_in_any_order(kind: str, row: str) -> None:
    assert (one(slipped('"smd-0603-red"', f'"{kind}"')).hint or "").startswith(f"did you mean '{row}'?")


def test_a_place_in_one_text_is_shown_as_a_table() -> None:
    text = slipped('[place.mast]\naccess = "open"', '[place]\nmast = "open"')
    only = one(text)
    assert only.hint == 'write [place.mast] and below it access = "open"'
    postcheck.loads(text.replace('[place]\nmast = "open"', '[place.mast]\naccess = "open"'))


def test_a_place_in_a_text_that_it_cannot_have_is_shown_with_the_first_that_it_can() -> None:
    only = one(slipped('[place.mast]\naccess = "open"', '[place]\nmast = "forward"'))
    assert only.hint == 'write [place.mast] and below it access = "open"'


def test_a_run_that_says_from_and_to_and_no_more_is_shown_its_ends() -> None:
    only = one(f'{STARTER}\n[[run]]\nfrom = "base"\nto = "hub"\n')
    assert (only.check, only.hint) == ("file.unknown-key", 'write ends = ["base", "hub"]')


def test_what_is_written_above_its_header() -> None:
    only = one(f'name = "Tug"\n{STARTER}')
    assert "below the header of its table, such as [build]" in (only.hint or "")


def test_a_remark_without_its_sign() -> None:
    assert "a remark begins with #" in (one(f"My tug lights\n{STARTER}").hint or "")


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("[place.mast]", "[place.fore\u202emast]"),
        ('[place.mast]\naccess = "open"', '[place]\n"ma\u202est" = "open"'),
        ('place    = "mast"', 'place    = "ma\u202est"'),
        ('ends   = ["base", "hub"]', 'ends = "base, h\u202eub"'),
        ("[supply.main]", '[[supply]]\nname = "ma\u202ein"'),
    ],
)
def test_nothing_that_steers_a_screen_gets_into_a_message(right: str, wrong: str) -> None:
    with pytest.raises(BuildError) as caught:
        postcheck.loads(slipped(right, wrong))
    assert "\u202e" not in str(caught.value)
