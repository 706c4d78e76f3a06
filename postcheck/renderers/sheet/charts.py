"""The voltage of each circuit from its supply to its farthest lamp, and the load of each supply, as drawings."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil, floor, log10

from postcheck.renderers.figures import show
from postcheck.renderers.markup import Element, el
from postcheck.renderers.measure import cut
from postcheck.renderers.sheet import words
from postcheck.renderers.sheet.pages import WIDE, Block, Cell, Column, Table, heading, prose
from postcheck.sheet import Budget, CircuitPath

_LEFT, _RIGHT, _TOP, _HIGH = 16.0, 44.0, 5.0, 32.0
_PLOT = WIDE - _LEFT - _RIGHT
_TICKS = 4
_SMALL = 2.8
_NAMES = 26.0  # of a point, below the axis


# A line that falls by no more than this looks flat, whatever its scale: a row says it better, V.
_FLAT = 0.016


def paths(given: tuple[CircuitPath, ...]) -> Iterator[Block | Table]:
    """A plot for each circuit, and a row for each that loses hardly anything."""
    if not given:
        yield prose("This is shown for lamps that lie behind a conductor: the build has none.")
        return
    flat = [path for path in given if path.lost <= _FLAT + 1e-9]
    falling = [path for path in given if path.lost > _FLAT + 1e-9]
    yield prose(
        "Volts between a circuit's two lines, along its conductors from the supply to the lamp that gets the fewest, with everything on. The scale does not begin at zero.",
        class_="lead",
        keep=True,
    )
    if flat:
        yield Table(
            "Circuits that lose hardly anything",
            (Column("Circuit", 62.0), Column("To", 54.0), Column("Begins with", 24.0), Column("Lost", 20.0), Column("Dice take", 26.0)),
            tuple(tuple(Cell.of(said) for said in words.path_row(path)) for path in flat),
        )  # fmt: skip
    for path in falling:
        names = ", ".join(words.text(name) for name in (path.circuit, *path.alike))
        yield heading(names)
        yield prose(" ".join(words.circuit_path(path)), keep=True)
        yield Block(_plot(path), _TOP + _HIGH + 13.0)


def _plot(path: CircuitPath) -> Element:
    volts = [point.volts for point in path.points]
    low, high, step = _scale(min(volts), max(volts))
    far = path.points[-1].metres or 1.0

    def at(metres: float, value: float) -> tuple[float, float]:
        return _LEFT + metres / far * _PLOT, _TOP + (high - value) / (high - low) * _HIGH

    parts: list[Element] = []
    for number in range(round((high - low) / step) + 1):
        value = low + number * step
        _, y = at(0.0, value)
        parts.append(el("path", class_="c-grid", d=f"M{_LEFT:.2f} {y:.2f}h{_PLOT:.2f}"))
        parts.append(
            el("text", _volts(value, step), class_="c-tick", x=_LEFT - 1.5, y=y + 1.0, font_size=_SMALL, text_anchor="end")
        )  # fmt: skip
    line = "L".join(f"{x:.2f} {y:.2f}" for x, y in (at(point.metres, point.volts) for point in path.points))
    parts.append(el("path", class_="c-line", d=f"M{line}"))
    parts += _points(path, at, step)
    description = ", ".join(f"{words.text(p.name, 60)} {show(p.volts, 'V')}" for p in path.points)
    return el(
        "svg", el("title", f"Voltage of {words.text(path.circuit)} on its way"), el("desc", description), *parts,
        viewBox=f"0 0 {WIDE:.0f} {_TOP + _HIGH + 12.0:.1f}", class_="chart", role="img",
        aria_label=f"Voltage of {words.text(path.circuit)} on its way: {description}",
    )  # fmt: skip


def _points(
    path: CircuitPath, at: Callable[[float, float], tuple[float, float]], step: float
) -> Iterator[Element]:
    """Dots with their volts, and the names of the places below, as many as have room."""
    taken = -_NAMES
    for number, point in enumerate(path.points):
        x, y = at(point.metres, point.volts)
        yield el("circle", class_="c-dot", cx=x, cy=y, r=1.1)
        last = number == len(path.points) - 1
        shown = _volts(point.volts, step / 10.0)
        said = f"{words.text(point.name, 60)}, {shown}"
        if last:
            yield el("text", shown, class_="c-name", x=x + 2.5, y=y + 1.0, font_size=_SMALL)  # fmt: skip
            yield el("text", cut(words.text(point.name, 60), _SMALL, _RIGHT - 4.0), class_="c-name", x=x + 2.5, y=y + 4.6, font_size=_SMALL)  # fmt: skip
            continue
        row = 0 if x - taken >= _NAMES else 1
        taken = x if row == 0 else taken
        base = _TOP + _HIGH + 4.5 + 3.6 * row
        yield el("path", class_="c-drop", d=f"M{x:.2f} {y:.2f}V{base - 2.6:.2f}")
        yield el("text", cut(said, _SMALL, _PLOT + _RIGHT), class_="c-name", x=x, y=base, font_size=_SMALL)


def _volts(value: float, step: float) -> str:
    """Volts with as many decimals as tell one step from the next."""
    return f"{value:.{max(0, -floor(log10(step) + 1e-9))}f} V"


def _scale(low: float, high: float) -> tuple[float, float, float]:
    """From where to where, and in which steps, so that round numbers stand at the lines."""
    span = max(high - low, abs(high) * 1e-3, 1e-3)
    raw = span / _TICKS
    power = 10.0 ** floor(log10(raw))
    step = next(power * factor for factor in (1.0, 2.0, 5.0, 10.0) if power * factor >= raw)
    bottom, top = floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step
    return bottom, top if top > bottom else bottom + step, step


def budgets(given: tuple[Budget, ...]) -> Iterator[Block | Table]:
    """A bar and a table for each supply."""
    for budget in given:
        yield heading(f"{words.text(budget.name)}: {budget.kind}, {show(budget.volts, 'V')}")
        if budget.rated:
            yield Block(_bar(budget, budget.rated), 15.0, keep=True)
        for said in words.budget(budget):
            yield prose(said, class_="stop" if said.startswith(words.COIN) else "", keep=bool(budget.shares))
        if budget.shares:
            yield Table(
                f"What {words.text(budget.name)} feeds",
                (Column("Takes", 90.0), Column("usually", 48.0), Column("at most", 48.0)),
                tuple(
                    (
                        Cell.of(f"{part.kind} {words.text(part.name)}"),
                        Cell.of(show(part.nominal, "A")),
                        Cell.of(show(part.highest, "A")),
                    )
                    for part in budget.shares
                ),
            )


def _bar(budget: Budget, rated: float) -> Element:
    """The load against the rating: usual, most, and the line that is not to be passed."""
    whole = max(rated, budget.highest) or 1.0
    wide = WIDE - 2.0

    def x(amps: float) -> float:
        return 1.0 + amps / whole * wide

    limit = f"{show(budget.most_share, 'share')} of the rating" if budget.most_share < 1.0 else "the rating"
    description = (
        f"{show(budget.nominal, 'A')} usually, {show(budget.highest, 'A')} at most, of {show(rated, 'A')}"
    )
    return el(
        "svg", el("title", f"Load of {words.text(budget.name)}"), el("desc", description),
        el("rect", class_="c-frame", x=1.0, y=3.0, width=x(rated) - 1.0, height=6.0),
        el("rect", class_="c-most", x=1.0, y=3.0, width=x(budget.highest) - 1.0, height=6.0),
        el("rect", class_="c-usual", x=1.0, y=3.0, width=x(budget.nominal) - 1.0, height=6.0),
        el("path", class_="c-limit", d=f"M{x(rated * budget.most_share):.2f} 1.6V10.4"),
        el("text", f"filled: usual; dashed: at most; line: {limit}", class_="c-name", x=1.0, y=13.2, font_size=_SMALL),
        viewBox=f"0 0 {WIDE:.0f} 14", class_="chart", role="img", aria_label=f"Load of {words.text(budget.name)}: {description}",
    )  # fmt: skip
