"""What the words of a check come to in the file: which value, of which key, of whom; and where there is none to type."""

from __future__ import annotations

from pathlib import Path

import pytest

import postcheck
from postcheck.mending import Mending
from postcheck.remedies.table import proposals
from postcheck.report import Subject
from postcheck.survey import Survey
from tests.survey.small import adaptor, lamp, survey
from tests.write_expected import TODAY

from .offers import given, offers

SAYS = "Mend it."


def run(name: str, line: str, length: int = 300, more: str = "", ends: str = '"base", "hull"') -> str:
    said = f'line = "{line}"\n' if line else ""
    return f'[[run]]\nname = "{name}"\n{said}ends = [{ends}]\nlength = "{length} mm"\n{more}\n'


@pytest.fixture(scope="module")
def made() -> Survey:
    stern = lamp().replace("bow lamp", "stern lamp").replace('to hull"', 'to hull, red/black"')
    return survey(
        supply=adaptor() + '\nsocket = "5.5/2.1 mm, centre positive"',
        lamps=lamp() + stern,
        extra='[[plug]]\nname = "foot"\nat = "hull"\npins = ["lights", "main-"]\nkeyed = false\n'
        '[board.driver]\nplace = "base"\nsupply = "main"\n'
        '[[load]]\nname = "winch"\nkind = "motor"\ncircuit = "lights"\nplace = "hull"\ntypical = "10 mA"\n'
        + run("spare", "", more="spare = true"),
    )


def of(subject: str) -> Subject:
    kind, _, name = subject.partition(":")
    return Subject(kind, name)


# -- one key of one thing


@pytest.mark.parametrize(
    ("check", "path", "typed"),
    [
        ("supply.type-c", ("supply", "main", "cc_resistors"), "supply.main.cc_resistors = true"),
        ("battery.unprotected", ("supply", "main", "protected"), "supply.main.protected = true"),
        ("plug.crossed", ("plug", 0, "keyed"), "plug.0.keyed = true"),
        ("plug.part-way", ("plug", 0, "part_way"), "plug.0.part_way = false"),
        ("plug.bare-pins", ("plug", 0, "bare_pins"), 'plug.0.bare_pins = "model"'),
        ("passage.soldered", ("post", "soldered_inside"), "post.soldered_inside = false"),
        ("passage.joint-inside", ("post", "to_joint"), "post.joints_inside = false"),
        ("passage.plug", ("plug", 0, "across"), "plug.0.through = []"),
        ("motor.hot", ("load", 0, "starting"), "load.0.held_off = true"),
        ("battery.gas", ("supply", "main"), "place.base.vented = true"),
        ("supply.wrong-adaptor", ("supply", "main"), 'supply.main.socket = "3.5/1.35 mm, centre positive"'),
    ],
)
def test_one_value_that_is_the_opposite(made, check, path, typed):
    subject = ("supply", "main")
    assert offers(made, given(check, subject, path)) == [(SAYS, typed)]
    assert offers(made, given(check, subject, path, remedy=None)) == []


@pytest.mark.parametrize(
    ("check", "path", "figure", "typed"),
    [
        ("passage.coiled", ("post", "bore"), ("most", 0.0123), 'post.slack = "12.3 mm"'),
        ("passage.fold", ("post", "bore"), ("needed", 0.0456), 'post.free = "45.6 mm"'),
        (
            "dim.frequency",
            ("circuit", "lights", "pwm"),
            ("unseen", 1250.0),
            'circuit.lights.pwm = "1.25 kHz"',
        ),
    ],
)
def test_a_figure_of_the_finding_is_typed(made, check, path, figure, typed):
    name, value = figure
    assert offers(made, given(check, ("circuit", "lights"), path, figures={name: value})) == [(SAYS, typed)]
    assert offers(made, given(check, ("circuit", "lights"), path)) == []


def test_that_a_motor_never_stalls_is_promised_by_its_builder_alone(made):
    """Its clutch is seen by nobody but him: the words advise it, and nothing is typed for him."""
    finding = given("motor.hot", ("load", "winch"), ("load", 0, "starting"), figures={"current": 0.1})
    assert offers(made, finding) == []


