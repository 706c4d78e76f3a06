"""`postcheck record`: the tests that closing asks for, asked one by one; each reading is judged and written at once."""

from __future__ import annotations

import argparse
import io
import sys
from typing import TYPE_CHECKING, Literal

from postcheck.cli.kinds import BUILD
from postcheck.cli.talk import CLEAR, FOUND, UNUSABLE, complain, day, loaded, page, reason, shown, write_out

if TYPE_CHECKING:
    from postcheck.cli.parser import Commands
    from postcheck.recorded import BenchTest, Judged, MeterReading
    from postcheck.recording import Recording

_TRIES = 3
_LIMIT, _HELP = ("limit", "setting"), ("help", "?")
_WORDS = ("skip", "back", "stop")
_NO_TEXT = "these bytes are no text (not UTF-8); plain letters and figures will do"


def add(commands: Commands) -> None:
    """The command's words and options."""
    record = commands.add_parser(
        "record",
        help="ask for the readings before closing, judge and write them down",
        description="Goes through the tests that closing asks for, place by place. Each shows the limit and volts of the bench supply "
        "and what to expect, takes what the meter shows, judges it and writes it into the file at once, as [[proof]] with the date of "
        "today; comments and order stay. Besides readings it takes dark, reversed, limit (shows the setting again), skip, back (takes the last one out again), "
        "stop and help. "
        "From a pipe it takes one answer a line, and stops at one that it cannot read.",
        examples=(
            ("record airship.post.toml --closing nose", "asks for what the nose needs before it is closed"),
            ("record airship.post.toml --dry", "shows what would be written, and writes nothing"),
        ),
        exits={
            0: "all is recorded and as expected",
            1: "a reading shows a fault, or a test is left",
            2: "the file or an answer cannot be used",
        },
    )
    record.add_argument("file", type=BUILD, metavar="FILE", help="a .post.toml file")
    record.add_argument(
        "--closing",
        action="append",
        default=[],
        metavar="PLACE",
        help="a place that is about to be closed; every sealed one without it",
    )
    record.add_argument("--dry", action="store_true", help="show what would be written, and write nothing")
    record.add_argument(
        "--today", metavar="DATE", help="the date of the test records, as 2026-11-25; today without it"
    )
    record.set_defaults(do=_record)


def _record(options: argparse.Namespace) -> tuple[int, str]:
    usable, today = day(options.today)
    if not usable:
        return UNUSABLE, ""
    if options.file == "-":
        complain("record writes into the file, and standard input has the readings; name the file")
        return UNUSABLE, ""
    build = loaded(options.file)
    if build is None:
        return UNUSABLE, ""
    from postcheck.recording import Recording  # noqa: PLC0415 - --help needs none of it

    try:
        recording = Recording(build, closing=options.closing, today=today)
    except ValueError as error:
        complain(f"--closing: {error}")
        return UNUSABLE, ""
    session = Session(options.file, recording, dry=options.dry, width=page())
    return session.run(), ""


def _about(test: BenchTest) -> tuple[str, str]:
    """Kind and name of what is tested: by these a test is known, whatever it measures next."""
    return test.kind, test.name


def _is_text(line: str) -> bool:
    return not any("\ud800" <= one <= "\udfff" for one in line)


class Unusable(Exception):  # noqa: N818 - it ends the run, and was said
    """Nothing more can be taken in."""


