"""Which fuse is offered: the least of the series that carries the load or the start, of the kind and body that is there, then quick.

Rated 100, 125, 160, 200, 250, 315, 400, 500, 630, 800 mA, 1, 1.25, 1.6 A and so on (IEC 60127). The build takes 7.7 mA.
"""

from __future__ import annotations

import pytest

from postcheck.remedies.fuse import sturdier, with_a_first_fuse, with_its_fuse
from postcheck.remedies.proposal import Proposal
from postcheck.survey import Survey
from tests.survey.small import adaptor, lamp, survey

from .offers import given, offers, typed

MAIN = ("supply", "main")
LEAD = 'lamp.0.lead = "120 mm of {} to hull"'


def fused(fuse: str | None, rated: str = "1 A", more: str = "", **parts: str) -> Survey:
    return survey(supply=adaptor(rated, fuse) + more, **parts)


@pytest.mark.parametrize(
    ("fuse", "kinds"),
    [
        ("500 mA", [("quick", "100 mA")]),
        ("500 mA slow", [("slow", "100 mA slow"), ("quick", "100 mA")]),
        ("500 mA slow ceramic", [("slow", "100 mA slow ceramic"), ("quick", "100 mA quick ceramic")]),
        ("500 mA quick glass", [("quick", "100 mA quick glass")]),
        ("500 mA resettable", [("quick", "100 mA")]),
        (None, [("quick", "100 mA")]),
    ],
)
@pytest.mark.parametrize("check", ["fuse.absent", "wire.hurt-before-fuse", "fuse.never-opens"])
def test_the_least_that_carries_the_load(fuse, kinds, check):
    assert offers(fused(fuse), given(check, MAIN)) == [
        (
            f"Fit a {kind} fuse of 100 mA at the supply: it carries the load and protects every conductor.",
            f'supply.main.fuse = "{written}"',
        )
        for kind, written in kinds
    ]


# 90 % of a fuse for what it carries all the time
@pytest.mark.parametrize(
    ("load", "rated"),
    [
        ("80 mA", "100 mA"),
        ("95 mA", "125 mA"),
        ("117 mA", "160 mA"),
        ("150 mA", "200 mA"),
        ("230 mA", "315 mA"),
    ],
)
def test_nine_tenths_of_it_are_used(load, rated):
    horn = f'[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "{load}"\nmost = "{load}"\n'
    found = offers(fused(None, lamps="", extra=horn), given("fuse.absent", MAIN))
    assert [edit for _, edit in found[:1]] == [f'supply.main.fuse = "{rated}"']


def test_where_the_load_is_more_than_its_supply_gives_that_comes_first():
    def told(fuse: str, load: float, more: str = "") -> list[tuple[str, ...]]:
        return offers(fused(fuse, more=more), given("fuse.too-small", MAIN, figures={"load": load}))

    plain = [
        (
            "Fit a quick fuse of 100 mA at the supply: it carries the load and protects every conductor.",
            'supply.main.fuse = "100 mA"',
        )
    ]

    def sturdier(rated: str) -> tuple[str, str]:
        return f"Fit a quick fuse of {rated}: it carries the load.", f'supply.main.fuse = "{rated}"'

    # 300 mA are 80 % of 375
    assert told("500 mA", 0.3) == [*plain, sturdier("400 mA")]
    # 1.2 A are 80 % of 1.5 A
    assert told("500 mA", 1.2) == [
        (
            "Fit a quick fuse of 100 mA, once the supply is rated for 1.5 A or more.",
            'supply.main.rated = "1.5 A"',
            'supply.main.fuse = "100 mA"',
        )
    ]
    assert [edits[0] for _, *edits in told("500 mA slow", 1.21)] == ['supply.main.rated = "2 A"'] * 2
    # above all that is sold, and where the supply limits itself, the load is what it is
    assert told("500 mA", 9.0) == [*plain, sturdier("10 A")]
    assert told("500 mA", 1.2, '\ncurrent_limit = "1.1 A"') == [*plain, sturdier("1.6 A")]


def test_the_same_in_ceramic():
    # in glass it breaks ten times its rating, 35 A at least; in ceramic 1500 A (IEC 60127-2)
    assert offers(fused("500 mA"), given("fuse.breaking", MAIN)) == [
        ("Use a ceramic fuse: quick, 500 mA, high breaking capacity (H).", 'supply.main.fuse = "500 mA quick ceramic"')
    ]  # fmt: skip
    assert offers(fused("1.6 A slow"), given("fuse.breaking", MAIN))[0][1] == (
        'supply.main.fuse = "1.6 A slow ceramic"'
    )
    for fuse in ("500 mA resettable", "500 mA UL", None):
        assert offers(fused(fuse), given("fuse.breaking", MAIN)) == []