@pytest.mark.parametrize("held", ["held", "air", "burns-out"])
def test_no_promise_of_a_motor_is_put_into_a_file(held):
    build = postcheck.load(Path(__file__).parent.parent / "builds" / "faulty" / f"motor-hot-{held}.post.toml")
    mending = Mending(build, today=TODAY)
    while (step := mending.next()) is not None:
        mending.take(step)
    assert "never_stalls = true" not in mending.text
    left = [one for one in mending.report.findings if one.check == "motor.hot"]
    assert all("never_stalls = true" in (one.remedy or "") for one in left)


def test_the_lines_that_are_shown_are_those_to_type(made):
    lines = ('socket = "5.5/2.1 mm"', "regulation = 0.02")
    assert offers(made, given("supply.mains-inside", ("supply", "main"), lines=lines)) == [
        (SAYS, 'supply.main.socket = "5.5/2.1 mm"'),
        (SAYS, "supply.main.regulation = 0.02"),
    ]


def test_a_cover_over_what_is_sealed(made):
    assert offers(made, given("access.sealed", ("place", "hull"), remedy="Take it out.")) == [
        ("Leave a cover over 'hull', or take it out.", 'place.hull.access = "cover"')
    ]
    assert offers(made, given("access.sealed", ("place", "hull"), remedy="Leave a cover there.")) == [
        ("Leave a cover there.", 'place.hull.access = "cover"')
    ]
    assert offers(made, given("access.sealed", ("place", "hull"), remedy=None)) == []


@pytest.mark.parametrize(
    ("protected", "as_well"), [("", True), ("protected = false", True), ("protected = true", False)]
)
def test_a_lithium_battery_gets_a_cover_and_its_protection(protected, as_well):
    cells = f'kind = "battery"\nplace = "base"\nchemistry = "li-ion"\nsize = "18650"\ncells = 3\n{protected}'
    made = survey(supply=cells)
    cover = 'place.base.access = "cover"'
    both = [(SAYS, cover, "supply.main.protected = true")] if as_well else []
    assert offers(made, given("battery.lithium-sealed", ("supply", "main"))) == [*both, (SAYS, cover)]
    # a load with cells inside has none to state
    assert offers(made, given("battery.lithium-sealed", ("place", "hull"))) == [
        (SAYS, 'place.hull.access = "cover"')
    ]


def test_what_is_no_battery_gets_a_cover_alone(made):
    assert offers(made, given("battery.lithium-sealed", ("supply", "main"))) == [
        (SAYS, 'place.base.access = "cover"')
    ]


# -- sockets: the two usual ones, with the pole as it was; a board turns the pole, and keeps the size


@pytest.mark.parametrize(
    ("socket", "other", "turned"),
    [
        ("5.5/2.1 mm", "3.5/1.35 mm", None),
        ("5.5/2.5 mm", "3.5/1.35 mm", None),
        ("5.5/2.5 mm, centre negative", "3.5/1.35 mm, centre negative", "5.5/2.5 mm, centre positive"),
        ("5.5/2.1 mm, centre positive", "3.5/1.35 mm, centre positive", "5.5/2.1 mm, centre negative"),
        (None, None, None),
    ],
)
def test_another_socket(socket, other, turned):
    made = survey(
        supply=adaptor() + (f'\nsocket = "{socket}"' if socket else ""),
        extra='[board.driver]\nplace = "base"\nsupply = "main"\n',
    )
    changed = [] if other is None else [(SAYS, f'supply.main.socket = "{other}"')]
    assert offers(made, given("supply.wrong-adaptor", ("supply", "main"))) == changed
    assert offers(made, given("supply.polarity", ("supply", "main"))) == changed
    assert offers(made, given("supply.wrong-adaptor", ("supply", "no such"))) == []
    assert offers(made, given("supply.polarity", ("board", "driver"))) == (
        [] if turned is None else [(SAYS, f'supply.main.socket = "{turned}"')]
    )


# -- flashers


def test_a_flash_at_the_limit(made):
    path = ("circuit", "lights", "rate")
    assert offers(made, given("flash.rate", ("circuit", "lights"), path, limit=3.0)) == [
        (SAYS, 'circuit.lights.rate = "3 Hz"')
    ]
    assert offers(made, given("flash.rate", ("circuit", "lights"), path)) == []
    # a lamp that flashes by itself does as it does
    assert offers(made, given("flash.rate", ("lamp", "bow lamp"), path, limit=3.0)) == []


