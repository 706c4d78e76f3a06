"""What a report and a comparison look like as JSON, for other programs: JSON Schemas (draft-07) of format 1.

Keys may be added while the format stays 1, so that a reader should pass over what it does not know.
"""

from __future__ import annotations

from typing import get_args

from postcheck.renderers.schema_forms import (
    Schema,
    anything,
    by_name,
    choice,
    number,
    or_null,
    row,
    several,
    table,
    text,
    whole,
    whole_schema,
)
from postcheck.report import SEVERITIES, Verdict
from postcheck.reported import MOST_SEGMENTS, Meant, meanings, no_figures


def report_schema() -> Schema:
    """The schema of what `check --format json` writes."""
    files = several("One for each file, in the order given.", _file())
    return whole_schema("report", "The reports of all files of one run.", files=files)


def comparison_schema() -> Schema:
    """The schema of what `compare --format json` writes."""
    value = {"type": ["number", "string", "null"], "description": "In SI; null where it is not known."}
    part = {
        "section": text("The section of the figures.", "lamps"),
        "name": text("The name in it.", "nose lamp"),
    }
    changed = table("A finding of both.", before=_finding(), after=_finding())
    return whole_schema(
        "comparison",
        "What is different between the reports of two builds.",
        before=_side("The earlier build."),
        after=_side("The later build."),
        findings=table(
            "Findings that differ.",
            new=several("Of the later build alone.", _finding()),
            gone=several("Of the earlier build alone.", _finding()),
            changed=several("Of both, but with another weight, acceptance or words.", changed),
        ),
        not_judged=table(
            "What was judged in one of them only.",
            new=several("Not judged any more.", question()),
            gone=several("Judged now.", question()),
        ),
        parts=table(
            "What one of them has alone.",
            new=several("Of the later build alone.", table("A part.", **part)),
            gone=several("Of the earlier build alone.", table("A part.", **part)),
        ),
        figures=several(
            "Figures of both that differ by a thousandth or more.",
            table(
                "A figure.",
                **part,
                figure=text("Its name.", "nominal"),
                unit=text("Its unit; share is a part of the whole.", "A"),
                before=value,
                after=value,
            ),
        ),
    )


def _side(what: str) -> Schema:
    return table(
        what,
        file=file_name(),
        verdict=verdict(),
        what_if=several("The keys that were judged with other values than the file has.", what_if()),
    )


def _file() -> Schema:
    return table(
        "What is known of one file.",
        file=file_name(),
        verdict=verdict(),
        findings=several("The weightiest first; consequences stand behind their cause.", _finding()),
        stage=or_null(text("What it was judged for; null where it could not be read.", "wiring")),
        not_judged=several("What the file does not say enough about.", question()),
        limits=several("The limits that the file changes.", _changed_limit()),
        what_if=several("The keys that were judged with other values than the file has.", what_if()),
        nothing_to_judge=several(
            "The checks that found nothing because the build has nothing that they look at.",
            text("A check's name.", "battery.hot"),
        ),
        figures=_figures(),
    )


def file_name() -> Schema:
    """A file, as it was named."""
    return text("The file as it was named; - is standard input.", "mail_airship.post.toml")


def verdict() -> Schema:
    """The verdict on one file."""
    return choice(
        "The weightiest finding that is not accepted; incomplete where something vital is not known, unreadable where the file is no "
        "build.",
        get_args(Verdict),
        "clear",
    )


def severity() -> Schema:
    """The weight of a finding."""
    return choice("How much it weighs.", SEVERITIES, "stop")


def _finding() -> Schema:
    return table(
        "One judgement.",
        id=text(
            "The check and the subject's name: stable while neither is renamed.", "lamp.over-rating:nose lamp"
        ),
        check=text("The check's name; `postcheck explain` tells what it looks at.", "lamp.over-rating"),
        severity=severity(),
        subject=_subject("What it is about."),
        says=text("What is wrong.", "'nose lamp' gets 80.7 mA"),
        why=text("Why it matters.", "Too much current ages an LED fast."),
        remedy=or_null(text("What would cure it.", "Use 470 ohm 1/2 W instead of 100 ohm.")),
        edits=or_null(several("The remedy as changes of the file, where it is one.", _edit())),
        where=_where(),
        figures=by_name("The numbers behind it.", _figure()),
        limit=or_null(
            table(
                "What it was judged by.",
                value=number("In SI; temperatures in degC."),
                unit=text("Its unit.", "A"),
                source=text("Where the limit comes from.", "judgement"),
                name=or_null(text("Its name in [[limit]]; null for a part's own rating.", "lamp.dim")),
            )
        ),
        because_of=or_null(text("The id of the finding that it follows from.", "lamp.over-rating:nose lamp")),
        accepted=or_null(text("The reason for which the builder has accepted it.", "seen and found slight")),
        parts=by_name(
            "The other parts that it names, by their role.",
            {
                **_subject("One part, or a list of them."),
                "type": ["object", "array"],
                "items": _subject("One part."),
            },
        ),
        remedy_figures=by_name("Numbers of the remedy besides its edits.", _figure()),
    )


