"""What a variation looks like as JSON: a JSON Schema (draft-07) of format 1."""

from __future__ import annotations

from postcheck.renderers.report_schema import file_name, question, severity, verdict, what_if
from postcheck.renderers.schema_forms import Schema, flag, number, or_null, several, table, text, whole_schema


def variation_schema() -> Schema:
    """The schema of what `vary --format json` writes."""
    value = text("As it stands in a file, without quotes.", "3.5 mm")
    name = text("The id of a finding.", "passage.tight:post")
    key = table(
        "A key and its values.",
        key=text("The dotted key, with the names of the report in it.", "post.bore"),
        unit=or_null(text("The unit of its numbers, empty for a count; null where they are words.", "mm")),
        values=several("All values that were judged, in order.", value),
        series=or_null(text("The series of preferred values that they are of.", "E12")),
        was=or_null(text("The value in the file, as TOML; null where it has none.", '"5 mm"')),
    )
    found = table(
        "A finding that is not accepted.",
        id=name,
        severity=severity(),
        says=text("What is wrong.", "'nose lamp' gets 80.7 mA"),
    )
    return whole_schema(
        "variation",
        "A build judged over the values of one key, or of two.",
        file=file_name(),
        name=text("The build's name.", "Mail airship, 1:144"),
        stage=or_null(text("What it was judged for; null where that is what was varied.", "wiring")),
        stopped=flag("It was broken off before all was judged."),
        gap=or_null(
            table(
                "How far apart, at most, neighbouring values of one outcome lie with values between them that were not judged; null for a list and of two keys.",
                value=or_null(number("In the key's unit, or a ratio; 0 where none was left out.", 0.05)),
                by_ratio=flag("It is the ratio of the two values, not their difference."),
            )
        ),
        what_if=several("The other keys that were judged with other values than the file has.", what_if()),
        keys=several("One key, or two.", key),
        margin=or_null(
            table(
                "The check of which `used` tells; null where none compares anything that moves.",
                check=text("Its name.", "passage.tight"),
                line=text("What it looks at.", "a bundle has too little room"),
            )
        ),
        points=several(
            "One for each judgement; of two keys row by row, the values of the second within each of the first.",
            table(
                "One judgement.",
                values=several("The value of each key.", value),
                numbers=several(
                    "The same as numbers.", or_null(number("In the key's unit; null for a word.", 3.5))
                ),
                as_in_file=flag("The file has these values."),
                verdict=verdict(),
                findings=several("The heaviest first, causes ahead.", found),
                vital={
                    "type": "integer",
                    "minimum": 0,
                    "description": "How many vital things are not known.",
                    "examples": [0],
                },
                asks=or_null(question()),
                used=or_null(
                    number(
                        "How much of the margin's limit is used up: 1 is at it; null where it was not compared.",
                        0.4,
                    )
                ),
            ),
        ),
        turns=several(
            "Of one key with numbers: where the verdict or the findings are others than just below.",
            table(
                "A turn.",
                below=value,
                above=value,
                verdict_below=verdict(),
                verdict_above=verdict(),
                new=several("Findings of the value above alone.", name),
                gone=several("Findings of the value below alone.", name),
                other_weight=several("Findings of both, with another weight.", name),
                close=flag("Nothing lies between the two to three digits, or in the series."),
            ),
        ),
    )
