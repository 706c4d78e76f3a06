"""Names handed out to leads, one each, at the least cost in all."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf


def cheapest(costs: Sequence[Sequence[int]]) -> tuple[int, list[list[int]]]:
    """The least cost of handing out as many names as there are leads, one each; and the least with each name forced.

    By shortest augmenting paths (Jonker and Volgenant 1987) for the best; then by the shortest cycles through each
    exchange of names (Floyd 1962): to force name j on lead i, i takes it from who has it, who takes another's, and so on.
    """
    size = len(costs)
    has = _assigned(costs)
    holder = {name: lead for lead, name in enumerate(has)}
    least = sum(costs[lead][name] for lead, name in enumerate(has))
    far = [[0 if i == k else costs[i][has[k]] - costs[i][has[i]] for k in range(size)] for i in range(size)]
    direct = [row[:] for row in far]
    for middle in range(size):
        through = far[middle]
        for row in far:
            to = row[middle]
            for end in range(size):
                row[end] = min(row[end], to + through[end])
    forced = [
        [least + direct[i][holder[name]] + far[holder[name]][i] for name in range(size)] for i in range(size)
    ]
    return least, forced


def _assigned(costs: Sequence[Sequence[int]]) -> list[int]:
    """Which name each lead has in the cheapest way."""
    size = len(costs)
    row_price, name_price = [0] * (size + 1), [0] * (size + 1)
    row_of, before = [0] * (size + 1), [0] * (size + 1)
    for row in range(1, size + 1):
        row_of[0], at = row, 0
        slack: list[float] = [inf] * (size + 1)
        used = [False] * (size + 1)
        while row_of[at]:
            used[at] = True
            lead, step, nxt = row_of[at], inf, 0
            for name in range(1, size + 1):
                if used[name]:
                    continue
                now = costs[lead - 1][name - 1] - row_price[lead] - name_price[name]
                if now < slack[name]:
                    slack[name], before[name] = now, at
                if slack[name] < step:
                    step, nxt = slack[name], name
            for name in range(size + 1):
                if used[name]:
                    row_price[row_of[name]] += int(step)
                    name_price[name] -= int(step)
                else:
                    slack[name] -= step
            at = nxt
        while at:
            row_of[at], at = row_of[before[at]], before[at]
    has = [0] * size
    for name in range(1, size + 1):
        has[row_of[name] - 1] = name - 1
    return has
