import pytest

import postcheck
from postcheck.checks import flicker
from postcheck.description.limits import limit_changes
from postcheck.survey import Survey
from tests.survey.small import survey
from tests.write_expected import FAULTY

from .run import run
from .test_lamps import string

USB = 'kind = "usb"\nplace = "base"\nport = "plain"'
FLASHER = """
[circuit.beacon]
supply = "main"
behaviour = "flash"
rate = "{rate}"
on_share = "20 %"
[[lamp]]
name = "ring"
circuit = "beacon"
kind = "smd-0603-white"
place = "hull"
parallel = {count}
resistor = "90 ohm 1/4 W"
[[run]]
name = "beacon feed"
line = "beacon"
ends = ["base", "hull"]
length = "300 mm"
"""


def shared(count, rate="45 /min", wire="enamel-0.20"):
    return survey(
        supply=USB,
        wire=wire,
        lamps=string(resistor="91 ohm 1/4 W"),
        extra=FLASHER.format(rate=rate, count=count),
    )


@pytest.mark.parametrize(
    ("count", "rate", "told"),
    [
        (2, "45 /min", 0),
        (12, "45 /min", 0),
        (40, "45 /min", 1),
        (2, "5 Hz", 0),
        (20, "45 /min", 0),
        (20, "5 Hz", 1),
        (20, "180 /min", 0),  # 3 Hz is still slow
        (20, "181 /min", 1),
    ],
)
def test_steps_of_slow_and_fast_flashers(count, rate, told):
    findings, _ = run(flicker, "circuit.step", shared(count, rate))
    assert len(findings) == told


def test_step_agrees_with_the_shared_return_formula():
    # dI/I = I_f R_c / (I (R + r_d + R_c)): within 1.4 % of the exact solution up to a step of 37 % (worked table)
    lit = shared(40)
    (finding,), _ = run(flicker, "circuit.step", lit)
    steady = lit.electrics.lamps["bow lamp"]
    before = steady.nominal / (1.0 - finding.figures["step"].value)
    common = next(run.part for run in lit.electrics.runs.values() if run.part.name == "negative").ohms(20.0)
    flash = lit.electrics.lamps["ring"].nominal * 40
    assert finding.figures["step"].value == pytest.approx(
        flash * common / (91.3 + 21.0 + common) / before, rel=0.05
    )
    assert finding.subject.name == "beacon"


def test_an_own_return_cures_the_step():
    own = shared(40).build
    text = FLASHER.format(rate="45 /min", count=40).replace(
        'supply = "main"', 'supply = "main"\nown_return = true'
    )
    text += '[[run]]\nname = "beacon return"\nline = "beacon-return"\nends = ["base", "hull"]\nlength = "300 mm"\n'
    apart = survey(supply=USB, wire="enamel-0.20", lamps=string(resistor="91 ohm 1/4 W"), extra=text)
    assert len(apart.build.run) == len(own.run) + 1
    assert run(flicker, "circuit.step", apart) == ([], [])


# WCAG 2.2, success criterion 2.3.1: more than three flashes in any second
@pytest.mark.parametrize(
    ("rate", "told"), [("45 /min", 0), ("180 /min", 0), ("3 Hz", 0), ("3.1 Hz", 1), ("8 Hz", 1)]
)
def test_three_flashes_a_second(rate, told):
    findings, questions = run(flicker, "flash.rate", survey(circuit=f'behaviour = "flash"\nrate = "{rate}"'))
    assert (len(findings), questions) == (told, [])
    if told:
        assert "photosensitive epilepsy" in findings[0].why


def flashers(rates, said):
    extra = "".join(
        f'[circuit.c{n}]\nsupply = "main"\nbehaviour = "flash"\nrate = "{rate}"\n{more}\n'
        for n, (rate, more) in enumerate(zip(rates, said, strict=True))
    )
    return survey(extra=extra)


STEP = ['in_step_with = "c1"', "", 'in_step_with = "c0"']


# WCAG 2.2, 2.3.1: more than three flashes in any second, wherever in view they come from
@pytest.mark.parametrize(
    ("rates", "said", "total"),
    [
        (["60 /min", "60 /min", "60 /min"], [""] * 3, None),
        (["61 /min", "60 /min", "60 /min"], [""] * 3, 181 / 60),
        (["80 /min", "80 /min", "80 /min"], [""] * 3, 4.0),
        (["80 /min", "80 /min", "80 /min"], STEP, None),
        (["80 /min", "80 /min", "101 /min"], ["", 'in_step_with = "c0"', ""], 181 / 60),
        (["4 Hz"], [""], None),
    ],
)
def test_flashes_that_are_seen_together(rates, said, total):
    findings, _ = run(flicker, "flash.together", flashers(rates, said))
    assert [finding.figures["total"].value for finding in findings] == (
        [pytest.approx(total)] if total else []
    )
    for finding in findings:  # at the share that is offered they are within three a second
        assert finding.figures["slower"].value * finding.figures["total"].value <= 3.0


