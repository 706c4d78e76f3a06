"""What an editor does to set a value in a TOML text: the old value gives way, or a line is added to its table."""

from __future__ import annotations

from collections.abc import Mapping

from postcheck.description.adding import MORE, Replacement, entry
from postcheck.description.lines import ending, line_end
from postcheck.description.positions import Span, is_header
from postcheck.description.problems import Path
from postcheck.description.toml_text import key_in_toml

__all__ = ["Replacement", "replacement"]


def replacement(text: str, spans: Mapping[Path, Span], path: Path, value: str) -> Replacement | None:
    """How `path` gets the value, written as TOML; `spans` are those of `locate(text)`.

    A last step "+" adds to a list. None where a value in its place would not do: the path is spread over a table or dotted
    keys, or its table is not in this text.
    """
    if path and path[-1] == MORE:
        return entry(text, spans, path[:-1], value)
    span = spans.get(path)
    if span is not None:
        whole = not is_header(text, span) and (isinstance(path[-1], int) or span.key_start < span.value_start)
        return Replacement(span.value_start, span.value_end, value) if whole else None
    table = spans.get(path[:-1])
    if table is None or not isinstance(path[-1], str):
        return None
    line = f"{key_in_toml(path[-1])} = {value}"
    if text.startswith("{", table.value_start):
        start = table.value_start + 1
        empty = not text[start : table.value_end - 1].strip()
        return Replacement(start, start, f" {line} " if empty else f" {line},")
    # a header further down that only implies this table is no place for its keys
    if is_header(text, table) and text[table.key_end : table.value_end].strip() in {"]", "]]"}:
        end = line_end(text, table.value_end)
        return Replacement(end, end, f"{ending(text)}{line}")
    return None
