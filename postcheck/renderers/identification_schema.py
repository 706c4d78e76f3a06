"""What is written of unmarked leads as JSON: a JSON Schema (draft-07) of format 1."""

from __future__ import annotations

from typing import get_args

from postcheck.identification import Condition, Step
from postcheck.renderers.report_schema import file_name
from postcheck.renderers.schema_forms import (
    Schema,
    choice,
    count,
    flag,
    number,
    or_null,
    several,
    table,
    text,
    whole_schema,
)


def identification_schema() -> Schema:
    """The schema of what `which --format json` writes."""
    name = text("A lead, by the name of its lamp, strip or load.", "nose lamp")
    lead = text("A lead, as it was named at the bench.", "lead 1")
    across = table(
        "What a meter reads across the lead.",
        least=number("V, with parts that need least."),
        usual=number("V, with usual parts."),
        most=number("V, with parts that need most."),
        amps_least=number("What the brightest string takes, A, at least."),
        amps_most=or_null(number("The same at most; null where it is not known.")),
    )
    setting = or_null(
        table(
            "A setting of a bench supply; null where there is none.",
            volts=number("V."),
            ohms=number("The resistor in the bench lead, ohm."),
            forward=number("The most that can flow, into a short, A."),
            rated=or_null(number("What the most delicate lamp is rated for, A.")),
            delicate=name,
            reverse=or_null(number("What the weakest LED withstands backwards, V.")),
            weakest=name,
            watts=number("The most that a lamp can turn into heat at it, either way round, W."),
        )
    )
    fit = table(
        "What explains the readings of a lead.",
        name=name,
        condition=choice("What is wrong with it.", get_args(Condition), "sound"),
        swapped=flag("Its legs are swapped."),
    )
    return whole_schema(
        "identification",
        "Unmarked leads told apart.",
        file=file_name(),
        build=text("The build's name.", "Mail airship, 1:144"),
        place=text("Where the leads end.", "keel"),
        first=setting,
        more=setting,
        expected=several(
            "What each lead reads, in order of the volts.",
            table(
                "A lead.",
                kind=text("lamp, strip or load.", "lamp"),
                name=name,
                colours=several("Of its light.", text("A colour.", "red")),
                places=several("Where it lights.", text("A place.", "nose")),
                first=across,
                turned=across,
                more=or_null(across),
                resistor=or_null(number("In it, ahead of the lamp, ohm.", None)),
                plus=text("The colour of the leg that is plus.", "red"),
                minus=text("The colour of the other.", "black"),
                label=text("What is written on its flag.", "N"),
            ),
        ),
        alike=several(
            "Leads of equal lamps.",
            table(
                "Such leads.",
                names=several("Their names.", name),
                place=flag("Where they light tells them apart."),
            ),
        ),
        told=table(
            "How many pairs of leads are told apart.",
            pairs=count("All."),
            volts=count("By the meter."),
            colour=count("With the colour seen."),
            place=count("With where it lights."),
        ),
        apart=several(
            "Leads on which nothing is put.",
            table("A lead.", name=name, why=text("backwards, little or forwards.", "backwards")),
        ),
        marked=several(
            "Leads with a flag.", table("A lead.", name=name, label=text("What is on its flag.", "N"))
        ),
        bin=or_null(number("The width of forward voltage that was assumed, V.", None)),
        legs_told=flag("The colours of the legs say which is which."),
        found=several(
            "What the readings tell.",
            table(
                "A lead.",
                lead=lead,
                reading=text("As it was typed.", "2.07 red"),
                left=several("The leads that it may be.", name),
                sure=flag("It is this one, even with one fault more than need be."),
                fits=several("What explains its readings with the fewest faults.", fit),
                dark=flag("It stayed dark both ways."),
                known=flag("It was said which it is."),
                faulty=flag("Nothing without a fault explains it."),
            ),
        ),
        faults=count("The least number of faults that explains all."),
        unexplained=several("Leads whose readings nothing explains.", lead),
        next=or_null(
            table(
                "What is done next; null where nothing tells more.",
                step=choice("What.", get_args(Step), "volts"),
                lead={**lead, "description": "With which lead; empty for one that was not read."},
                bits=number("What it is expected to tell, bit."),
            )
        ),
        done=flag("Every lead is known."),
    )
