"""What a report, a comparison and a variation look like as JSON, for other programs: JSON Schemas (draft-07) of format 1.

Keys may be added while the format stays 1, so that a reader should pass over what it does not know.
"""

from __future__ import annotations

from typing import Any, get_args

from postcheck.identification import Condition, Step
from postcheck.report import SEVERITIES, Verdict
from postcheck.reported import MOST_SEGMENTS, Meant, meanings, no_figures

Schema = dict[str, Any]


def report_schema() -> Schema:
    """The schema of what `check --format json` writes."""
    files = _list("One for each file, in the order given.", _file())
    return _whole_schema("report", "The reports of all files of one run.", files=files)


def comparison_schema() -> Schema:
    """The schema of what `compare --format json` writes."""
    value = {"type": ["number", "string", "null"], "description": "In SI; null where it is not known."}
    part = {
        "section": _text("The section of the figures.", "lamps"),
        "name": _text("The name in it.", "nose lamp"),
    }
    changed = _table("A finding of both.", before=_finding(), after=_finding())
    return _whole_schema(
        "comparison",
        "What is different between the reports of two builds.",
        before=_side("The earlier build."),
        after=_side("The later build."),
        findings=_table(
            "Findings that differ.",
            new=_list("Of the later build alone.", _finding()),
            gone=_list("Of the earlier build alone.", _finding()),
            changed=_list("Of both, but with another weight, acceptance or words.", changed),
        ),
        not_judged=_table(
            "What was judged in one of them only.",
            new=_list("Not judged any more.", _question()),
            gone=_list("Judged now.", _question()),
        ),
        parts=_table(
            "What one of them has alone.",
            new=_list("Of the later build alone.", _table("A part.", **part)),
            gone=_list("Of the earlier build alone.", _table("A part.", **part)),
        ),
        figures=_list(
            "Figures of both that differ by a thousandth or more.",
            _table(
                "A figure.",
                **part,
                figure=_text("Its name.", "nominal"),
                unit=_text("Its unit; share is a part of the whole.", "A"),
                before=value,
                after=value,
            ),
        ),
    )


def variation_schema() -> Schema:
    """The schema of what `vary --format json` writes."""
    value = _text("As it stands in a file, without quotes.", "3.5 mm")
    number = {
        "type": ["number", "null"],
        "description": "In the key's unit; null for a word.",
        "examples": [3.5],
    }
    name = _text("The id of a finding.", "passage.tight:post")
    yes = {"type": "boolean", "examples": [True]}
    key = _table(
        "A key and its values.",
        key=_text("The dotted key, with the names of the report in it.", "post.bore"),
        unit=_or_null(_text("The unit of its numbers, empty for a count; null where they are words.", "mm")),
        values=_list("All values that were judged, in order.", value),
        series=_or_null(_text("The series of preferred values that they are of.", "E12")),
        was=_or_null(_text("The value in the file, as TOML; null where it has none.", '"5 mm"')),
    )
    found = _table(
        "A finding that is not accepted.",
        id=name,
        severity={
            "type": "string",
            "enum": list(SEVERITIES),
            "description": "How much it weighs.",
            "examples": ["stop"],
        },
        says=_text("What is wrong.", "'nose lamp' gets 80.7 mA"),
    )
    return _whole_schema(
        "variation",
        "A build judged over the values of one key, or of two.",
        file=_file_name(),
        name=_text("The build's name.", "Mail airship, 1:144"),
        stage=_or_null(_text("What it was judged for; null where that is what was varied.", "wiring")),
        stopped={**yes, "description": "It was broken off before all was judged."},
        gap=_or_null(
            _table(
                "How far apart, at most, neighbouring values of one outcome lie with values between them that were not judged; null for a list and of two keys.",
                value={
                    "type": ["number", "null"],
                    "description": "In the key's unit, or a ratio; 0 where none was left out.",
                    "examples": [0.05],
                },
                by_ratio={**yes, "description": "It is the ratio of the two values, not their difference."},
            )
        ),
        what_if=_list("The other keys that were judged with other values than the file has.", _what_if()),
        keys=_list("One key, or two.", key),
        margin=_or_null(
            _table(
                "The check of which `used` tells; null where none compares anything that moves.",
                check=_text("Its name.", "passage.tight"),
                line=_text("What it looks at.", "a bundle has too little room"),
            )
        ),
        points=_list(
            "One for each judgement; of two keys row by row, the values of the second within each of the first.",
            _table(
                "One judgement.",
                values=_list("The value of each key.", value),
                numbers=_list("The same as numbers.", number),
                as_in_file={**yes, "description": "The file has these values."},
                verdict=_verdict(),
                findings=_list("The heaviest first, causes ahead.", found),
                vital={
                    "type": "integer",
                    "minimum": 0,
                    "description": "How many vital things are not known.",
                    "examples": [0],
                },
                asks=_or_null(_question()),
                used={
                    "type": ["number", "null"],
                    "description": "How much of the margin's limit is used up: 1 is at it; null where it was not compared.",
                    "examples": [0.4],
                },
            ),
        ),
        turns=_list(
            "Of one key with numbers: where the verdict or the findings are others than just below.",
            _table(
                "A turn.",
                below=value,
                above=value,
                verdict_below=_verdict(),
                verdict_above=_verdict(),
                new=_list("Findings of the value above alone.", name),
                gone=_list("Findings of the value below alone.", name),
                other_weight=_list("Findings of both, with another weight.", name),
                close={
                    **yes,
                    "description": "Nothing lies between the two to three digits, or in the series.",
                },
            ),
        ),
    )


