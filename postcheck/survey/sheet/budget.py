"""What each supply gives, and to whom."""

from __future__ import annotations

from collections.abc import Iterator

from postcheck.description.cells import is_coin
from postcheck.sheet import Budget, Share
from postcheck.survey import Survey


def budgets(survey: Survey) -> tuple[Budget, ...]:
    """Every supply with its load and what makes it up, the largest first."""
    build, electrics = survey.build, survey.electrics
    return tuple(
        Budget(
            name=name,
            kind=build.supply[name].kind,
            volts=supply.volts,
            nominal=supply.nominal,
            highest=supply.highest,
            average=supply.average,
            rated=supply.rated,
            fuse=fuse.rated if (fuse := build.supply[name].fuse) is not None else None,
            # a battery is judged by all that its cells are rated for
            most_share=1.0
            if build.supply[name].kind == "battery"
            else survey.limits.value("supply.load.caution"),
            shares=tuple(sorted(_shares(survey, name), key=lambda share: (-share.highest, share.name))),
            lasts=survey.batteries[name].seconds if name in survey.batteries else None,
            coin=is_coin(build.supply[name]),
        )
        for name, supply in electrics.supplies.items()
    )


def _shares(survey: Survey, name: str) -> Iterator[Share]:
    build, electrics = survey.build, survey.electrics
    for circuit, figures in electrics.circuits.items():
        if survey.wiring.drivers[circuit].supply == name:
            yield Share(circuit, "circuit", figures.nominal, figures.highest)
    for board, said in build.board.items():
        if said.supply == name and said.idle:
            yield Share(board, "board", said.idle, said.idle)
    for other, supply in build.supply.items():
        if supply.fed_by == name:
            yield Share(other, "converter", *electrics.drawn.get(other, (0.0, 0.0)))