class Session:
    """One run over the tests of a file. `width` of the screen; None where nobody sits at one."""

    def __init__(self, file: str, recording: Recording, *, dry: bool, width: int | None) -> None:
        self.file: str = file
        self.recording: Recording = recording
        self.dry: bool = dry
        self.width: int | None = width
        self.typed: bool = sys.stdin is not None and sys.stdin.isatty()
        self.line: int = 0
        self.passed: set[tuple[str, str]] = set()
        self.resumed: tuple[str, str] | None = None
        self.faults: dict[tuple[str, str], BenchTest] = {}
        # what was done, the latest last: a test that was skipped, or one with a reading
        self.history: list[tuple[Literal["skip", "read"], BenchTest]] = []

    def run(self) -> int:
        """Ask until nothing is left or nobody answers; the exit code."""
        from postcheck.renderers import recorded  # noqa: PLC0415

        recording = self.recording
        if isinstance(sys.stdin, io.TextIOWrapper):  # bytes that are no text are for `_typed_line` to answer
            sys.stdin.reconfigure(errors="surrogateescape")
        name = recording.build.build.name
        self._say(recorded.head(name, shown(self.file), recording.left, recording.places, self.width))
        code = CLEAR
        try:
            while self._ask(test) if (test := self._next()) is not None else self._went_back():
                pass
        except Unusable:
            code = UNUSABLE
        written = {_about(test) for what, test in self.history if what == "read"}
        summary = recorded.summary(
            shown(self.file), recording.verdict, recording.left, tuple(self.faults.values()), len(written),
            dry=self.dry, width=self.width,
        )  # fmt: skip
        return write_out(summary, code or (FOUND if recording.left or self.faults else CLEAR))

    def _say(self, text: str) -> None:
        if write_out(text, CLEAR) != CLEAR:
            raise Unusable

    def _next(self) -> BenchTest | None:
        """The test that was gone back to, else the first that was not passed."""
        resumed, self.resumed = self.resumed, None
        left = self.recording.left
        first = next((test for test in left if _about(test) not in self.passed), None)
        return next((test for test in left if _about(test) == resumed), first)

    def _went_back(self) -> bool:
        """Whether, with all asked, something is taken back. A list of readings may hold no more than that."""
        if self.typed and not self.faults:
            return False
        while (typed := self._typed_line("back, or stop: ")) is not None:
            word = typed.strip().casefold()
            if word == "stop":
                return False
            if word == "back":
                self._back()
                return self.resumed is not None
            if word in _HELP:
                self._say("  all is asked; type back to take the last answer out again, or stop\n")
            elif word:
                self._again("all is asked; type back, or stop")
        return False

    # -- one test

    def _ask(self, test: BenchTest) -> bool:
        """Ask all of a test; False where nobody answers any more."""
        from postcheck.cli.meter import with_volts  # noqa: PLC0415
        from postcheck.renderers import recorded  # noqa: PLC0415

        key = _about(test)
        after = sum(_about(one) not in {*self.passed, key} for one in self.recording.left)
        number = len(self.passed) + 1
        self._say(recorded.test(test, number, number + after, self.width))
        if test.mend_first:
            self.passed.add(key)
            return True
        asked: list[str] = (
            [test.measures] if test.volts is not None or test.measures != "current" else ["volts", "current"]
        )
        volts: float | None = None
        done: list[str] = []
        while asked:
            what = asked.pop(0)
            word, reading = self._heard(what, test)
            if word == "stop":
                return False
            if word == "back":
                self._back()
                return True
            if word == "skip":
                break
            if what == "volts":
                volts = reading.volts if reading is not None else None
                continue
            if reading is None:
                self.faults[key] = test
                self._say(recorded.seen_dark(self.width))
                break
            judged = self._taken(test, with_volts(reading, volts) if what == "current" else reading)
            if judged is None:  # the file was changed, and the test may be another
                self.resumed = key
                return True
            self.history.append(("read", test))
            done.append(what)
            self._say(recorded.answer(judged, dry=self.dry, width=self.width))
            if judged.findings:
                self.faults[key] = test
                break
            self.faults.pop(key, None)
            asked += self._more(test, judged, done)
        if not done:
            self.history.append(("skip", test))
        self.passed.add(key)
        return True

    @staticmethod
    def _more(test: BenchTest, judged: Judged, done: list[str]) -> list[str]:
        """What is asked of a test besides, once its reading is as expected."""
        if done[-1] == "current" and (test.look or not judged.proven):
            return ["look"]
        return ["hours"] if test.hours is not None and "hours" not in done else []

    def _back(self) -> None:
        from postcheck.recording import ClashError  # noqa: PLC0415
        from postcheck.renderers import recorded  # noqa: PLC0415

        if not self.history:
            self._say(recorded.taken_back(None, dry=self.dry))
            return
        what, test = self.history[-1]
        if what == "read":
            try:
                self._reread(None)
                before = self.recording.text
                self.recording.back()
            except ClashError as error:
                self._clash(str(error))
                return
            if not self._written(before):
                self._clash("the file was changed meanwhile; nothing was taken back")
                return
        self.history.pop()
        key = _about(test)
        self.faults.pop(key, None)
        self.passed.discard(key)
        self.resumed = key
        if what == "read":
            self._say(recorded.taken_back(test, dry=self.dry))

    # -- what is typed

    def _heard(self, what: str, test: BenchTest) -> tuple[str, MeterReading | None]:
        """Skip, back or stop; or no word, and what was read, None for a "no" that no test record can say."""
        from postcheck.cli import meter  # noqa: PLC0415

        while (typed := self._answer(what, test)) is not None:
            if typed in _WORDS:
                return typed, None
            try:
                return "", meter.reading(typed, what, test)
            except meter.MisreadError as error:
                self._again(str(error))
        return "stop", None

    def _answer(self, what: str, test: BenchTest) -> str | None:
        """What is typed, a word of ours in small letters; None where nobody answers."""
        from postcheck.cli.meter import PROMPTS, UNDERSTOOD  # noqa: PLC0415
        from postcheck.renderers import recorded  # noqa: PLC0415

        prompt = PROMPTS[what].format(least=(test.hours or 0.0) / 3600.0)
        while True:
            typed = self._typed_line(prompt)
            if typed is None:
                return None
            typed = typed.strip()
            word = typed.casefold()
            if word in _LIMIT:
                self._say(recorded.setting(test, self.width))
            elif word in _HELP:
                self._say(recorded.answers(UNDERSTOOD[what], self.width))
            elif typed:
                return word if word in _WORDS else typed
            elif self.typed:
                self._again("type what is asked for, or limit, skip, back, stop or help")

    def _typed_line(self, prompt: str) -> str | None:
        """A line as it was typed, read as text; None where nobody answers."""
        while (line := self._read(prompt)) is not None:
            if _is_text(line):
                return line
            self._again(_NO_TEXT)
        return None

    def _read(self, prompt: str) -> str | None:
        """A line, with lone surrogates for bytes that are no text."""
        if self.typed:
            try:
                return input(prompt)
            except (EOFError, KeyboardInterrupt):
                self._say("\n")
                return None
        try:
            line = sys.stdin.readline() if sys.stdin is not None else ""
        except OSError as error:
            complain(f"standard input cannot be read: {shown(reason(error))}")
            raise Unusable from None
        self.line += 1
        if not line:
            return None
        if line.strip() and _is_text(line):
            self._say(f"{prompt}{shown(line.strip())}\n")
        return line

    def _again(self, why: str) -> None:
        """Say in one line why it is asked again; of a list of readings the rest would be another thing's, so that ends there."""
        if self.typed:
            self._say(f"  {why}\n")
            return
        complain(f"line {self.line} of the readings: {why}; it and what follows were not taken")
        raise Unusable

    # -- the file

    def _taken(self, test: BenchTest, reading: MeterReading) -> Judged | None:
        """Judge a reading and write it; None where the file was changed in what it is about, and said so."""
        from postcheck.description.rewriting import RewriteError  # noqa: PLC0415
        from postcheck.recording import ClashError  # noqa: PLC0415

        for _ in range(_TRIES):
            try:
                self._reread(test)
                before = self.recording.text
                judged = self.recording.read(test, reading)
            except ClashError as error:
                self._clash(str(error))
                return None
            except RewriteError as error:
                complain(f"this reading is not written: {error}")
                for line in error.lines:
                    complain(f"  {shown(line)}")
                raise Unusable from None
            if self._written(before):
                return judged
        self._clash("the file is being changed all the time; this reading was not written")
        return None

    def _clash(self, why: str) -> None:
        if not self.typed:
            complain(why)
            raise Unusable
        self._say(f"  {shown(why)}\n")

    def _reread(self, test: BenchTest | None) -> None:
        """Take the file as it is by now. Raises ClashError."""
        if self.dry:
            return
        from postcheck.description.problems import BuildError  # noqa: PLC0415
        from postcheck.reading.loading import build_from  # noqa: PLC0415
        from postcheck.reading.source import read_source  # noqa: PLC0415
        from postcheck.recording import ClashError  # noqa: PLC0415

        try:
            source = read_source(self.file)
            if source.text != self.recording.text:
                self.recording.reread(build_from(source), test)
        except BuildError as error:
            first = str(error).splitlines()[0]
            raise ClashError(
                f"the file was changed meanwhile and is no build any longer ({first}); nothing was written: put that right first"
            ) from None

    def _written(self, before: str) -> bool:
        """Whether the text was written; False where the file says something else by now, and the reading is out of the text again."""
        if self.dry:
            return True
        from postcheck.output import ChangedError, rewrite  # noqa: PLC0415

        try:
            rewrite(self.file, before, self.recording.text)
        except ChangedError:
            self.recording.undo()
            return False
        except OSError as error:
            self.recording.undo()
            complain(f"'{shown(self.file)}' cannot be written: {reason(error)}")
            raise Unusable from None
        return True
