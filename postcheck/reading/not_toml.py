"""What the TOML reader complains of, in words of a builder and where it really begins; loaded when there is a mistake."""

from __future__ import annotations

import re

from postcheck.description.meant import by_another_name
from postcheck.description.models import SEVERAL
from postcheck.description.positions import line_column
from postcheck.description.toml_text import in_toml
from postcheck.plain import enumerated, harmless, quoted

# What opens and closes: texts and comments are stepped over, brackets and quotes that stay open are noted.
_TOKEN = re.compile(
    r'"""[^"\\]*(?:(?:\\[\s\S]|"(?!""))[^"\\]*)*"{3,5}'
    r"|'''[^']*(?:'(?!'')[^']*)*'{3,5}"
    r'|(?P<open>"""|\'\'\')'
    r'|"[^"\\\n]*(?:\\.[^"\\\n]*)*"'
    r"|'[^'\n]*+'"
    r"|#[^\n]*+|(?P<bracket>[\[\]{}])"
    r"|(?P<lone>[\"'])"
)
_ASSIGNED = re.compile(
    r"""(?:^|[,{]|\.)[ \t]*(?P<key>[A-Za-z0-9_-]+|"[^"]*")[ \t]*=[ \t]*(?P<value>[^\s"'\[{#,}\]][^#,}\]]*)"""
)

_ELEMENT = re.compile(r"""[^=]*=[ \t]*\[[ \t]*(?P<words>[A-Za-z][^\[\]"'=#]*)\].*""")
_CURLY = "\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"


# What a merge of two versions leaves where both changed the same lines.
_CONFLICT = re.compile(r"^(?:<{7}(?: [^\n]*)?|>{7}(?: [^\n]*)?|={7}|\|{7}(?: [^\n]*)?)$", re.MULTILINE)


def _conflict(text: str) -> tuple[str, str, int] | None:
    """Where two versions of the file were merged and both changed the same lines."""
    # a row of equals signs alone may be ruled in a long text
    marks = [
        mark
        for mark in _CONFLICT.finditer(text)
        if mark[0][0] in "<>" or (_open_at(text, mark.start()) or ("", 0))[0] not in {'"""', "'''"}
    ]
    if not marks:
        return None
    if not any(mark[0][0] in "<>" for mark in marks):
        return (
            "seven equals signs alone are the mark that a merge leaves between two versions",
            "delete this line, and see that what stands above and below it is not there twice",
            marks[0].start(),
        )
    lines = [line_column(text, mark.start())[0] for mark in marks]
    return (
        f"a merge left both versions here, between its marks on lines {enumerated([*map(str, lines)])}"
        if len(lines) > 1
        else "a merge left its mark here",
        "keep the lines that hold, and delete the others and the lines with the marks",
        marks[0].start(),
    )


def _open_at(text: str, end: int) -> tuple[str, int] | None:
    """Return the innermost bracket or many-line quote still open at `end`, and where it stands."""
    opened: list[tuple[str, int]] = []
    for token in _TOKEN.finditer(text, 0, end):
        if token["open"]:
            return token["open"], token.start()
        bracket = token["bracket"]
        if bracket in {"[", "{"}:
            opened.append((bracket, token.start()))
        elif bracket and opened:
            opened.pop()
    return opened[-1] if opened else None