@pytest.fixture(scope="module")
def flashing() -> Survey:
    rates = {"c0": 60, "c1": 67, "c2": 74, "c3": 81}
    circuits = "".join(
        f'[circuit.{name}]\nsupply = "main"\nbehaviour = "flash"\nrate = "{rate} /min"\n'
        for name, rate in rates.items()
    )
    return survey(
        circuit='behaviour = "flash"\nrate = "100 /min"', extra=circuits + '[circuit.calm]\nsupply = "main"\n'
    )


def slowed(flashing: Survey, slower: float, *subjects: str) -> list[tuple[str, ...]]:
    parts = {"flashers": tuple(map(of, subjects))}
    figures = {"slower": slower}
    return offers(flashing, given("flash.together", ("circuit", "lights"), parts=parts, figures=figures))


def test_all_slower_by_as_much(flashing):
    # 73 and 0.73 x 67 = 48.91, down to a whole one
    assert slowed(flashing, 0.73, "circuit:lights", "circuit:c1") == [
        (
            "Flash 'lights' at 73 /min and 'c1' at 48 /min, or let them flash in step and say so (in_step_with).",
            'circuit.lights.rate = "73 /min"',
            'circuit.c1.rate = "48 /min"',
        )
    ]


def test_more_than_four_are_not_told_one_by_one(flashing):
    rates = {"lights": 50, "c0": 30, "c1": 33, "c2": 37, "c3": 40}
    edits = [f'circuit.{name}.rate = "{rate} /min"' for name, rate in rates.items()]
    four = [f"circuit:{name}" for name in list(rates)[:4]]
    assert slowed(flashing, 0.5, *four) == [
        (
            "Flash 'lights' at 50 /min, 'c0' at 30 /min, 'c1' at 33 /min and 'c2' at 37 /min, "
            "or let them flash in step and say so (in_step_with).",
            *edits[:4],
        )
    ]
    assert slowed(flashing, 0.5, *four, "circuit:c3") == [(SAYS, *edits)]
    parts = {"flashers": tuple(map(of, four))}
    finding = given("flash.together", ("circuit", "lights"), parts=parts, figures={"slower": 0.5})
    assert [proposal.alone for proposal in proposals(flashing, finding)] == [True]


def test_who_has_no_rate_cannot_be_slowed(flashing):
    assert slowed(flashing, 0.5, "circuit:lights", "circuit:calm") == []
    assert slowed(flashing, 0.5, "circuit:lights", "lamp:bow lamp") == []
    figures = {"slower": 0.5}
    assert offers(flashing, given("flash.together", ("circuit", "lights"), figures=figures)) == []


# -- leads and runs


def test_flags_on_the_supply_legs_of_like_leads(made):
    parts = {"owners": (of("lamp:bow lamp"), of("lamp:stern lamp"))}
    assert offers(made, given("lead.same-legs", ("lamp", "bow lamp"), parts=parts)) == [
        (
            SAYS,
            'lamp.0.lead = { length = "120 mm", to = "hull", feed = { label = "+" } }',
            'lamp.1.lead = { length = "120 mm", to = "hull", colours = ["red", "black"], feed = { label = "+" } }',
        )
    ]


def test_a_lead_with_the_spare_that_it_needs(made):
    finding = given("lead.too-short", ("lamp", "bow lamp"), ("lamp", 0, "lead"), figures={"needed": 0.0345})
    assert offers(made, finding) == [
        (SAYS, 'lamp.0.lead = { length = "120 mm", to = "hull", spare = "34.5 mm" }')
    ]
    stern = given("lead.too-short", ("lamp", "stern lamp"), ("lamp", 1, "lead"), figures={"needed": 0.02})
    assert offers(made, stern)[0][1].startswith("lamp.1.lead = ")
    assert offers(made, given("lead.too-short", ("lamp", "x"), ("lamp", 7, "lead"), figures={"needed": 0.02})) == []  # fmt: skip


@pytest.mark.parametrize(("access", "offered"), [("open", True), ("cover", True), ("sealed", False)])
def test_a_resistor_and_a_trimmer_are_moved(access, offered):
    made = survey(hull=f'access = "{access}"', lamps=lamp(at=" at base"))
    there = 'lamp.0.resistor = "1.5 kohm 1/4 W at hull"'
    # with the lamp first, then at the joint of its lead
    assert offers(made, given("lead.bare", ("lamp", "bow lamp"))) == [
        (SAYS, 'lamp.0.resistor = "1.5 kohm 1/4 W"'),
        (SAYS, there),
    ]
    assert offers(made, given("trimmer.sealed", ("lamp", "bow lamp"))) == (
        [("Move it to 'hull'.", there)] if offered else []
    )
    for check in ("lead.bare", "trimmer.sealed"):
        assert offers(made, given(check, ("lamp", "no such"))) == []