# A slow fuse holds 2.75 times its rating for 0.6 s and 4 times for 0.15 (IEC 60127-2 sheet III): 2 A, half a second, are 2.5 times
# 800 mA, and 3.17 times 630 (0.6 s x (3.17 / 2.75)**(ln(0.25) / ln(4 / 2.75)) = 0.36 s)
@pytest.mark.parametrize("fuse", ["500 mA", "500 mA slow", "500 mA resettable"])
@pytest.mark.parametrize(
    ("check", "what"),
    [("fuse.opens-at-start", "the motor start"), ("fuse.cold-filaments", "cold bulbs warm up")],
)
def test_the_least_slow_one_that_lets_it_start(fuse, check, what):
    made = fused(fuse)
    finding = given(check, MAIN, figures={"starting": 2.0}, limit=0.5)
    quick = [
        (f"Fit a quick fuse of {rated}: cold bulbs do not wear it, and it protects every conductor.", f'supply.main.fuse = "{rated}"')
        for rated in ("800 mA", "1 A")
    ] if check == "fuse.cold-filaments" and fuse == "500 mA" else []  # fmt: skip
    held = [
        (f"Fit a slow fuse of {rated} in glass: it lets the motor start, and opens in time if the motor is held fast.", f'supply.main.fuse = "{rated} slow glass"')
        for rated in ("800 mA", "1 A")
    ] if check == "fuse.opens-at-start" else []  # fmt: skip
    assert offers(made, finding) == [
        *quick,
        *(
            (f"Fit a slow fuse of {rated}: it lets {what} and protects every conductor.", f'supply.main.fuse = "{rated} slow"')
            for rated in ("800 mA", "1 A")
        ),
        (
            f"Fit a slow fuse of 800 mA: it lets {what}. Use enamel-0.20 for the lead of 'bow lamp' as well: "
            "a short would overheat what is there now.",
            'supply.main.fuse = "800 mA slow"',
            LEAD.format("enamel-0.20"),
        ),
        *held,
    ]  # fmt: skip


def test_without_a_start_the_same_slow_then_the_next():
    def ratings(fuse: str) -> list[str]:
        return [edits[0] for _, *edits in offers(fused(fuse), given("fuse.opens-at-start", MAIN))]

    assert ratings("500 mA")[:2] == ['supply.main.fuse = "500 mA slow"', 'supply.main.fuse = "630 mA slow"']
    # slow as it is, the next one alone
    assert ratings("500 mA slow")[0] == 'supply.main.fuse = "630 mA slow"'
    assert 'supply.main.fuse = "500 mA slow"' not in ratings("500 mA slow")


def test_what_has_a_body_or_lies_elsewhere_is_left_alone():
    finding = given("fuse.opens-at-start", MAIN, figures={"starting": 2.0}, limit=0.5)
    for fuse in ("500 mA slow ceramic", "500 mA quick glass", None):
        assert offers(fused(fuse), finding) == []


# 90 % of 4 A are more than 3 A, of 2.5 A than 2 A, of 1.25 A than 1 A; it opens for sure at 2.1 times (IEC 60127-2), which the wire
# has to carry: of half the resistance, a quarter, an eighth or a sixteenth the first that does
@pytest.mark.parametrize(
    ("load", "wire", "thicker", "fuse"),
    [("3 A", "ptfe-30", "ptfe-20", "4 A"), ("2 A", "ptfe-32", "ptfe-26", "2.5 A"), ("1 A", "enamel-0.125", "enamel-0.25", "1.25 A"), ("2 A", "enamel-0.20", None, "")],
)  # fmt: skip
def test_thicker_wire_where_no_fuse_does_both(load, wire, thicker, fuse):
    horn = f'[[load]]\nname = "horn"\nkind = "sound"\ncircuit = "lights"\nplace = "hull"\ntypical = "{load}"\nmost = "{load}"\n'
    # another supply's conductors are hurt as well, and are its own matter
    aft = (
        '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "9 A"\nshares_negative_with = "main"\n[circuit.deck]\nsupply = "aft"\n'
        '[[run]]\nname = "deck"\nline = "deck"\nends = ["base", "hull"]\nlength = "300 mm"\nwire = "ptfe-32"\n'
    )
    made = fused(None, "10 A", wire=wire, lamps="", extra=horn + aft)
    assert offers(made, given("fuse.absent", MAIN)) == (
        []
        if thicker is None
        else [
            (
                f"Use {thicker} for 'feed' and 'negative', with a quick fuse of {fuse} at the supply: no fuse protects them as they are.",
                f'run.0.wire = "{thicker}"',
                f'run.1.wire = "{thicker}"',
                f'supply.main.fuse = "{fuse}"',
            )
        ]
    )