def reworded(message: str, text: str, at: int) -> tuple[str, str | None, int]:
    """Return the parser's complaint in our words, a hint, and the offset it belongs to."""
    start = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    line = text[start : end if end >= 0 else len(text)]
    if conflict := _conflict(text):
        return conflict
    if message.startswith(("Cannot overwrite", "Duplicate inline", "Cannot declare", "Cannot redefine")):
        return _twice(message, text, line, start, at)
    if message.startswith("Cannot mutate"):
        return (
            "this table is already complete and takes no more keys",
            "put all its keys in one place: in the braces, or under one header",
            start,
        )
    opening = _open_at(text, at)
    if opening and opening[0] in {'"""', "'''"}:
        return (
            f"the text that opens here with {opening[0]} is never closed",
            f"close it with {opening[0]}",
            opening[1],
        )
    if not _open_at(text, start):
        from postcheck.reading.not_a_line import mistyped  # noqa: PLC0415 - a module of its own, for most files have no such line

        if (typed := mistyped(line)) is not None:
            return typed[0], typed[1], start + typed[2]
    if bare := _bare_value(line, at - start):
        return bare[0], bare[1], start + bare[2]
    if message in {"Unclosed array", "Unclosed inline table"} and opening:
        what, close = ("list", "]") if opening[0] == "[" else ("table", "}")
        if text[at : at + 1] in {"", "\n"} or text.count("\n", opening[1], at):
            return (
                f"the {what} that opens here is not closed",
                f'close it with "{close}", or add a comma',
                opening[1],
            )
        return f"a comma or a closing {close} is missing here", None, at
    return _plain_words(message, text, line, at)


def _twice(message: str, text: str, line: str, start: int, at: int) -> tuple[str, str | None, int]:
    if header := re.match(r"[ \t]*\[+[ \t]*([^\]\n]+?)[ \t]*\]", line):
        if (
            lone := re.search(
                rf"^[ \t]*\[+[ \t]*{re.escape(header[1])}[ \t]*\.[ \t]*([^\]\n]+?)[ \t]*\]",
                text[:start],
                re.MULTILINE,
            )
        ) and header[1] in SEVERAL:
            return _named_header(header[1], lone[1], lone.start())
        what, where = f"the table [{header[1]}]", start + header.start(1)
        again = re.compile(rf"^[ \t]*\[+[ \t]*{re.escape(header[1])}[ \t]*\]", re.MULTILINE)
        earlier = again.search(text, 0, start)
        first, _, name = header[1].partition(".")
        if name and first in SEVERAL:
            return _named_header(first, name, where)
        single = not line.lstrip().startswith("[[")
        if earlier and single == earlier[0].lstrip().startswith("[["):
            single_at, other = (start, earlier.start()) if single else (earlier.start(), start)
            return (
                f"[{harmless(header[1], 60)}] in single brackets cannot stand beside [[{harmless(header[1], 60)}]] on line {line_column(text, other)[0]}",
                "write both in double brackets: there may be several"
                if header[1] in SEVERAL
                else "write both alike",
                text.index("[", single_at) + 1,
            )
        if single and (several := by_another_name(header[1], SEVERAL)):
            return (
                f"{harmless(what, 60)} is given twice",
                f"write [[{several}]], in double brackets, each time: there may be several",
                where,
            )
        hint = (
            f"it stands on line {line_column(text, earlier.start())[0]} already; put its keys there, "
            "or give this one a name of its own"
            if earlier
            else "its keys are given elsewhere already; put them together"
        )
        return f"{harmless(what, 60)} is given twice", hint, where
    keys = list(
        re.finditer(
            r"""(?<![A-Za-z0-9_.-])(?P<key>[A-Za-z0-9_.-]++|"[^"\n]*"|'[^'\n]*')[ \t]*+=""", text[start:at]
        )
    )
    if not keys:
        return "a key is given twice", "leave one of the two out", at
    last = keys[-1] if message.startswith("Duplicate inline") else keys[0]
    return (
        f"the key {quoted(last['key'])} is given twice",
        "leave one of the two out",
        start + last.start("key"),
    )


def _named_header(table: str, name: str, at: int) -> tuple[str, str, int]:
    """What is said of [lamp.nose], where [[lamp]] belongs."""
    name = name.strip().strip("\"'")
    says = f"{harmless(f'[{table}.{name}]', 60)} is a header of one table, and there may be several of [[{table}]]"
    return says, f"write [[{table}]] and below it name = {harmless(in_toml(name))}", at


