"""`postcheck check --watch`: one screen that is drawn anew whenever a file is saved.

Files are looked at with `os.stat` a few times a second. A build is judged again when it, or a file that it uses, has
changed and then held still for a moment; the others keep their reports.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Iterable, Sequence
from datetime import date

from postcheck.cli.changes import Changes, Known
from postcheck.cli.check import Judged, judged
from postcheck.cli.folders import builds
from postcheck.cli.screen import Screen
from postcheck.cli.talk import INTERRUPTED, UNUSABLE, complain, fault_words
from postcheck.cli.watched import Folders, Stamps
from postcheck.renderers import streams, terminal
from postcheck.renderers.page import NARROWEST, Page
from postcheck.renderers.words import counted, safe
from postcheck.report import Report

_PAUSE = 0.25  # s from look to look
_WIDEST = 100


def watch(options: argparse.Namespace, today: date | None) -> tuple[int, str]:
    """Watch until Ctrl-C; the exit code of the last check and its report, which is left on the usual screen."""
    if problem := _refusal(options):
        complain(problem)
        return UNUSABLE, ""
    screen = Screen(sys.stdout)
    watching = _Watching(options, today, screen)
    try:
        with screen:
            watching.go_on()
    except KeyboardInterrupt:
        pass
    text, said = watching.rendered(screen.size[0])
    for words in said:
        complain(words)
    return watching.code, text


def _refusal(options: argparse.Namespace) -> str | None:
    """Why nothing can be watched, if so."""
    if options.format != "text":
        return f"--watch draws a screen, and goes with no --format {options.format}; leave one of the two out"
    if options.output is not None:
        return "--watch draws a screen, and goes with no --output; leave one of the two out"
    if "-" in options.files:
        return "--watch needs files: standard input is read once"
    if sys.stdout is None or not sys.stdout.isatty():
        return "--watch needs a terminal to draw on"
    if os.environ.get("TERM") == "dumb":
        return "--watch needs a terminal that can be cleared; TERM=dumb says that this one cannot"
    return None


class _Watching:
    """What is watched, what was found, and the screen it stands on."""

    def __init__(self, options: argparse.Namespace, today: date | None, screen: Screen) -> None:
        self._options, self._today, self._screen = options, today, screen
        self._folders = Folders(lambda: list(builds(options.files)), time.monotonic)
        self._stamps = Stamps()
        self._known = Known()
        self._results: dict[str, Judged] = {}
        self._stale: set[str] = set()
        self._day = date.min
        self._checked = self._changed = ""
        self._size = screen.size

    @property
    def code(self) -> int:
        """The exit code of the last check; that of a stopped run where there was none."""
        return max((one.code for one in self._results.values()), default=INTERRUPTED)

    def go_on(self) -> None:
        """Look, judge and draw, until somebody stops it."""
        while True:
            began = time.monotonic()
            judged_some = self._look()
            took = 0.0 if judged_some else time.monotonic() - began
            # with thousands of files, or on a slow disk, looking must not keep a core busy
            again = self._screen.pause(max(_PAUSE, min(4.0 * took, 2.0)))
            if again or self._screen.size != self._size:
                self._draw()

    def _look(self) -> bool:
        """Judge what has been saved; whether there was any."""
        there = self._folders.found()
        if not self._results:
            self._stamps.take(there)
            self._judge(there, there)
            return True
        names = list(dict.fromkeys([*there, *self._results]))
        needs = {name: self._needs(name) for name in names}
        now = time.monotonic()
        changed = {path for path in set().union(*needs.values()) if self._stamps.settled(path, now)}
        self._stamps.take(changed)
        self._stale.update(name for name in names if changed.intersection(needs[name]))
        if self._today is None and self._day != date.today():  # an acceptance may have ended overnight
            self._stale.update(self._results)
        kept = self._kept(names, there)
        ready = [
            name for name in kept if name in self._stale and not any(map(self._stamps.moving, needs[name]))
        ]
        if not ready and self._results.keys() <= set(kept):
            return False
        self._judge(ready, kept)
        return True

    def _kept(self, names: Sequence[str], there: Sequence[str]) -> list[str]:
        """Of all names those that belong on the screen: a file gone from its folder stays until it surely is.

        A folder stands for itself only while no build of it is known.
        """
        gone = {name for name in self._stale if name not in there and not os.path.exists(name)}
        files = [name for name in names if name not in gone and not os.path.isdir(name)]
        known = [name for name in files if name in self._results or name in self._stale]
        return [
            name
            for name in names
            if name in files
            or (name not in gone and not any(file.startswith(os.path.join(name, "")) for file in known))
        ]

    def _needs(self, name: str) -> tuple[str, ...]:
        return (name, *self._results[name].used) if name in self._results else (name,)

    def _judge(self, ready: Sequence[str], kept: Sequence[str]) -> None:
        """Judge these anew, keep the reports of the others, and forget those that are not to be kept."""
        first = not self._results
        self._day = self._today or date.today()
        if ready:
            self._draw(f"Checking {_named(ready)} ...")
        changes = Changes([], [], [])
        results = {}
        for name in kept:
            if name in ready:
                results[name], came = self._judged(name)
                changes += came
            elif name in self._results:
                results[name] = self._results[name]
        for name in self._results.keys() - results.keys():
            self._known.forget(name)
            if not os.path.isdir(name):  # which stood for itself while it was empty
                changes.gone.append(os.path.basename(name))
        self._stale.intersection_update(kept)
        self._stale.difference_update(ready)
        self._results = results
        self._stamps.keep(path for name in results for path in self._needs(name))
        self._checked = time.strftime("%H:%M:%S")
        untold = first or any(results[name].report is None for name in ready)  # there was nothing to compare
        self._changed = "" if untold else changes.words()
        self._draw()

    def _judged(self, name: str) -> tuple[Judged, Changes]:
        began = time.time_ns()
        one = judged(name, self._options, self._day)
        self._stamps.take_new(one.used, began)
        if one.report is None:
            return one, Changes([], [], [])
        changes = self._known.changes(name, one.report)
        if name not in self._results:
            changes = Changes([], [os.path.basename(name)], [])
        elif len(self._results) > 1:
            of = f" in {os.path.basename(name)}"
            changes = Changes(*([f"{finding}{of}" for finding in each] for each in changes))
        return one, changes

    # -- words

    def rendered(self, columns: int) -> tuple[str, list[str]]:
        """The report as the terminal view has it, and what is said of files that are in none."""
        said = [words for one in self._results.values() for words in one.said]
        reports = tuple(one.report for one in self._results.values() if one.report is not None)
        if not reports:
            return "", said
        text = terminal.render(
            Report(reports),
            width=_page_width(columns),
            colour=_colour(),
            ascii=_ascii(),
            quiet=self._options.quiet,
        )
        return text, said

    def _draw(self, doing: str | None = None) -> None:
        """Everything anew; `doing` stands in place of the state while something is at work."""
        self._size = columns, rows = self._screen.size
        try:
            text, said = self.rendered(columns)
        except Exception as fault:  # ours; the next save may bring a report that can be shown
            text, said = "", list(fault_words(fault))
        report = [*text.split("\n")[:-1], *_page_lines(columns, [f"postcheck: {words}" for words in said])]
        state = _page_lines(columns, [doing] if doing else self._state())
        room = rows - len(state) - (1 if report else 0)
        if len(report) > room:
            more = len(_page_lines(columns, [_more(len(report))]))
            fitting = max(room - more, 0)
            report = [*report[:fitting], *_page_lines(columns, [_more(len(report) - fitting)])]
        lines = [*report, "", *state] if report else state
        self._screen.draw(lines if len(lines) <= rows else lines[-rows:])

    def _state(self) -> list[str]:
        used = {path for one in self._results.values() for path in one.used}
        watched = _named(list(self._results))
        if used:
            watched += (
                f" and {counted(len(used), 'file')} {'it uses' if len(self._results) == 1 else 'they use'}"
            )
        said = [self._changed] if self._changed else []
        return [*said, f"Checked {self._checked}. Watching {watched}. Ctrl-C leaves."]


def _named(names: Sequence[str]) -> str:
    return (
        safe(os.path.basename(names[0]) or names[0], 30) if len(names) == 1 else counted(len(names), "file")
    )


def _more(lines: int) -> str:
    return f"... {counted(lines, 'more line')}; Ctrl-C leaves and shows them all."


def _page_width(columns: int) -> int:
    return max(NARROWEST, min(columns, _WIDEST))


def _colour() -> bool:
    return streams.colour_wanted(sys.stdout, os.environ)


def _ascii() -> bool:
    return not streams.encodable(sys.stdout)


def _page_lines(columns: int, sentences: Iterable[str]) -> list[str]:
    page = Page(_page_width(columns), colour=_colour(), plain=_ascii())
    for sentence in sentences:
        page.say(sentence, hang=2)
    return page.text().split("\n")[:-1]
