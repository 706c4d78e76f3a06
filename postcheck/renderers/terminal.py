"""The terminal view: one calm screen. Words come before symbols and nothing is told by colour alone."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from postcheck.renderers.bars import bar
from postcheck.renderers.figures import number, show
from postcheck.renderers.order import Group, arrange
from postcheck.renderers.page import NARROWEST, Page
from postcheck.renderers.words import (
    STYLES,
    clear_lines,
    counted,
    limit_change,
    limit_words,
    place,
    plan_offered,
    question_words,
    safe,
    summary,
    verdict_words,
    what_if_words,
)
from postcheck.report import FileReport, Report
from postcheck.reported import ReportedClosing, ReportedPassage, ReportedPlace, ReportedSupply

_SCREEN = 24  # lines; beyond that the beginning has scrolled away and the verdict is said again
_LINES = 24  # to add to the file, under one finding
_FOLDED = 5  # consequences shown under one cause
_NAMED = 3  # subjects named in one open question
_BAR = 20


def render(
    report: Report,
    *,
    width: int = 80,
    colour: bool = True,
    ascii: bool = False,  # noqa: A002 - the plain word for it
    quiet: bool = False,
) -> str:
    """The report for a terminal `width` characters wide, 24 at least; no line is wider but one to type that cannot be broken.

    With `ascii` it holds ASCII only; without `colour` no escape sequence. `quiet`: the clear builds share a line, and
    all are named by their files.
    """
    page = Page(max(width, NARROWEST), colour=colour, plain=ascii)
    many = len(report.files) != 1
    files = [file for file in report.files if not quiet or file.verdict != "clear"]
    for index, file in enumerate(files):
        if index:
            page.gap()
        _file(page, file, many=many, by_file=quiet)
    for index, line in enumerate(clear_lines(report) if quiet else ()):
        if files and not index:
            page.gap()
        page.say(page.styled((line[:5], STYLES["clear"]), (line[5:], "")), hang=2)
    if many:
        page.gap()
        page.say(summary(report), "bold")
    return page.text()


def _file(page: Page, file: FileReport, *, many: bool, by_file: bool = False) -> None:
    arranged = arrange(file)
    start = len(page)
    words = verdict_words(file, arranged)
    head, style = words[: len(file.verdict)].capitalize(), STYLES[file.verdict]
    rest = words[len(file.verdict) :]
    path = safe(file.file, 4096)
    title = f"{safe(file.name, 80)} ({path})" if file.name and not by_file else path
    clear = file.verdict == "clear"
    verdict = page.styled((head, style), (f"{rest}: {title}" if clear else f"{rest}.", ""))
    page.say(verdict, hang=2)
    if not clear:
        page.say(title, hang=2)
    if file.what_if:
        page.say(what_if_words(file.what_if), hang=2)
    if not many or arranged.groups:
        _figures(page, file)
    why = ""
    for group in arranged.groups:
        page.gap()
        _group(page, group, file, why)
        why = group.cause.why
    if arranged.accepted:
        page.gap()
        page.say(f"Accepted ({counted(len(arranged.accepted), 'finding')})", "bold")
        for finding in arranged.accepted:
            page.say(f"{safe(finding.says)} Reason: {safe(finding.accepted or '')}", indent=2, hang=2)
    if file.limits:
        page.gap()
        page.say(f"Changed ({counted(len(file.limits), 'limit')})", "bold")
        for limit in file.limits:
            page.say(limit_change(limit), indent=2, hang=2)
    if arranged.questions:
        page.gap()
        page.say("Not judged", "bold")
        for question in arranged.questions:
            page.say(
                ("Vital: " if question.vital else "") + question_words(question, _NAMED), indent=2, hang=2
            )
            for line in question.tables:
                page.typed(safe(line), indent=6)
        if (offered := plan_offered(file)) is not None:
            page.say(offered, indent=2, hang=2)
    if len(page) - start > _SCREEN:
        page.gap()
        page.say(verdict, hang=2)


# -- what flows, fits and warms: (words, bar)


def _figures(page: Page, file: FileReport) -> None:
    rows = [
        *_supplies(file.figures["supplies"]),
        *_passages(file.figures["passages"]),
        *_warmest(file.figures["places"]),
        *_closing(file.figures.get("closing", {})),
    ]
    if rows:
        page.gap()
    column = max((page.styled((words, "")).cell_len for words, drawn in rows if drawn), default=0)
    beside = column + 2 + _BAR + 1 <= page.width  # bars stand below one another, or each under its words
    for words, drawn in rows:
        text = page.styled((words, ""))
        if drawn and beside:
            text.pad_right(column + 2 - text.cell_len)
            text.append_text(page.styled((drawn, "")))
        page.say(text, hang=2)
        if drawn and not beside:
            page.say(drawn, indent=2)


_FATES = {
    "lamp destroyed": "a lamp on it is destroyed at once",
    "poles joined": "its poles are joined",
    "supplies joined": "it is joined to another supply",
}


def _supplies(rows: Mapping[str, ReportedSupply]) -> Iterator[tuple[str, str]]:
    for name, row in rows.items():
        nominal, highest = number(row["nominal"]), number(row["highest"])
        free, rated, lasts = number(row["headroom"]), number(row["rated"]), number(row.get("lasts"))
        if row.get("fate"):
            cause = _FATES[row["fate"]]
            yield f"Supply '{safe(name, 24)}': no load is given, for {cause}", ""
            continue
        if nominal is None or highest is None:
            continue
        words = f"Supply '{safe(name, 24)}': {show(nominal, 'A')}, at most {show(highest, 'A')}"
        if rated is not None:
            words += f" of {show(rated, 'A')}"
        if free is None:
            lacks = "its rating is not known" if rated is None else "not all that it feeds is known yet"
            yield f"{words}; {lacks}", ""
        else:
            words += f", {show(free, 'share')} free" if free >= 0.0 else f", {show(-free, 'share')} too much"
            yield words, bar(nominal, highest, free, _BAR)
        if lasts is not None:
            dims = number(row.get("dims"))
            sooner = f", and a lamp is dim after {show(dims, 's')}" if dims is not None else ""
            yield f"Battery '{safe(name, 24)}': lasts about {show(lasts, 's')}{sooner}", ""


def _passages(rows: Mapping[str, ReportedPassage]) -> Iterator[tuple[str, str]]:
    for name in sorted(rows, key=lambda name: name != "post"):  # the post first, the others as they come
        row = rows[name]
        fill, bore, smallest = number(row["fill"]), number(row["bore"]), number(row["smallest_bore"])
        title = "Post" if name == "post" else f"Passage '{safe(name, 24)}'"
        if bore is not None and smallest is not None and smallest <= 0.0:
            yield f"{title}: nothing lies in its {show(bore, 'm')} bore", ""
            continue
        said = [safe(row["verdict"], 40)]
        if smallest is not None:
            said.append(
                f"needs {show(smallest, 'm')}"
                + (f" of the {show(bore, 'm')} bore" if bore is not None else "")
            )
        if fill is not None:
            said.append(f"{show(fill, 'share')} full")
        yield f"{title}: {', '.join(said)}", ""


def _warmest(rows: Mapping[str, ReportedPlace]) -> Iterator[tuple[str, str]]:
    if any(row.get("fate") for row in rows.values()):
        yield "Warmest: no figure is given, for a lamp is destroyed at once", ""
        return
    rises = ((name, number(row["rise"]) or 0.0) for name, row in rows.items())
    name, rise = max(rises, key=lambda row: row[1], default=("", 0.0))
    if rise >= 1.0:  # less than a kelvin is nothing that anyone can feel
        unknown = any(row["rise"] is None and (number(row["heat"]) or 0.0) > 0.0 for row in rows.values())
        known = " of those whose size is known" if unknown else ""
        yield f"Warmest{known}: '{safe(name, 24)}', {show(rise, 'K')} above the air around the model", ""


_HELD = {
    "join": ("join of lines", "joins of lines"),
    "conductor": ("trapped conductor", "trapped conductors"),
    "supply": ("supply", "supplies"),
}  # other kinds by their own word


def _closing(rows: Mapping[str, ReportedClosing]) -> Iterator[tuple[str, str]]:
    for name, row in rows.items():
        needed, proven = row["needed"], row["proven"]
        held = [
            f"{count} {_HELD.get(kind, (kind, f'{kind}s'))[count != 1]}"
            for kind, count in row.items()
            if kind not in ("needed", "proven") and count
        ]
        words = (
            f"Closing '{safe(name, 24)}': {proven} of {needed} proven"
            if needed
            else f"Closing '{safe(name, 24)}': nothing to prove"
        )
        yield words + (f"; reached by cutting only: {', '.join(held)}" if held else ""), ""


# -- what was found


def _group(page: Page, group: Group, file: FileReport, last_why: str) -> None:
    finding = group.cause
    style = STYLES[finding.severity]
    page.say(page.styled((f"{finding.severity.capitalize()}: ", style), (safe(finding.says), "bold")), hang=2)
    page.say(f"Why: {'as above.' if finding.why == last_why else safe(finding.why)}", indent=2, hang=2)
    if finding.remedy is not None:
        page.say(f"Do: {safe(finding.remedy)}", "bold", indent=2, hang=2)
        for line in finding.lines[:_LINES]:
            page.typed(safe(line), indent=6)
        if (rest := len(finding.lines) - _LINES) > 0:
            page.say(f"({counted(rest, 'more line')}; piped, all are told)", indent=4, hang=2)
    if finding.limit is not None:
        page.say(f"Limit: {limit_words(finding.limit)}", indent=2, hang=2)
    for other in group.consequences[:_FOLDED]:
        page.say(
            page.styled(("It follows, ", ""), (other.severity, STYLES[other.severity]), (f": {safe(other.says)}", "")),
            indent=2, hang=2,
        )  # fmt: skip
    if (more := len(group.consequences) - _FOLDED) > 0:
        page.say(
            f"It follows: {counted(more, 'finding')} more, none heavier; --format json lists them",
            indent=2,
            hang=2,
        )
    page.say(f"At: {place(finding, file)}, {safe(finding.id)}", indent=2, hang=2)