def _bare_value(line: str, at: int) -> tuple[str, str, int] | None:
    """Find a text without quotes, such as `length = 260 mm`, around the place of the complaint."""
    for match in _ASSIGNED.finditer(line):
        value, place = match["value"].strip(), match.start("value")
        if place - 1 <= at <= match.end("value"):
            key = harmless(match["key"], 60)
            if value in {"True", "False", "TRUE", "FALSE", "yes", "no", "on", "off"}:
                meant = "true" if value.lower() in {"true", "yes", "on"} else "false"
                return f"{quoted(value)} is not known here", f"write {key} = {meant}", place
            if re.match(r"[0-9]{4}-[0-9]", value):
                return f"{quoted(value)} is not a date", "write it as 2026-03-01", place
            if value[0] in _CURLY:
                return (
                    "the quotes here are curly",
                    f'write straight ones: "{harmless(value.strip(_CURLY), 60)}"',
                    place,
                )
            if "=" in value or value[-1] in "\"'" or not re.search(r"[A-Za-z%/°µμΩ ]", value):
                return None
            return f"{quoted(value)} stands without quotes", f'write {key} = "{harmless(value, 60)}"', place
    if len(line) < 200 and (element := _ELEMENT.fullmatch(line)):
        words = ", ".join(f'"{harmless(word.strip(), 60)}"' for word in element["words"].split(","))
        return "the texts in this list stand without quotes", f"write [{words}]", element.start("words")
    return None


_WORDS = {
    "Invalid value": (
        "a value is missing or not understood here",
        'texts and quantities stand in quotes, as in "12 V"',
    ),
    "Invalid statement": ("this line is not understood", 'write key = "value", or [table]'),
    "Expected '=' after a key in a key/value pair": (
        "there is no = after the key",
        'write key = "value"; a remark begins with #',
    ),
    "Invalid initial character for a key part": ("a key is missing or not understood here", None),
    "Expected ']' at the end of a table declaration": (
        "the header of the table is not closed",
        'close it with "]"',
    ),
    "Expected ']]' at the end of an array declaration": ("the header is not closed", 'close it with "]]"'),
    "Expected newline or end of document after a statement": (
        "there is more on this line than one value",
        "one key with its value, or one header, stands on a line",
    ),
    "Invalid date or datetime": ("this is not a date", "write it as 2026-03-01"),
    "Escaped character is not a Unicode scalar value": (
        "this escape is no character",
        "write the character itself",
    ),
    "Unescaped '\\' in a string": (
        "a single backslash stands in the text",
        "write two of them, or put the text in single quotes",
    ),
}


def _plain_words(message: str, text: str, line: str, at: int) -> tuple[str, str | None, int]:
    if inches := re.search(r'= *"([0-9/ .]+)""$', text[text.rfind("\n", 0, at) + 1 : at + 1]):
        return "the inch mark closes the text", f'write "{inches[1]} in"', at
    if message in _WORDS:
        says, hint = _WORDS[message]
        if says.startswith("the header") and (opening := line.find("[")) >= 0:
            return says, hint, at - len(text[text.rfind("\n", 0, at) + 1 : at]) + opening
        return says, hint, min(at, len(text))
    if message.startswith(("Illegal character", "Unterminated string", "Expected", "Found invalid")):
        if text[at : at + 1] in {"", "\n"}:
            lone = next(
                (token.start() for token in _TOKEN.finditer(text) if token["lone"]), min(at, len(text))
            )
            return "the text that opens here is not closed on its line", "add the missing quote", lone
        code = ord(text[at])
        return (
            f"the character {quoted(text[at])} (U+{code:04X}) may not stand here",
            "delete it" if code < 32 or code == 127 else None,
            at,
        )
    return "this is not TOML", None, min(at, len(text))


def first_deep(text: str, most: int) -> int | None:
    """Where lists, tables or dotted keys are first nested more than `most` deep."""
    # a dotted key or header with more parts than that
    part = r"""(?:[A-Za-z0-9_-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+\.[ \t]*+"""
    if dotted := re.search(rf"^[ \t\[]*+((?:{part}){{{most}}})", text, re.MULTILINE):
        return dotted.start(1)
    depth = 0
    for token in _TOKEN.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token["bracket"] or "", 0)
        if depth > most:
            return token.start()
    return None
