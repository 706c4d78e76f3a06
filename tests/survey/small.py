"""A small build for the tests of the survey and the checks, with any part replaced."""

from __future__ import annotations

import postcheck
from postcheck.survey import Survey

TEXT = """
format = 1
[build]
name = "Harbour tender"
air = "{air}"
[usual]
lead = "enamel-0.10"
run = "{wire}"
[supply.main]
{supply}
[post]
from = "base"
to = "hull"
{post}
[place.base]
access = "open"
[place.hull]
{hull}
[place.bow]
access = "open"
[circuit.lights]
supply = "main"
{circuit}
{lamps}
[[run]]
name = "feed"
line = "lights"
ends = ["base", "hull"]
length = "300 mm"
[[run]]
name = "negative"
line = "main-"
ends = ["base", "hull"]
length = "300 mm"
{extra}
"""

LAMP = """
[[lamp]]
name = "bow lamp"
circuit = "lights"
kind = "smd-0402-red"
place = "bow"
resistor = "1k5 1/4 W{at}"
lead = "{lead}"
"""

ADAPTOR = 'kind = "adaptor"\nplace = "base"\nvolts = "12 V"\ntolerance = "5 %"\nrated = "{rated}"\n{fuse}'


def adaptor(rated: str = "1 A", fuse: str | None = "500 mA") -> str:
    return ADAPTOR.format(rated=rated, fuse=f'fuse = "{fuse}"' if fuse else "")


def lamp(at: str = "", lead: str = "120 mm to hull") -> str:
    return LAMP.format(at=at, lead=lead)


def survey(
    *,
    supply: str | None = None,
    post: str = 'bore = "5 mm"\nlength = "160 mm"',
    hull: str = 'access = "cover"',
    lamps: str | None = None,
    circuit: str = "",
    wire: str = "ptfe-28",
    air: str = "5..35 degC",
    extra: str = "",
) -> Survey:
    text = TEXT.format(
        supply=supply or adaptor(), post=post, hull=hull, lamps=lamp() if lamps is None else lamps,
        circuit=circuit, wire=wire, air=air, extra=extra,
    )  # fmt: skip
    return Survey(postcheck.loads(text))