def identification_schema() -> Schema:
    """The schema of what `which --format json` writes."""
    yes = {"type": "boolean", "examples": [True]}
    name = _text("A lead, by the name of its lamp, strip or load.", "nose lamp")
    lead = _text("A lead, as it was named at the bench.", "lead 1")
    many = {"type": "integer", "minimum": 0, "examples": [38]}
    across = _table(
        "What a meter reads across the lead.",
        least=_number("V, with parts that need least."),
        usual=_number("V, with usual parts."),
        most=_number("V, with parts that need most."),
        amps_least=_number("What the brightest string takes, A, at least."),
        amps_most={**_number("The same at most; null where it is not known."), "type": ["number", "null"]},
    )
    setting = _or_null(
        _table(
            "A setting of a bench supply; null where there is none.",
            volts=_number("V."),
            ohms=_number("The resistor in the bench lead, ohm."),
            forward=_number("The most that can flow, into a short, A."),
            rated={**_number("What the most delicate lamp is rated for, A."), "type": ["number", "null"]},
            delicate=name,
            reverse={**_number("What the weakest LED withstands backwards, V."), "type": ["number", "null"]},
            weakest=name,
            watts=_number("The most that a lamp can turn into heat at it, either way round, W."),
        )
    )
    fit = _table(
        "What explains the readings of a lead.",
        name=name,
        condition={
            "type": "string",
            "enum": list(get_args(Condition)),
            "description": "What is wrong with it.",
            "examples": ["sound"],
        },
        swapped={**yes, "description": "Its legs are swapped."},
    )
    return _whole_schema(
        "identification",
        "Unmarked leads told apart.",
        file=_file_name(),
        build=_text("The build's name.", "Mail airship, 1:144"),
        place=_text("Where the leads end.", "keel"),
        first=setting,
        more=setting,
        expected=_list(
            "What each lead reads, in order of the volts.",
            _table(
                "A lead.",
                kind=_text("lamp, strip or load.", "lamp"),
                name=name,
                colours=_list("Of its light.", _text("A colour.", "red")),
                places=_list("Where it lights.", _text("A place.", "nose")),
                first=across,
                turned=across,
                more=_or_null(across),
                resistor={"type": ["number", "null"], "description": "In it, ahead of the lamp, ohm."},
                plus=_text("The colour of the leg that is plus.", "red"),
                minus=_text("The colour of the other.", "black"),
                label=_text("What is written on its flag.", "N"),
            ),
        ),
        alike=_list(
            "Leads of equal lamps.",
            _table(
                "Such leads.",
                names=_list("Their names.", name),
                place={**yes, "description": "Where they light tells them apart."},
            ),
        ),
        told=_table(
            "How many pairs of leads are told apart.",
            pairs={**many, "description": "All."},
            volts={**many, "description": "By the meter."},
            colour={**many, "description": "With the colour seen."},
            place={**many, "description": "With where it lights."},
        ),
        apart=_list(
            "Leads on which nothing is put.",
            _table("A lead.", name=name, why=_text("backwards, little or forwards.", "backwards")),
        ),
        marked=_list(
            "Leads with a flag.", _table("A lead.", name=name, label=_text("What is on its flag.", "N"))
        ),
        bin={"type": ["number", "null"], "description": "The width of forward voltage that was assumed, V."},
        legs_told={**yes, "description": "The colours of the legs say which is which."},
        found=_list(
            "What the readings tell.",
            _table(
                "A lead.",
                lead=lead,
                reading=_text("As it was typed.", "2.07 red"),
                left=_list("The leads that it may be.", name),
                sure={**yes, "description": "It is this one, even with one fault more than need be."},
                fits=_list("What explains its readings with the fewest faults.", fit),
                dark={**yes, "description": "It stayed dark both ways."},
                known={**yes, "description": "It was said which it is."},
                faulty={**yes, "description": "Nothing without a fault explains it."},
            ),
        ),
        faults={**many, "description": "The least number of faults that explains all."},
        unexplained=_list("Leads whose readings nothing explains.", lead),
        next=_or_null(
            _table(
                "What is done next; null where nothing tells more.",
                step={
                    "type": "string",
                    "enum": list(get_args(Step)),
                    "description": "What.",
                    "examples": ["volts"],
                },
                lead={**lead, "description": "With which lead; empty for one that was not read."},
                bits=_number("What it is expected to tell, bit."),
            )
        ),
        done={**yes, "description": "Every lead is known."},
    )


