"""Bores of our own invention, as the renderers that draw them get them. Lengths in m."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

from postcheck.pictured import BoreCircle, BorePicture


def _wire(number: int, name: str, millimetres: float, x: float, y: float, **more: object) -> BoreCircle:
    circle = BoreCircle(number, name, "run", millimetres * 1e-3, x * 1e-3, y * 1e-3, wire="ptfe-28")
    return replace(circle, **more)  # type: ignore[arg-type]


_SHIP = ("Mail airship, 1:144", "mail_airship.post.toml")
_ROUND = [(0.625 * cos(0.3 + 0.4 * pi * n), 0.625 * sin(0.3 + 0.4 * pi * n)) for n in range(5)]

FITS = BorePicture(
    *_SHIP, "post", 0.005, "fits", 0.00199, 0.1095, 0.4,
    tuple(
        _wire(number, name, 0.73, *_ROUND[number - 1], colour=colour)
        for number, (name, colour) in enumerate(
            [("running feed", "white"), ("beacon feed", "green"), ("strobe feed", "yellow"), ("negative", "black"), ("spare", "")], 1
        )
    ),
    0.0041, 0.00269,
)  # fmt: skip

# four in a square: the bundle is (1 + sqrt 2) times a wire across
TIGHT = BorePicture(
    "Tender, 1:50", "tender.post.toml", "post", 0.0022, "not found", 0.002414214, 0.826, 0.4,
    tuple(
        _wire(number, f"feed {number}", 1.0, x, y, colour=colour)
        for number, (x, y, colour) in enumerate([(0.5, 0.5, "red"), (-0.5, 0.5, "brown"), (-0.5, -0.5, "blue"), (0.5, -0.5, "grey")], 1)
    ),
    0.0, 0.0,
)  # fmt: skip

# a cable with thin leads about it, one of them with a colour that has no letters, and a wire that nobody knows
_THIN = [(1.28 * cos(pi * n / 7), 1.28 * sin(pi * n / 7)) for n in range(14)]
CABLE = BorePicture(
    "Dredger, 1:100", "dredger.post.toml", "crane arm", 0.006, "fits", 0.00268, 0.16, 0.4,
    (
        _wire(1, "ribbon", 2.0, 0.0, 0.0, kind="cable", wire="", holds=("deck", "cabin", "winch")),
        _wire(2, "earth", 0.4, 1.1, 0.9, colour="green/yellow", wire="own"),
        *(
            _wire(number, f"lamp {number // 2}", 0.12, x, y, kind="lead", leg="supply" if number % 2 else "return",
                  wire="enamel-0.10", colour=("red", "natural", "", "black")[number % 4])
            for number, (x, y) in enumerate(_THIN, 3) if number not in {4, 5}
        ),
    ),
    None, None, ("mystery feed",),
)  # fmt: skip

EMPTY = BorePicture("Buoy", "buoy.post.toml", "post", 0.003, "fits", 0.0, 0.0, 1.0, (), 0.003, 0.00218)

PICTURES = {
    "fits": (FITS,),
    "tight": (TIGHT,),
    "cable": (CABLE,),
    "empty": (EMPTY,),
    "several": (FITS, EMPTY),
}


def named(name: str) -> BorePicture:
    """A bore with the name in every place that comes from a file."""
    circles = (
        _wire(1, name, 1.0, -0.5, 0.0, colour=name, wire=name),
        _wire(2, name, 1.0, 0.5, 0.0, kind="cable", wire="", holds=(name, name)),
        _wire(3, name, 0.1, 0.0, 0.55, kind="lead", leg="supply", colour=name, wire=name),
    )
    return BorePicture(name, name, name, 0.005, "fits", 0.002, 0.1, 0.4, circles, None, None, (name,))
