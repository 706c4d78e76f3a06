"""The tests of a bench one by one: how each is set and what it should show, and what came of a reading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from postcheck.plain import enumerated
from postcheck.recorded import BenchTest, Judged
from postcheck.renderers.figures import show
from postcheck.renderers.words import counted, folded, safe

_HOW_TO_ANSWER = "Type what is asked for, or limit, skip, back, stop or help."


def head(name: str, file: str, tests: Sequence[BenchTest], places: Sequence[str], width: int | None) -> str:
    """What is about to be closed, and how many tests that needs."""
    which = ", ".join(f"'{safe(place, 60)}'" for place in places)
    if not places:
        said = "no place is sealed, so nothing has to be tested; --closing PLACE names one."
    elif not tests:
        said = f"nothing is left to test before closing {which}."
    else:
        said = f"{counted(len(tests), 'test')} before closing {which}. {_HOW_TO_ANSWER}"
    return _page([f"{safe(name, 120)} ({safe(file)}): {said}"], width)


def test(one: BenchTest, number: int, count: int, width: int | None) -> str:
    """A test: where its ends are, the limit before the volts, and what to expect."""
    lines = ["", f"'{safe(one.place, 60)}', test {number} of {count}: {_what(one)}{_ends(one)}"]
    lines += [f"  {line}" for line in ([safe(one.mend_first)] if one.mend_first else _how(one))]
    return _page(lines, width)


def setting(one: BenchTest, width: int | None) -> str:
    """How the bench is set for a test, again."""
    return _page((f"  {line}" for line in _how(one)), width)


def answers(own: str, width: int | None) -> str:
    """What is understood at a question; `own`: as an answer to it."""
    return _page(
        [
            f"  Understood: {own}.",
            "  limit shows the setting again; skip leaves this test for later; back takes the last answer out again; stop ends here, and what is written stays.",
        ],
        width,
    )


def _what(one: BenchTest) -> str:
    name = f"'{safe(one.name, 120)}'"
    return name if one.kind == "lamp" else f"{one.kind} {name}"


def _ends(one: BenchTest) -> str:
    if not one.ends:
        return ""
    colours = [
        f"{safe(colour, 24)} is {sign}" for colour, sign in ((one.plus, "+"), (one.minus, "-")) if colour
    ]
    marked = [f'marked "{safe(one.label, 40)}"'] if one.label else []
    return ", ".join([f" at {' and '.join(_quoted(one.ends))}", *colours, *marked])


def _quoted(names: Iterable[str]) -> Iterator[str]:
    return (f"'{safe(name, 60)}'" for name in names)


def _how(one: BenchTest) -> Iterator[str]:
    if one.measures == "continuity":
        yield "With everything off: does it go from end to end?"
        return
    if one.measures == "work":
        if one.ends:
            yield "See it light: it is wired the wrong way round on purpose."
        elif one.kind in ("circuit", "lamp"):
            yield "See all of it light on its own output, which sets its current. Put no bench supply on it."
        else:
            yield "See it work."
        return
    if one.heats and one.hours is not None:
        hot = f"{'all white' if one.white else 'held on'} it gets '{safe(one.heats, 60)}' too hot"
        if one.measures == "hours":
            yield f"It was measured, and has to run as it is lit in the model: {hot}."
            return
        yield f"Let the reading last minutes only, and its hours be as it is lit in the model: {hot}."
    elif one.white and one.hours is not None:
        yield "Let its hours be with its data on and every pixel white: so it gets warmest, and the bench alone leaves it dark."
    if one.limit is None or one.volts is None:
        yield "The file does not say its volts: begin with the limit at the least, and write down the volts."
        return
    ohms = show(one.ohms, "ohm")
    through = (
        ""
        if one.ohms is None
        else f", each string through its own {ohms}"
        if one.each
        else f", through its {ohms}"
    )
    bare = {
        "destroyed": f" Never on the bare ends: {show(one.volts, 'V')} destroys it there.",
        "too much": f" Never on the bare ends: {show(one.volts, 'V')} is too much there.",
    }.get(one.bare if not one.held else "", "")
    yield f"Set the limit to {show(one.limit, 'A')}, then the volts to {show(one.volts, 'V')}{through}.{bare}"
    if one.stood is not None:
        yield (
            f"Be sure which leg is +: the wrong way round {show(one.volts, 'V')} may destroy it. "
            f"At {show(one.stood, 'V')} or less it is only dark."
        )
    if one.measures == "hours":
        yield "It was measured, and has to run."
    elif one.held:
        yield f"It should show the limit, {show(one.limit, 'A')}."
    elif one.expected is not None:
        least, usual, most = (show(amps, "A") for amps in one.expected)
        start = f" It takes up to {show(one.starting, 'A')} to start." if one.starting is not None else ""
        yield f"It should show {usual}, from {least} to {most}.{start}"


_BEFORE = {
    "dark": "Before you go on: never turn up the volts. It would mend nothing, and whatever comes on then gets too much.",
    "too low": "Before you go on: never turn the volts up beyond what is set for this test. More would hide what is wrong.",
    "too high": "Before you go on: switch off. Leave the limit as it is, and never turn up the volts.",
    "at the limit": "Before you go on: switch off. The limit held it, and more would flow without: leave it as it is, and never turn up the volts.",
    "over the limit": "Before you go on: switch off, and set the limit, which would have held it. Never turn up the volts.",
    "reversed": "Before you go on: switch off, and never turn up the volts.",
    "open": "Before you go on: put no volts on it.",
}


def answer(judged: Judged, *, dry: bool, width: int | None) -> str:
    """What a reading says, and that it is written."""
    lines: list[str] = []
    if judged.findings:
        for finding in judged.findings:
            lines.append(f"  {finding.severity.capitalize()}: {safe(finding.says)}")
            if finding.remedy:
                lines.append(f"    Do: {safe(finding.remedy)}")
        if judged.outcome in _BEFORE:
            lines.append(f"    {_BEFORE[judged.outcome]}")
    lines += (
        f"  Not judged: {safe(question.what)}. It needs {safe(question.missing)}."
        for question in judged.questions
    )
    wrote = "Would be written" if dry else "Written"
    if judged.findings or judged.questions:
        lines.append(
            f"  {wrote}{':' if dry else '. Once it is mended, type back and read again.' if judged.findings else '.'}"
        )
    elif judged.reading.current is not None or judged.reading.continuity is not None:
        lines.append(f"  As expected. {wrote}{':' if dry else '.'}")
    else:
        lines.append(f"  {wrote}{':' if dry else '.'}")
    page = _page(lines, width)
    return page + "".join(f"      {safe(line)}\n" for line in judged.lines) if dry else page


def seen_dark(width: int | None) -> str:
    """What was looked at and is not lit, or does not work: no test record says so."""
    return _page(
        [
            "  Not written: it proves nothing. Look for a lamp the wrong way round or an open joint, put it right, then type back and "
            f"test it again. {_BEFORE['dark']}"
        ],
        width,
    )


def taken_back(one: BenchTest | None, *, dry: bool) -> str:
    """What `back` did."""
    if one is None:
        return "  There is nothing to take back.\n"
    return f"  Taken back{'' if dry else ' and out of the file'}: {_what(one)}.\n"


def summary(
    file: str, verdict: str, left: Sequence[BenchTest], faults: Sequence[BenchTest], written: int, *, dry: bool, width: int | None
) -> str:  # fmt: skip
    """How the build stands for closing; `faults`: what showed one; `written`: so many things have test records of this run."""
    lines = [""]
    if written:
        lines.append(
            f"Test records of {counted(written, 'thing')} {'would be' if dry else 'are'} in {safe(file)}."
        )
    if not left and not faults:
        if verdict == "clear":
            lines.append("Clear for closing.")
        else:
            lines.append(
                f"All is tested, and the build is '{verdict}' for closing all the same: see postcheck check."
            )
    else:
        shows = [f"{_names(faults)} {'shows' if len(faults) == 1 else 'show'} a fault"] if faults else []
        faulty = {(one.kind, one.name) for one in faults}
        rest = [one for one in left if (one.kind, one.name) not in faulty]
        hours = [one for one in rest if one.measures == "hours"]
        untested = [one for one in rest if one.measures != "hours"]
        shows += (
            [f"{_names(untested)} {'is' if len(untested) == 1 else 'are'} not tested"] if untested else []
        )
        shows += (
            [f"{_names(hours)} {'has' if len(hours) == 1 else 'have'} not run long enough"] if hours else []
        )
        lines.append(f"Incomplete for closing: {'; '.join(shows)}.")
    return _page(lines, width)


def _names(tests: Sequence[BenchTest]) -> str:
    """What tests are of: with its kind what bears the name of something else too."""
    called = [_what(one) if one.subject != one.name else next(_quoted([one.name])) for one in tests]
    return enumerated(called, most=6)


def _page(lines: Iterable[str], width: int | None) -> str:
    """Lines for a screen; without a width each stays on one line."""
    pieces: list[str] = []
    for line in lines:
        indent = len(line) - len(line.lstrip())
        if width is None or not line.strip():
            pieces.append(line)
        else:
            body = folded(line.lstrip(), width - indent, 2)
            pieces += [" " * indent + piece for piece in body]
    return "".join(f"{piece}\n" for piece in pieces)