def _whole_schema(name: str, what: str, /, **keys: Schema) -> Schema:
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "$id": f"urn:postcheck:schema:{name}:1",
        "title": f"postcheck {name}",
        **_table(
            what,
            postcheck=_text("The version that wrote it.", "0.1.0"),
            format={"const": 1, "type": "integer", "description": "Version of this form.", "examples": [1]},
            **keys,
        ),
    }


def _side(what: str) -> Schema:
    return _table(
        what,
        file=_file_name(),
        verdict=_verdict(),
        what_if=_list("The keys that were judged with other values than the file has.", _what_if()),
    )


def _file() -> Schema:
    return _table(
        "What is known of one file.",
        file=_file_name(),
        verdict=_verdict(),
        findings=_list("The weightiest first; consequences stand behind their cause.", _finding()),
        stage=_or_null(_text("What it was judged for; null where it could not be read.", "wiring")),
        not_judged=_list("What the file does not say enough about.", _question()),
        limits=_list("The limits that the file changes.", _changed_limit()),
        what_if=_list("The keys that were judged with other values than the file has.", _what_if()),
        nothing_to_judge=_list(
            "The checks that found nothing because the build has nothing that they look at.",
            _text("A check's name.", "battery.hot"),
        ),
        figures=_figures(),
    )


def _file_name() -> Schema:
    return _text("The file as it was named; - is standard input.", "mail_airship.post.toml")


def _verdict() -> Schema:
    return {
        "type": "string",
        "enum": list(get_args(Verdict)),
        "description": "The weightiest finding that is not accepted; incomplete where something vital is not known, "
        "unreadable where the file is no build.",
        "examples": ["clear"],
    }


def _finding() -> Schema:
    return _table(
        "One judgement.",
        id=_text(
            "The check and the subject's name: stable while neither is renamed.", "lamp.over-rating:nose lamp"
        ),
        check=_text("The check's name; `postcheck explain` tells what it looks at.", "lamp.over-rating"),
        severity={
            "type": "string",
            "enum": list(SEVERITIES),
            "description": "How much it weighs.",
            "examples": ["stop"],
        },
        subject=_subject("What it is about."),
        says=_text("What is wrong.", "'nose lamp' gets 80.7 mA"),
        why=_text("Why it matters.", "Too much current ages an LED fast."),
        remedy=_or_null(_text("What would cure it.", "Use 470 ohm 1/2 W instead of 100 ohm.")),
        edits=_or_null(_list("The remedy as changes of the file, where it is one.", _edit())),
        where=_where(),
        figures=_named("The numbers behind it.", _figure()),
        limit=_or_null(
            _table(
                "What it was judged by.",
                value=_number("In SI; temperatures in degC."),
                unit=_text("Its unit.", "A"),
                source=_text("Where the limit comes from.", "judgement"),
                name=_or_null(_text("Its name in [[limit]]; null for a part's own rating.", "lamp.dim")),
            )
        ),
        because_of=_or_null(
            _text("The id of the finding that it follows from.", "lamp.over-rating:nose lamp")
        ),
        accepted=_or_null(
            _text("The reason for which the builder has accepted it.", "seen and found slight")
        ),
        parts=_named(
            "The other parts that it names, by their role.",
            {
                **_subject("One part, or a list of them."),
                "type": ["object", "array"],
                "items": _subject("One part."),
            },
        ),
        remedy_figures=_named("Numbers of the remedy besides its edits.", _figure()),
    )