def test_in_step_with_a_circuit_that_is_not_there_is_refused():
    with pytest.raises(postcheck.BuildError, match="there is no circuit 'c9'"):
        flashers(["80 /min"], ['in_step_with = "c9"'])


def test_a_flasher_without_a_rate_is_not_judged():
    findings, (question,) = run(flicker, "flash.rate", survey(circuit='behaviour = "flash"'))
    assert findings == []
    assert not question.vital


# IEEE 1789-2015: exempt above 1250 Hz (from memory); flicker is seen up to 60 to 90 Hz (Lehman et al.)
@pytest.mark.parametrize(
    ("frequency", "severity"),
    [("1250 Hz", []), ("1.2 kHz", ["note"]), ("90 Hz", ["note"]), ("70 Hz", ["caution"])],
)
def test_frequency_of_dimming(frequency, severity):
    dim = survey(circuit=f'behaviour = "dim"\nfrequency = "{frequency}"\non_share = "30 %"')
    assert [finding.severity for finding in run(flicker, "dim.frequency", dim)[0]] == severity


# Epilepsy Society: 3 to 30 Hz is the common range; some are sensitive up to 60 Hz
@pytest.mark.parametrize(
    ("frequency", "severity", "firm"),
    [
        ("2 Hz", "caution", False), ("3 Hz", "stop", True), ("20 Hz", "stop", True), ("30 Hz", "stop", True),
        ("31 Hz", "caution", True), ("59 Hz", "caution", True), ("60 Hz", "caution", False),
    ],
)  # fmt: skip
def test_slow_dimming_is_a_danger(frequency, severity, firm):
    dim = survey(circuit=f'behaviour = "dim"\nfrequency = "{frequency}"\non_share = "30 %"')
    ((finding,), _) = run(flicker, "dim.frequency", dim)
    assert (finding.severity, bool(finding.firm), "seizure" in finding.why) == (severity, firm, firm)


@pytest.mark.parametrize(("value", "taken"), [("20 Hz", False), ("40 Hz", True)])
def test_the_range_of_seizures_cannot_be_made_smaller(value, taken):
    limit = f'[[limit]]\nname = "dim.seizure"\nvalue = "{value}"\nreason = "a careful show"\n'
    if taken:
        changes, problems = limit_changes(survey(extra=limit).build)
        assert (changes["dim.seizure"][0], problems) == (40.0, [])
    else:
        with pytest.raises(postcheck.BuildError, match="can be raised and not lowered"):
            survey(extra=limit)


def test_a_caution_that_can_hurt_is_not_waived():
    text = (FAULTY / "dim-frequency-some-people.post.toml").read_text(encoding="utf-8")
    text += '[[accept]]\nfinding = "dim.frequency:cabin"\nreason = "it looks old"\n'
    report = postcheck.check(postcheck.loads(text)).files[0]
    assert report.verdict == "caution"
    assert [finding.id for finding in report.findings if finding.accepted is not None] == []
    assert "accept.refused:dim.frequency:cabin" in [finding.id for finding in report.findings]


@pytest.mark.parametrize(("said", "missing"), [("", ["frequency"]), ('frequency = "2 kHz"', [])])
def test_dimming_without_a_frequency_is_not_judged(said, missing):
    findings, questions = run(flicker, "dim.frequency", survey(circuit=f'behaviour = "dim"\n{said}'))
    assert findings == []
    assert [word for question in questions for word in missing if word in question.missing] == missing
    assert len(questions) == len(missing)


def test_half_the_time_is_named_where_an_average_counts():
    flash = 'behaviour = "flash"\nrate = "60 /min"'
    cells = 'kind = "battery"\nplace = "base"\nchemistry = "alkaline"\nsize = "aa"\ncells = 8'
    told = [
        len(run(flicker, "flash.rate", survey(circuit=circuit, **more))[1])
        for circuit, more in (
            (flash, {"supply": cells}), (flash, {"hull": 'access = "open"'}), (flash + '\non_share = "20 %"', {"supply": cells}),
        )
    ]  # fmt: skip
    assert told == [1, 0, 0]


def winch(starting, length="400 mm"):
    text = (FAULTY.parent / "sound" / "winch-whose-start-is-not-seen.post.toml").read_text(encoding="utf-8")
    return Survey(postcheck.loads(text.replace("1.2 A", starting).replace('"400 mm"', f'"{length}"')))


# its dip goes with the starting current and the length of what they share
@pytest.mark.parametrize(
    ("starting", "length", "told"),
    [
        ("200 mA", "400 mm", None),
        ("1.2 A", "400 mm", None),
        ("1.2 A", "800 mm", "note"),
        ("2.4 A", "400 mm", "note"),
        ("2.4 A", "1600 mm", "caution"),
    ],
)
def test_a_motor_that_starts(starting, length, told):
    findings, questions = run(flicker, "lamp.dip", winch(starting, length))
    assert [finding.severity for finding in findings] == ([told] if told else [])
    assert questions == []
    assert all(finding.subject.name == "deck lamp" for finding in findings)
