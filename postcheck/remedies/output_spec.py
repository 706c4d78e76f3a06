"""An output with something changed, and how it is written in the file."""

from __future__ import annotations

import contextlib

from postcheck.description import oneline
from postcheck.description.models.circuits import Output
from postcheck.description.problems import QuantityError
from postcheck.description.toml_text import in_toml
from postcheck.remedies.proposal import Change
from postcheck.remedies.table_spec import table_of


def changed_output(circuit: str, output: Output, **values: float) -> Change:
    """The output of a circuit with other values."""
    new = output.model_copy(update=values)
    return Change(("circuit", circuit, "output"), new, output_toml(new))


def output_toml(output: Output) -> str:
    """In one line where that reads back as the same output, else as a table."""
    table = table_of(output)
    words = [table["limit"]] if "limit" in table else []
    words += [f"{table['steady']} constant"] if "steady" in table else []
    words += [f"{key} {table[key]}" for key in ("compliance", "drop") if key in table]
    line = ", ".join(words)
    with contextlib.suppress(QuantityError):
        if oneline.output(line) == table:
            return in_toml(line)
    return in_toml(table)
