"""Lines that look nearly like TOML: a name without its quotes, a colon for an equals sign, a comment of another language.

Each is put as it should be typed.
"""

from __future__ import annotations

import re

from postcheck.description.keys import fields_at
from postcheck.description.meant import by_another_name
from postcheck.description.models import SEVERAL, Build
from postcheck.description.toml_text import in_toml, key_in_toml
from postcheck.plain import harmless, quoted

__all__ = ["mistyped"]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_VALUE = r"""(?:"[^"]*"|'[^']*'|true|false|[0-9]+|\[[^\]]*\]|\{.*\})"""
_HEADER = re.compile(r"""[ \t]*(?P<open>\[{1,2})(?P<inside>[^\[\]#=]*)(?P<close>\]*)[ \t]*(?:#.*)?""")
_ASSIGNED = re.compile(r"""(?P<before>[ \t]*)(?P<key>[^\s="'\[\]{}#,:;][^="'\[\]{}#,:;]*?)[ \t]*=(?!=)""")
_OTHER_SIGN = re.compile(
    rf"""(?P<before>[ \t]*)(?P<key>[A-Za-z0-9_-]+)[ \t]*(?P<sign>:=|==|:|=>|)[ \t]*(?P<value>{_VALUE})[ \t]*(?:#.*)?"""
)
_ENDED = re.compile(
    rf"""(?P<line>[ \t]*[A-Za-z0-9_-]+[ \t]*=[ \t]*{_VALUE})[ \t]*(?P<rest>[,;.])[ \t]*(?:#.*)?"""
)
_COMMENT = re.compile(
    r"""(?P<line>[^"']*|[^"']*(?:"[^"]*"|'[^']*')[^"']*?)(?P<sign>//|--|;|/\*)[ \t]*(?P<words>.*)"""
)
_LONE_END = re.compile(
    r"""[ \t]*(?P<key>[A-Za-z0-9_-]+)[ \t]*=[ \t]*(?P<value>[^\s"'\[{#][^"'#]*)(?P<quote>["'])[ \t]*(?:#.*)?"""
)
_TWO = re.compile(
    rf"""(?P<first>[ \t]*[A-Za-z0-9_-]+[ \t]*=[ \t]*{_VALUE})[ \t]*[,;]?[ \t]+(?P<second>[A-Za-z0-9_-]+[ \t]*=.*)"""
)
_SEVERAL_VALUES = re.compile(
    rf"""(?P<before>[ \t]*(?P<key>[A-Za-z0-9_-]+)[ \t]*=[ \t]*)(?P<values>{_VALUE}(?:[ \t]*,[ \t]*{_VALUE})+)[ \t]*,?[ \t]*(?:#.*)?"""
)
_INVISIBLE = re.compile("[\u00a0\u2007\u2009\u200b\u202f\ufeff]")


_LONGEST = 400


def mistyped(line: str) -> tuple[str, str, int] | None:
    """What is wrong with a line of a file, how it is typed, and the column where, from 0; None where it is nothing of these."""
    if len(line) > _LONGEST:
        return None
    for reader in (_invisible, _header, _comment, _key, _several, _two, _ended, _sign, _lone_end):
        if (found := reader(line)) is not None:
            return harmless(found[0], _LONGEST), harmless(found[1], _LONGEST), found[2]
    return None


def _shown(text: str) -> str:
    return harmless(text.strip(), 80)


def _invisible(line: str) -> tuple[str, str, int] | None:
    """A space that is none to TOML, as web pages and word processors have it, outside quotes."""
    bare = re.sub(r"""\"[^"]*"|'[^']*'""", lambda match: "x" * len(match[0]), line)
    match = _INVISIBLE.search(bare)
    if match is None:
        return None
    return (
        "there is a space here that is not an ordinary one (pasted from a web page?)",
        "delete it and type a space",
        match.start(),
    )


def _header(line: str) -> tuple[str, str, int] | None:
    match = _HEADER.fullmatch(line)
    if match is None:
        return None
    brackets, inside = match["open"], match["inside"].strip()
    if not inside:
        return None
    table, parts, name = _named(inside)
    at = line.index("[")
    if table in SEVERAL and name:
        return (
            f"[[{table}]] has its name on a line below",
            f"write [[{table}]] and below it name = {in_toml(name)}",
            at,
        )
    if table in SEVERAL or (not name and _BARE.fullmatch(inside)):
        right = f"[[{inside}]]" if inside in SEVERAL or len(brackets) == 2 else f"[{inside}]"
        if match["close"] == "]" * len(brackets):
            return None
        written = _shown(line.partition("#")[0])
        says = (
            f"the header {written} does not end as it begins"
            if match["close"]
            else "the header of the table is not closed"
        )
        return says, f"write {right}", at
    if not name:
        return None
    right = f"write [{table}.{key_in_toml(name)}]"
    if match["close"] != "]":
        return "the header of the table is not closed", right, at
    if parts == ".":
        return (
            f"the name {quoted(name)} needs quotes in a header",
            f"{right}; elsewhere it is {in_toml(name)}",
            at,
        )
    return f"a dot stands between {quoted(table)} and its name", right, at