def test_a_bare_lamp_has_no_resistor_to_move():
    made = survey(lamps=lamp().replace('resistor = "1k5 1/4 W"', ""))
    for check in ("lead.bare", "trimmer.sealed"):
        assert offers(made, given(check, ("lamp", "bow lamp"))) == []


def test_a_flag_on_what_is_in_reserve(made):
    assert offers(made, given("ends.spare", ("place", "hull"), parts={"spares": (of("run:spare"),)})) == [
        (SAYS, 'run.2.label = "spare"')
    ]
    assert offers(made, given("ends.spare", ("place", "hull"), parts={"spares": of("run:spare")})) == []


def test_the_one_of_the_lengths_that_would_fit(made):
    def told(**left: float) -> list[tuple[str, ...]]:
        figures = {f"{name}_left": value for name, value in left.items()}
        return offers(made, given("passage.lengths", ("passage", "post"), ("post", "bore"), figures=figures))

    free, joint, slack = 'post.free = "50 mm"', 'post.to_joint = "30 mm"', 'post.slack = "12 mm"'
    assert told(slack=0.012) == [(SAYS, slack)]
    assert told(slack=0.012, to_joint=0.03) == [(SAYS, joint), (SAYS, slack)]
    assert told(slack=0.012, to_joint=0.03, free=0.05) == [(SAYS, free), (SAYS, joint), (SAYS, slack)]
    assert told() == []


@pytest.mark.parametrize("check", ["passage.enamelled", "passage.solid"])
def test_stranded_wire_for_what_moves(made, check):
    parts = {"wires": (of("run:feed"), of("lead:bow lamp"))}
    # what the build has for its runs first
    assert offers(made, given(check, ("passage", "post"), parts=parts)) == [
        (SAYS, f'run.0.wire = "{wire}"', f'lamp.0.lead = "120 mm of {wire} to hull"')
        for wire in ("ptfe-28", "ptfe-30")
    ]
    assert offers(made, given(check, ("passage", "post"))) == []
    # solid wire is none of it, so two that are known
    solid = survey(wire="wrap-30")
    assert offers(solid, given(check, ("passage", "post"), parts={"wires": (of("run:negative"),)})) == [
        (SAYS, 'run.1.wire = "ptfe-30"'),
        (SAYS, 'run.1.wire = "ptfe-28"'),
    ]
    silicone = survey(wire="silicone-28")
    assert offers(silicone, given(check, ("passage", "post"), parts={"wires": (of("run:negative"),)})) == [
        (SAYS, 'run.1.wire = "silicone-28"'),
        (SAYS, 'run.1.wire = "ptfe-30"'),
    ]


def test_two_strands_are_strands():
    own = '[wire.pair]\nstrand = "0.2 mm"\nstrands = 2\noutside = "0.9 mm"\n'
    parts = {"wires": (of("run:negative"),)}
    found = offers(survey(wire="pair", extra=own), given("passage.solid", ("passage", "post"), parts=parts))
    assert found == [(SAYS, 'run.1.wire = "pair"'), (SAYS, 'run.1.wire = "ptfe-30"')]


def test_thicker_wire_for_what_a_pull_stretches(made):
    # of 0.1983 ohm/m 0.4 are 0.0793 (24 AWG: 0.0731) and 0.15 0.0297 (20: 0.0289); of 2.195 0.878 (0.16: 0.858) and 0.329 (0.28: 0.280)
    def told(conductor: str, remedy: str | None = SAYS) -> list[tuple[str, ...]]:
        parts = {"conductor": of(conductor)}
        return offers(made, given("passage.pull", ("passage", "post"), parts=parts, remedy=remedy))

    assert told("run:feed") == [
        (f"Use {wire} for it, or mend it.", f'run.0.wire = "{wire}"') for wire in ("ptfe-24", "ptfe-20")
    ]
    assert told("lead:stern lamp") == [
        (f"Use {wire} for it, or mend it.", f'lamp.1.lead = "120 mm of {wire} to hull, red/black"')
        for wire in ("enamel-0.16", "enamel-0.28")
    ]
    assert told("run:feed", None) == []
    assert told("run:no such") == []
    assert offers(made, given("passage.pull", ("passage", "post"))) == []
    thick = survey(wire="ptfe-22")
    assert offers(thick, given("passage.pull", ("passage", "post"), parts={"conductor": of("run:feed")})) == []  # fmt: skip


