"""What would free a wish that has no plan: changes of the wish itself, each tried."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from postcheck import catalogue
from postcheck.description.frozen import FrozenDict
from postcheck.description.models import Build
from postcheck.description.naming import passages_of
from postcheck.description.printing import format_quantity
from postcheck.description.units import Dimension
from postcheck.physics import bundle
from postcheck.planned import Freed
from postcheck.planner.routes import Routes
from postcheck.remedies.proposal import Change, changed
from postcheck.report import Finding
from postcheck.survey import Survey
from postcheck.survey.post.bores import wide_bore
from postcheck.wiring.data import wire_data

# Currents that are wanted are tried at these shares of what is asked for.
LESS = (0.75, 0.5, 0.33, 0.2)
# Bores are told to a tenth of a millimetre, m.
TENTH = 1e-4

Works = Callable[[Build], bool]


def frees(wish: Build, after: Survey, blocks: tuple[Finding, ...], works: Works) -> Iterator[Freed]:
    """The smallest change of each kind with which a plan is found. `after`: the best wiring that does not pass."""
    checks = {finding.check for finding in blocks}
    if any(check.startswith("passage.") for check in checks):
        yield from _bores(wish, after, blocks, works)
    yield from _boards(wish, works)
    if any(
        check.startswith(("place.", "part.", "lamp.", "output.", "board.", "supply.", "circuit.", "line."))
        for check in checks
    ):
        yield from _currents(wish, works)


def _bores(wish: Build, after: Survey, blocks: tuple[Finding, ...], works: Works) -> Iterator[Freed]:
    for name in dict.fromkeys(
        finding.subject.name for finding in blocks if finding.check.startswith("passage.")
    ):
        figures = after.passages.get(name)
        if figures is None:
            continue
        bore = wide_bore(figures, after.limits)
        if bore <= figures.passage.bore:
            continue
        path = ("post", "bore") if name == "post" and wish.post is not None else ("passage", name, "bore")

        def at(tenths: int, path: tuple[str, ...] = path) -> bool:
            return works(changed(wish, (Change(path, tenths * TENTH, None),)))

        high, low = round(bore / TENTH), int(figures.passage.bore / TENTH + 1e-6)
        if at(high):
            while high - low > max(1, high // 20):
                middle = (low + high) // 2
                low, high = (low, middle) if at(middle) else (middle, high)
            bore = high * TENTH
            yield Freed(
                f"With a bore of {format_quantity(bore, Dimension.LENGTH)} in {'the post' if name == 'post' else repr(name)} there is a plan."
            )


def _boards(wish: Build, works: Works) -> Iterator[Freed]:
    for place, moved in boards_moved(wish):
        if works(moved):
            yield Freed(f"With the board at '{place}' there is a plan.")
            return


def boards_moved(wish: Build) -> Iterator[tuple[str, Build]]:
    """The wish with all its boards at another place where a hand gets at them."""
    routes = Routes(wish)
    if not wish.board:
        return
    for place in wish.place:
        if routes.reachable(place) and any(board.place != place for board in wish.board.values()):
            boards = {name: board.model_copy(update={"place": place}) for name, board in wish.board.items()}
            yield place, wish.model_copy(update={"board": FrozenDict(boards)})


def _currents(wish: Build, works: Works) -> Iterator[Freed]:
    wanted = [number for number, lamp in enumerate(wish.lamp) if lamp.wanted is not None]
    if not wanted:
        return
    for share in LESS:
        lamps = tuple(
            lamp.model_copy(update={"wanted": (share * lamp.wanted[0], share * lamp.wanted[1])})
            if lamp.wanted is not None
            else lamp
            for lamp in wish.lamp
        )
        if works(wish.model_copy(update={"lamp": lamps})):
            first = (wish.lamp[wanted[0]].wanted or (0.0, 0.0))[1]
            now, was = (format_quantity(amps, Dimension.CURRENT) for amps in (share * first, first))
            yield Freed(
                f"With {now} instead of {was}, and the others that are wanted likewise, there is a plan."
            )
            return


def never_fits(wish: Build, least: dict[str, int]) -> frozenset[str]:
    """The passages through which even the fewest conductors do not go, all of the thinnest wire there is: proven."""
    stock = wish.stock
    names = (
        [*stock.wires, *stock.leads]
        if stock.wires and stock.leads
        else [*catalogue.names("wire"), *wish.wire]
    )
    thinnest = min(wire_data(wish, name).max_diameter for name in names)
    return frozenset(
        name
        for name, passage in passages_of(wish).items()
        if least.get(name) and bundle.pack([thinnest] * least[name], passage.bore).verdict == bundle.CANNOT
    )