def _named(inside: str) -> tuple[str, str, str]:
    """What is in a header: the table, what parts it from the name, and the name."""
    match = re.fullmatch(r"(?P<table>[A-Za-z0-9_-]+)[ \t]*(?P<parts>[.:/ \t])[ \t]*(?P<name>.+)", inside)
    if match is None:
        return inside, "", ""
    name = match["name"].strip().strip("\"'")
    return match["table"], match["parts"], name


def _comment(line: str) -> tuple[str, str, int] | None:
    match = _COMMENT.fullmatch(line)
    if match is None or (
        match["line"].strip() and "=" not in match["line"] and not match["line"].strip().startswith("[")
    ):
        return None
    if match["sign"] == ";" and not match["words"].strip():
        return None  # a line that ends in one
    words = re.sub(r"\*/[ \t]*$", "", match["words"]).strip()
    return (
        f"a comment begins with #, not with {match['sign']}",
        f"write # {_shown(words)}".rstrip(),
        match.start("sign"),
    )


def _key(line: str) -> tuple[str, str, int] | None:
    match = _ASSIGNED.match(line)
    if match is None or all(_BARE.fullmatch(part.strip()) for part in match["key"].split(".")):
        return None
    key = match["key"].strip()
    joined = re.sub(r"[ \t]+", "_", key).lower()
    known = _keys()
    if joined in known:
        return f"the key {quoted(key)} is written with an underscore", f"write {joined} =", match.start("key")
    if " " in key and (ours := by_another_name(key, known)):
        return (
            f"no key has a space in it, and {quoted(key)} is none",
            f"did you mean '{ours}'?",
            match.start("key"),
        )
    if "." in key:
        first, _, rest = key.partition(".")
        right = ".".join([first.strip(), *(key_in_toml(part.strip()) for part in rest.split("."))])
    else:
        right = key_in_toml(key)
    return f"the name {quoted(key)} needs quotes in front of =", f"write {right} =", match.start("key")


def _keys() -> set[str]:
    """Every key of every table that a file may hold."""
    tables = [(), *((name,) for name in SEVERAL), ("build",), ("post",)]
    named = ("supply", "place", "board", "circuit", "passage", "wire", "lamp_kind", "strip_kind", "cable")
    paths = [*tables, *((name, 0) for name in SEVERAL), *((name, "NAME") for name in named)]
    return {key for path in paths for fields in fields_at(Build, path) for key in fields}


def _several(line: str) -> tuple[str, str, int] | None:
    match = _SEVERAL_VALUES.fullmatch(line)
    if match is None:
        return None
    values = ", ".join(re.findall(_VALUE, match["values"]))
    return (
        "several values stand on this line without brackets",
        f"write {match['key']} = [{_shown(values)}]",
        match.start("values"),
    )


def _two(line: str) -> tuple[str, str, int] | None:
    match = _TWO.fullmatch(line)
    if match is None:
        return None
    return (
        "two keys stand on one line",
        f"put {_shown(match['second'])} on a line of its own",
        match.start("second"),
    )


def _ended(line: str) -> tuple[str, str, int] | None:
    match = _ENDED.fullmatch(line)
    if match is None:
        return None
    return (
        f"nothing follows a value on its line, and this one ends in {match['rest']}",
        f"write {_shown(match['line'])}",
        match.start("rest"),
    )


def _sign(line: str) -> tuple[str, str, int] | None:
    match = _OTHER_SIGN.fullmatch(line)
    if match is None:
        return None
    sign = f"{match['sign']} stands" if match["sign"] else "nothing stands"
    return f"{sign} where = belongs", f"write {match['key']} = {_shown(match['value'])}", match.start("sign")


def _lone_end(line: str) -> tuple[str, str, int] | None:
    match = _LONE_END.fullmatch(line)
    if match is None:
        return None
    value = match["value"].strip()
    if re.fullmatch("[0-9 ./]+", value) and match["quote"] == '"':
        return "an inch mark is no quote", f'write {match["key"]} = "{value} in"', match.start("value")
    return (
        "the text lacks its first quote",
        f"write {match['key']} = {in_toml(value)}",
        match.start("value"),
    )