def test_a_second_run_beside_the_only_one(made):
    assert offers(made, given("line.broken-pole", ("line", "lights"), ("run", 0))) == [
        (
            SAYS,
            'run.+ = { name = "lights 2", line = "lights", ends = ["base", "hull"], length = "300 mm" }',
        )
    ]


@pytest.mark.parametrize(("beside", "offered"), [(0, False), (1, True), (2, False)])
def test_the_negative_on_the_metal_and_its_wire_for_what_was_there(beside, offered):
    # the negative goes elsewhere, too; of two beside the metal nobody knows which
    runs = '[passage.boom]\nfrom = "hull"\nto = "bow"\nbore = "5 mm"\nlength = "90 mm"\n'
    runs += run("tube", "lights", 160, 'body = true\nohms = "20 mohm"', '"hull", "bow"')
    runs += "".join(run(f"n{n}", "main-", 160, ends='"bow", "hull"') for n in range(beside))
    made = survey(extra=runs)
    assert offers(made, given("metal.live", ("run", "tube"), ("run", 2, "line"))) == (
        [(SAYS, 'run.2.line = "main-"', 'run.3.line = "lights"')] if offered else []
    )
    assert offers(made, given("metal.live", ("run", "tube"), ("run", 19, "line"))) == []


# -- joints, circuits, strings

JOINED = (
    '[circuit.deck]\nsupply = "main"\n'
    + run("deck", "deck")
    + "".join(f'[[join]]\nplace = "{place}"\nlines = ["lights", "deck"]\n' for place in ("hull", "base"))
)


@pytest.mark.parametrize(
    ("check", "case"),
    [
        ("circuit.joined-outputs", None), ("supply.conflict", None), ("supply.backfeed", None),
        ("circuit.steady-on-flasher", "join"), ("circuit.steady-on-flasher", "join:lamp"), ("circuit.steady-on-flasher", None),
    ],
)  # fmt: skip
def test_what_must_not_be_joined_is_parted(check, case):
    made = survey(extra=JOINED)
    subject = ("circuit", "deck")
    assert offers(made, given(check, subject, case=case)) == [(SAYS, "join.0 -"), (SAYS, "join.1 -")]
    for path in (("join", 1), ("join", 1, "lines")):
        assert offers(made, given(check, subject, path, case=case)) == [(SAYS, "join.1 -")]
    for path in (("circuit", 1), ("join",)):
        assert offers(made, given(check, subject, path, case=case)) == [
            (SAYS, "join.0 -"),
            (SAYS, "join.1 -"),
        ]
    assert offers(made, given(check, subject, ("join", 1), remedy=None, case=case)) == []


STROBE = '[circuit.strobe]\nsupply = "main"\nbehaviour = "flash"\nrate = "60 /min"\n{more}\n' + run(
    "s", "strobe", 210
)
OWN = (
    SAYS,
    'circuit.bow lamp feed = { supply = "main" }',
    'lamp.0.circuit = "bow lamp feed"',
    'run.+ = { line = "bow lamp feed", ends = ["base", "hull"], length = "210 mm" }',
)


@pytest.mark.parametrize(
    ("more", "extra", "offered"),
    [
        ("", "", [OWN]),
        ("", run("reserve", "strobe", 90, "spare = true"), [OWN]),
        (
            "",
            '[circuit.calm]\nsupply = "main"\n',
            [("Connect it to 'calm', which is steady.", 'lamp.0.circuit = "calm"'), OWN],
        ),
        # a name that is taken, and a return of its own, are not done for
        ("", '[circuit."bow lamp feed"]\nsupply = "main"\nbehaviour = "flash"\nrate = "50 /min"\n', []),
        ("own_return = true", run("r", "strobe-return"), []),
        # what is steady on another supply is none for it
        (
            "",
            '[supply.aft]\nkind = "adaptor"\nplace = "base"\nvolts = "5 V"\nrated = "1 A"\nshares_negative_with = "main"\n[circuit.calm]\nsupply = "aft"\n',
            [OWN],
        ),
    ],
)
def test_a_line_for_a_light_that_has_to_be_steady(more, extra, offered):
    made = survey(
        lamps=lamp().replace('circuit = "lights"', 'circuit = "strobe"'),
        circuit='behaviour = "fade"\nrate = "10 /min"',
        extra=STROBE.format(more=more) + extra,
    )
    subject, path = ("lamp", "bow lamp"), ("lamp", 0)
    assert offers(made, given("circuit.steady-on-flasher", subject, path, case="lamp:flash")) == offered
    assert offers(made, given("circuit.steady-on-flasher", subject, path, case="lamp", remedy=None)) == []
    assert offers(made, given("circuit.steady-on-flasher", ("lamp", "x"), path, case="lamp")) == []