# half of its resistance, a quarter, an eighth and a sixteenth: of ptfe-32 those of ptfe-28, 26, 22 and 20, of ptfe-30 of 26, 24, 20
@pytest.mark.parametrize(
    ("wire", "at", "fuse", "sizes", "then"),
    [
        ("ptfe-32", " at hull", "4 A", ("ptfe-28", "ptfe-26", "ptfe-22", "ptfe-20"), "ptfe-22"),
        ("ptfe-30", " at hull", "2.5 A", ("ptfe-26",), "ptfe-26"),
        ("ptfe-32", " at hull", "10 A", ("ptfe-28", "ptfe-26", "ptfe-22", "ptfe-20"), None),
        # nothing is hurt; and more than two conductors are not exchanged for a fuse
        ("ptfe-20", " at hull", "500 mA", (), None),
        ("ptfe-32", "", "4 A", (), None),
    ],
)
def test_the_first_thicker_wire_that_no_short_overheats(wire, at, fuse, sizes, then):
    def built(size: str) -> Survey:
        return survey(supply=adaptor("10 A", fuse), wire=size, lamps=lamp(at=at))

    found = typed(sturdier(built(wire), "main", Proposal("Fit it.", ())))
    words = f"Fit it. Use {then} for 'feed' and {then} for 'negative' as well: a short would overheat what is there now."
    assert found == ([(words, f'run.0.wire = "{then}"', f'run.1.wire = "{then}"')] if then else [])
    hurt = [size for size in sizes if any(fault.most.hurt for fault in built(size).faults)]
    assert hurt == list(sizes if then is None else sizes[: sizes.index(then)])


def test_a_thicker_lead_that_no_short_overheats():
    made = survey(
        supply=adaptor("10 A", "1 A"), wire="ptfe-20", lamps=lamp(lead="120 mm of enamel-0.10 to hull")
    )
    assert typed(sturdier(made, "main", Proposal("Fit it.", ()))) == [
        (
            "Fit it. Use enamel-0.20 for the lead of 'bow lamp' as well: a short would overheat what is there now.",
            LEAD.format("enamel-0.20"),
        )
    ]


@pytest.mark.parametrize(
    ("fuse", "rated", "wire", "fitted"),
    [
        (None, "10 A", "ptfe-32", "100 mA"),
        # one that it has stays, and what cannot hurt anything needs none
        ("4 A", "10 A", "ptfe-32", None),
        (None, "100 mA", "ptfe-20", None),
    ],
)
def test_cells_that_give_more_get_a_fuse_where_a_short_would_hurt(fuse, rated, wire, fitted):
    made = survey(supply=adaptor(rated, fuse), wire=wire, lamps=lamp(at=" at hull"))
    plain = Proposal("Use C cells.", ())
    (found,) = typed([with_a_first_fuse(made, "main", plain)])
    if fitted is None:
        assert found == ("Use C cells.",)
    else:
        words = f"Use C cells. Fit a quick fuse of {fitted} at the supply: they give far more into a short."
        assert found == (words, f'supply.main.fuse = "{fitted}"')


def test_a_stronger_supply_gets_the_fuse_that_it_then_needs():
    """Of 500 mA for 7.7 mA: 100 mA would do; where the fuse is that already, or there is none, nothing is said."""
    plain = Proposal("Use one rated for 2 A or more.", ())
    for fuse, offered in (("500 mA", [("100 mA", "a quick fuse of 100 mA")]), ("100 mA", []), (None, [])):
        made = survey(supply=adaptor("10 A", fuse), wire="ptfe-32", lamps=lamp(at=" at hull"))
        assert typed(with_its_fuse(made, "main", plain)) == [
            (f"Use one rated for 2 A or more. Then fit {called}.", f'supply.main.fuse = "{rated}"')
            for rated, called in offered
        ]