def _figure() -> Schema:
    return table(
        "One number.",
        value=number("In SI; temperatures in degC."),
        unit=text("Its unit; share is a part of the whole, a count has none.", "A"),
    )


def _subject(what: str) -> Schema:
    return table(
        what,
        kind=text("A word such as lamp, run, supply, place, file.", "lamp"),
        name=text("Its name in the file.", "nose lamp"),
    )


def _edit() -> Schema:
    step = {
        "type": ["string", "integer"],
        "description": "A key, or a number in a list, from 0; a last + adds to the list.",
    }
    return table(
        "One change.",
        path=several("The way to the value, key by key.", step),
        value=anything("The new value; null where it is taken out.", "470 ohm 1/2 W"),
        toml=or_null(text("The same as it is typed in the file.", '"470 ohm 1/2 W"')),
    )


def question() -> Schema:
    """An open question."""
    return table(
        "Something that was not judged.",
        subject=text("What it is about, by its name.", "main"),
        what=text("What could not be judged.", "what a short does"),
        missing=text("What the file would have to say.", "`current_limit`"),
        vital={
            "type": "boolean",
            "description": "Without it the verdict cannot be clear.",
            "examples": [True],
        },
        plannable={
            "type": "boolean",
            "description": "`postcheck plan` proposes what is missing.",
            "examples": [False],
        },
        lines=several(
            "Lines of TOML that would say it: whole tables, or keys of the table at `under`.",
            text("A line.", "[circuit.running]"),
        ),
        under=several(
            "The way to the table that the lines go into, key by key; empty where they are tables themselves.",
            {"type": ["string", "integer"], "description": "A key, or a number in a list, from 0."},
        ),
        where=_where(),
    )


def _changed_limit() -> Schema:
    return table(
        "A limit that the file changes.",
        name=text("Its name, as `postcheck explain` gives it.", "step.slow"),
        value=number("What it is now, in its unit.", 0.05),
        was=number("What it is by itself.", 0.03),
        unit=text("Its unit: SI, degC, share for a part of the whole, empty for a number.", "share"),
        reason=text("Why, by the file.", "a working boat may wink"),
        hides=several(
            "The findings that are there, or heavier, by the limit as it was.",
            text("The id of a finding.", "circuit.step:mast lamp"),
        ),
    )


def what_if() -> Schema:
    """A key that was judged with another value."""
    return table(
        "A key that was judged with another value than the file has.",
        key=text("The dotted key, with the names of the report in it.", "post.bore"),
        value=anything("The value that it was judged with.", "6 mm"),
        was=anything("The value in the file; null where it has none.", "5 mm"),
        where=_where(),
    )


def _where() -> Schema:
    return or_null(
        table(
            "Where it stands in the file; null where there is no text.",
            path=text("The file.", "mail_airship.post.toml"),
            line=whole("From 1.", 106),
            column=whole("From 1, in characters.", 3),
        )
    )


def _figures() -> Schema:
    """The sections; each has its names, each name its figures."""
    rows = {
        section: row({name: _figure_of(meant) for name, meant in figures.items()})
        for section, figures in meanings().items()
    }
    return {
        "type": "object",
        "description": "The figures of the build by section and name, in SI. Null is a figure that is not known.",
        "properties": {
            section: by_name(_SECTIONS.get(section, f"{section.capitalize()}."), figures)
            for section, figures in rows.items()
        },
        "required": [section for section in rows if section in no_figures()],
        "additionalProperties": by_name("A further section.", row({})),
    }


_SECTIONS = {
    "passages": "The post, as post, and every other passage.",
    "places": "Closed places.",
    "closing": "Places that are to be closed.",
    "boards": "Boards that drive circuits.",
    "strings": "The strings of each lamp that has several: the lamp's name and the number of the string.",
    "segments": f"The segments of each strip: the strip's name and the number of the segment. Of more than {MOST_SEGMENTS}, the first and the last.",
    "pins": "The pins of each plug: the plug's name and the number of the pin.",
    "margins": "By the name of each check that found nothing: what came nearest to its limit.",
}


def _figure_of(meant: Meant) -> Schema:
    """A figure with its type and unit; a number that is not finite is null."""
    says = f"{meant.says[0].upper()}{meant.says[1:]}."
    kinds = {"type": list(meant.kinds) if len(meant.kinds) > 1 else meant.kinds[0]}
    return {**kinds, "description": says, **({"unit": meant.unit} if meant.unit else {})}