@pytest.mark.parametrize(
    ("more", "left"),
    [
        ("series = 3", 2),
        ("series = 2", 1),
        ("series = 1", None),
        ('series = 3\nlinks = ["90 mm", "80 mm"]', None),
    ],
)
def test_one_lamp_less_in_a_string(more, left):
    made = survey(lamps=f"{lamp()}{more}\n")
    parts = {"lamp": of("lamp:bow lamp")}
    assert offers(made, given("output.compliance", ("circuit", "lights"), parts=parts)) == (
        [] if left is None else [(SAYS, f"lamp.0.series = {left}")]
    )
    assert offers(made, given("output.compliance", ("circuit", "lights"))) == []


STRIP = '[[strip]]\nname = "bay"\ncircuit = "lights"\nkind = "strip-12v-white-60"\nplace = "hull"\nlength = "300 mm"\n'


def test_a_strip_fed_at_both_ends():
    # six segments take a tenth of an ampere, which a quick fuse of 200 mA carries
    finding = given("strip.dim", ("strip", "bay"), ("strip", 0), case="along")
    made = survey(lamps=STRIP)
    assert offers(made, finding) == [
        (SAYS, 'strip.0.far_end = "hull"'),
        (
            "Mend it. Then fit a quick fuse of 200 mA.",
            'strip.0.far_end = "hull"',
            'supply.main.fuse = "200 mA"',
        ),
    ]
    assert offers(made, given("strip.dim", ("strip", "bay"), ("strip", 0), case="along", remedy=None)) == []
    assert offers(made, given("strip.dim", ("strip", "x"), ("strip", 0), case="along")) == []
    assert offers(survey(lamps=f'{STRIP}far_end = "base"\n'), finding) == []


def test_a_plug_that_ends_at_its_side_of_the_post():
    # 90 mm of the bore, and 30 mm to join both ends
    boom = '[passage.boom]\nfrom = "hull"\nto = "bow"\nbore = "5 mm"\nlength = "90 mm"\n'
    plug = '[[plug]]\nname = "foot"\nends = ["hull", "bow"]\npins = ["lights", "main-"]\nkeyed = true\n'
    made = survey(lamps=lamp(at=" at bow", lead="120 mm to bow"), extra=boom + plug)
    lines, passage = (of("line:lights"), of("line:main-")), of("passage:boom")

    def told(**parts: Subject | tuple[Subject, ...]) -> list[tuple[str, ...]]:
        return offers(made, given("passage.plug-alone", ("plug", "foot"), ("plug", 0), parts=parts))

    assert told(lines=lines, passage=passage) == [
        (
            SAYS,
            'plug.0.at = "hull"',
            "plug.0.ends -",
            'run.+ = { line = "lights", ends = ["hull", "bow"], length = "120 mm" }',
            'run.+ = { line = "main-", ends = ["hull", "bow"], length = "120 mm" }',
        )
    ]
    assert told(lines=lines) == told(passage=passage) == []


# what is told in the words of a check stands alone: nothing that goes with it is told as its consequence
@pytest.mark.parametrize(
    ("check", "subject", "path", "more", "alone"),
    [
        ("access.sealed", ("place", "hull"), (), {}, [True]), ("passage.pull", ("passage", "post"), (), {"parts": {"conductor": of("run:feed")}}, [True, True]),
        ("plug.crossed", ("plug", "foot"), ("plug", 0, "keyed"), {}, [True]), ("trimmer.sealed", ("lamp", "bow lamp"), (), {}, [False]),
        ("circuit.steady-on-flasher", ("lamp", "bow lamp"), ("lamp", 0), {"case": "lamp"}, [False, True]),
    ],
)  # fmt: skip
def test_what_stands_alone(made, check, subject, path, more, alone):
    assert [proposal.alone for proposal in proposals(made, given(check, subject, path, **more))] == alone