def _figure() -> Schema:
    return _table(
        "One number.",
        value=_number("In SI; temperatures in degC."),
        unit=_text("Its unit; share is a part of the whole, a count has none.", "A"),
    )


def _subject(what: str) -> Schema:
    return _table(
        what,
        kind=_text("A word such as lamp, run, supply, place, file.", "lamp"),
        name=_text("Its name in the file.", "nose lamp"),
    )


def _edit() -> Schema:
    step = {
        "type": ["string", "integer"],
        "description": "A key, or a number in a list, from 0; a last + adds to the list.",
    }
    return _table(
        "One change.",
        path=_list("The way to the value, key by key.", step),
        value=_any("The new value; null where it is taken out.", "470 ohm 1/2 W"),
        toml=_or_null(_text("The same as it is typed in the file.", '"470 ohm 1/2 W"')),
    )


def _question() -> Schema:
    return _table(
        "Something that was not judged.",
        subject=_text("What it is about, by its name.", "main"),
        what=_text("What could not be judged.", "what a short does"),
        missing=_text("What the file would have to say.", "`current_limit`"),
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
        lines=_list(
            "Lines of TOML that would say it: whole tables, or keys of the table at `under`.",
            _text("A line.", "[circuit.running]"),
        ),
        under=_list(
            "The way to the table that the lines go into, key by key; empty where they are tables themselves.",
            {"type": ["string", "integer"], "description": "A key, or a number in a list, from 0."},
        ),
        where=_where(),
    )


def _changed_limit() -> Schema:
    return _table(
        "A limit that the file changes.",
        name=_text("Its name, as `postcheck explain` gives it.", "step.slow"),
        value={"type": "number", "description": "What it is now, in its unit.", "examples": [0.05]},
        was={"type": "number", "description": "What it is by itself.", "examples": [0.03]},
        unit=_text("Its unit: SI, degC, share for a part of the whole, empty for a number.", "share"),
        reason=_text("Why, by the file.", "a working boat may wink"),
        hides=_list(
            "The findings that are there, or heavier, by the limit as it was.",
            _text("The id of a finding.", "circuit.step:mast lamp"),
        ),
    )


def _what_if() -> Schema:
    return _table(
        "A key that was judged with another value than the file has.",
        key=_text("The dotted key, with the names of the report in it.", "post.bore"),
        value=_any("The value that it was judged with.", "6 mm"),
        was=_any("The value in the file; null where it has none.", "5 mm"),
        where=_where(),
    )


def _where() -> Schema:
    return _or_null(
        _table(
            "Where it stands in the file; null where there is no text.",
            path=_text("The file.", "mail_airship.post.toml"),
            line=_whole("From 1.", 106),
            column=_whole("From 1, in characters.", 3),
        )
    )


def _figures() -> Schema:
    """The sections; each has its names, each name its figures."""
    rows = {
        section: _row({name: _figure_of(meant) for name, meant in row.items()})
        for section, row in meanings().items()
    }
    return {
        "type": "object",
        "description": "The figures of the build by section and name, in SI. Null is a figure that is not known.",
        "properties": {
            section: _named(_SECTIONS.get(section, f"{section.capitalize()}."), row)
            for section, row in rows.items()
        },
        "required": [section for section in rows if section in no_figures()],
        "additionalProperties": _named("A further section.", _row({})),
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


def _table(what: str, /, **keys: Schema) -> Schema:
    return {"type": "object", "description": what, "properties": keys, "required": list(keys)}


def _list(what: str, item: Schema) -> Schema:
    return {"type": "array", "description": what, "items": item}


def _named(what: str, item: Schema) -> Schema:
    return {"type": "object", "description": what, "additionalProperties": item}


def _row(figures: dict[str, Schema]) -> Schema:
    return {
        "type": "object",
        "properties": figures,
        "additionalProperties": {"type": ["number", "string", "null"]},
    }


def _text(what: str, example: str) -> Schema:
    return {"type": "string", "description": what, "examples": [example]}


def _any(what: str, example: str) -> Schema:
    """A value of a build file, a date as text."""
    kinds = ["string", "number", "boolean", "array", "object", "null"]
    return {"type": kinds, "description": what, "examples": [example]}


def _whole(what: str, example: int) -> Schema:
    return {"type": "integer", "minimum": 1, "description": what, "examples": [example]}


def _number(what: str) -> Schema:
    return {"type": "number", "description": what, "examples": [0.02]}


def _or_null(schema: Schema) -> Schema:
    return {**schema, "type": [schema["type"], "null"]}
