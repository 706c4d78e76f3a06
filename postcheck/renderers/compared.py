"""What is different between two reports, in words or as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby
from typing import Any, NamedTuple

from postcheck.comparison import Changed, Comparison, Moved, Part
from postcheck.renderers.figures import show
from postcheck.renderers.json_renderer import finding_json, question_json, what_if_json
from postcheck.renderers.json_text import json_text
from postcheck.renderers.order import Group, arrange
from postcheck.renderers.streams import ascii_words
from postcheck.renderers.words import STYLES, counted, question_words, safe, what_if_words
from postcheck.report import FileReport, Finding, NotJudged

_MOST = 40  # parts whose figures differ; of a build with another supply nearly all do
_TOLD = 0.01  # a lesser share is nothing to look at: in a network all move a little with one
_PATH = 4096
_KINDS = {"supplies": "supply"}  # of other sections the name without its s


class Line(NamedTuple):
    """A line: a word or two in front, in the colour of a weight, and the rest. `typed`: it is a line of a file."""

    words: str
    front: str = ""
    weight: str = ""
    indent: int = 0
    typed: bool = False


def render(
    comparison: Comparison,
    width: int | None = None,
    *,
    colour: bool = False,
    ascii: bool = False,  # noqa: A002 - the plain word for it
) -> str:
    """What is different: first the verdicts, then findings, what was not judged, and figures that differ by 1 % or more.

    With `width` a screen no wider than that, where gaps part the three; without, lines that are never wrapped. Of many
    parts those are told that differ most.
    """
    parts = [list(part) for part in (_head(comparison), _findings(comparison), _figures(comparison))]
    if width is not None:
        return _screen(parts, width, colour=colour, plain=ascii)
    text = "".join(f"{' ' * line.indent}{line.front}{line.words}\n" for part in parts for line in part)
    return ascii_words(text, "ascii") if ascii else text


def _screen(parts: Iterable[Iterable[Line]], width: int, *, colour: bool, plain: bool) -> str:
    from postcheck.renderers.page import NARROWEST, Page  # noqa: PLC0415 - for a terminal alone

    page = Page(max(width, NARROWEST), colour=colour, plain=plain)
    for part in parts:
        page.gap()
        for line in part:
            if line.typed:
                page.typed(line.words, line.indent)
                continue
            styled = page.styled((line.front, STYLES.get(line.weight, "")), (line.words, ""))
            page.say(styled, indent=line.indent, hang=2)
    return page.text()


def _head(comparison: Comparison) -> Iterator[Line]:
    before, after = comparison.before.verdict, comparison.after.verdict
    yield Line(
        _headline(comparison),
        f"{after.capitalize()}, {'as before' if before == after else f'was {before}'}: ",
        after,
    )
    stages = comparison.before.stage != comparison.after.stage
    yield Line(_named(comparison.before, stage=stages), "Before: ")
    yield Line(_named(comparison.after, stage=stages), "Now: ")


def _findings(comparison: Comparison) -> Iterator[Line]:
    for group in _groups(comparison.after, comparison.new):
        yield from _new(group)
    yield from (line for changed in comparison.changed for line in _changed(changed))
    for group in _groups(comparison.before, comparison.gone):
        for finding in (group.cause, *group.consequences):
            yield from _finding_lines(finding, f"Gone, {finding.severity}: ")
    yield from (Line(words, "New, not judged: ") for words in _questions(comparison.after, comparison.asked))
    yield from (
        Line(words, "Gone, not judged: ") for words in _questions(comparison.before, comparison.answered)
    )


def _figures(comparison: Comparison) -> Iterator[Line]:
    yield from (Line(_part(part), "New: ") for part in comparison.added)
    yield from (Line(_part(part), "Gone: ") for part in comparison.removed)
    parts = [(part, list(ones)) for part, ones in groupby(comparison.moved, key=lambda one: one.part)]
    much = [(part, ones) for part, ones in parts if _most(ones) >= _TOLD]
    least = sorted((_most(ones) for _, ones in much), reverse=True)[:_MOST]
    listed = [(part, ones) for part, ones in much if _most(ones) >= least[-1]][:_MOST]
    for part, ones in listed:
        words = _part(part)
        said = "; ".join(_figure(one) for one in ones if one.share >= _TOLD)
        yield Line(said, f"{words[0].upper()}{words[1:]}: ")
    if left := len(much) - len(listed):
        yield Line(
            f"Figures of {counted(left, 'more part')} differ, by no more than these; --format json lists them."
        )
    if left := len(parts) - len(much):
        yield Line(f"Figures of {counted(left, 'more part' if much else 'part')} differ by less than 1 %.")


def _headline(comparison: Comparison) -> str:
    if comparison.same:
        return "no finding and no figure differs."
    things = len({moved.part for moved in comparison.moved})
    said = [
        f"{counted(len(found), 'finding')} {how}"
        for found, how in (
            (comparison.new, "new"),
            (comparison.gone, "gone"),
            (comparison.changed, "changed"),
        )
        if found
    ] or ["no finding new or gone"]
    if parts := len(comparison.added) + len(comparison.removed):
        said.append(f"{counted(parts, 'part')} added or removed")
    if things:
        said.append(f"figures of {counted(things, 'part')} differ")
    return f"{', '.join(said)}."


def _named(file: FileReport, *, stage: bool) -> str:
    name = safe(file.file, _PATH)
    said = f"{safe(file.name, 80)} ({name})" if file.name.strip() else name
    said += f", judged for {safe(file.stage, 40)}" if stage and file.stage else ""
    return f"{said}. {what_if_words(file.what_if)}" if file.what_if else said


def _groups(file: FileReport, findings: tuple[Finding, ...]) -> Iterator[Group]:
    """These findings with their consequences; those that were accepted stand alone."""
    arranged = arrange(replace(file, findings=findings))
    yield from arranged.groups
    yield from (Group(finding, ()) for finding in arranged.accepted)


def _finding_lines(finding: Finding, front: str, weight: str = "", indent: int = 0) -> Iterator[Line]:
    yield Line(safe(finding.says), front, weight, indent)
    yield Line(safe(finding.id), "Name: ", indent=indent + 4)


def _new(group: Group) -> Iterator[Line]:
    finding = group.cause
    accepted = ", accepted" if finding.accepted is not None else ""
    yield from _finding_lines(
        finding, f"New, {finding.severity}{accepted}: ", "" if accepted else finding.severity
    )
    yield from _remedy(finding)
    for other in group.consequences:
        yield from _finding_lines(other, f"It follows, {other.severity}: ", other.severity, indent=4)


def _remedy(finding: Finding) -> Iterator[Line]:
    if finding.remedy is not None and finding.accepted is None:
        yield Line(safe(finding.remedy), "Do: ", indent=4)
        yield from (Line(safe(line), indent=8 if line else 0, typed=True) for line in finding.lines)


def _changed(changed: Changed) -> Iterator[Line]:
    before, after = changed.before, changed.after
    weight = (
        after.severity if before.severity == after.severity else f"{after.severity}, was {before.severity}"
    )
    accepted = ""
    if after.accepted is not None:
        accepted = ", accepted now" if before.accepted is None else ", accepted"
    elif before.accepted is not None:
        accepted = ", accepted no more"
    yield from _finding_lines(
        after, f"Changed, {weight}{accepted}: ", "" if after.accepted is not None else after.severity
    )
    if before.id != after.id:
        yield Line(safe(before.id), "Its name was: ", indent=4)
    elif before.says != after.says:
        yield Line(safe(before.says), "Was: ", indent=4)
    elif moved := "; ".join(_moved_figures(before, after)):
        yield Line(f"{moved}.", "Figures: ", indent=4)
    yield from _remedy(after)


def _moved_figures(before: Finding, after: Finding) -> Iterator[str]:
    """The figures of a finding that are other ones now, and that its words do not show."""
    for name, now in after.figures.items():
        was = before.figures.get(name)
        old, new = "none" if was is None else show(was.value, was.unit), show(now.value, now.unit)
        if old != new:
            yield f"{name.replace('_', ' ')} {new}, was {old}"


def _questions(file: FileReport, questions: tuple[NotJudged, ...]) -> Iterator[str]:
    for question in arrange(replace(file, findings=(), not_judged=questions)).questions:
        yield question_words(question) + (" (vital)" if question.vital else "")


def _part(part: Part) -> str:
    if part == Part("passages", "post"):
        return "the post"
    return f"{_KINDS.get(part.section, part.section.removesuffix('s'))} '{safe(part.name, 60)}'"


def _most(ones: Iterable[Moved]) -> float:
    """By how much the figures of a part differ at most."""
    return max(one.share for one in ones)


def _figure(one: Moved) -> str:
    return f"{one.figure.replace('_', ' ')} {_value(one.after, one)}, was {_value(one.before, one)}"


def _value(value: float | str | None, one: Moved) -> str:
    if value is None:
        return "none"
    return safe(value, 40) if isinstance(value, str) else show(value, one.unit)


def render_json(comparison: Comparison, version: str) -> str:
    """The same as JSON text in ASCII that ends in a line break; findings as in a report, figures in SI, all of them."""
    return json_text(
        version,
        before=_file(comparison.before),
        after=_file(comparison.after),
        findings={
            "new": [finding_json(finding) for finding in comparison.new],
            "gone": [finding_json(finding) for finding in comparison.gone],
            "changed": [
                {"before": finding_json(one.before), "after": finding_json(one.after)}
                for one in comparison.changed
            ],
        },
        not_judged={
            "new": [question_json(question) for question in comparison.asked],
            "gone": [question_json(question) for question in comparison.answered],
        },
        parts={
            "new": [_part_json(part) for part in comparison.added],
            "gone": [_part_json(part) for part in comparison.removed],
        },
        figures=[
            {
                **_part_json(one.part),
                "figure": one.figure,
                "unit": one.unit,
                "before": one.before,
                "after": one.after,
            }
            for one in comparison.moved
        ],
    )


def _file(file: FileReport) -> dict[str, Any]:
    return {
        "file": file.file,
        "verdict": file.verdict,
        "what_if": [what_if_json(one) for one in file.what_if],
    }


def _part_json(part: Part) -> dict[str, str]:
    return {"section": part.section, "name": part.name}
