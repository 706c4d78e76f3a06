"""`guide`: a page by its topic, as Markdown."""

from __future__ import annotations

from pkgutil import get_data

from postcheck.guidebook.topics import ALSO, PARTS, PROSE, belonging
from postcheck.plain import nearest, quoted
from postcheck.taken import takes

__all__ = ["guide", "topics", "unknown"]


def guide(topic: str | None = None) -> str:
    """A page of the guide as Markdown; without a topic the list of topics.

    A topic is one of the work (`"planning"`), a table of a build file (`"lamp"`), or what stands in tables (`"lead"`). The pages
    of tables are made from the models that read a build. Raises ValueError where there is no such topic.
    """
    if topic is None:
        return _contents()
    takes("guide", topic, str)
    name = ALSO.get(topic, topic)
    if reason := unknown(name):
        raise ValueError(reason)
    if name in PROSE:
        return "\n".join(_filled(_written(file)) for file in PROSE[name].files)
    from postcheck.checks.table import CHECKS  # noqa: PLC0415 - pages of prose need neither checks nor models
    from postcheck.guidebook.tables import made_page  # noqa: PLC0415

    lines = {check.name: check.line for check in CHECKS}
    return made_page(name, _opening(name), {check: lines[check] for check in belonging(name, lines)})


def topics() -> tuple[str, ...]:
    """Every topic, as listed; then the commands whose topic has another name."""
    from postcheck.guidebook.tables import TABLES  # noqa: PLC0415

    return (*PROSE, *TABLES, *PARTS, *ALSO)


def unknown(topic: str) -> str | None:
    """Why there is no page on a topic, in words; None where there is one."""
    if topic in PROSE or topic in PARTS:
        return None
    known = topics()
    if topic in known:
        return None
    near = nearest(topic, known)
    return f"there is no topic {quoted(topic)}" + (
        f"; did you mean '{near}'?" if near else "; `postcheck guide` lists them"
    )


def _contents() -> str:
    from postcheck.guidebook.tables import TABLES, line_of  # noqa: PLC0415

    groups = {
        "The work": {name: prose.line for name, prose in PROSE.items()},
        "Tables of a build file": {name: line_of(name) for name in TABLES},
        "What stands in tables": {name: line_of(name) for name in PARTS},
    }
    paragraphs = ["# The guide", "`postcheck guide TOPIC` shows one of these pages."]
    for head, lines in groups.items():
        paragraphs += [
            f"## {head}",
            "\n".join(f"- `{name}`: {_as_line(line)}" for name, line in lines.items()),
        ]
    paragraphs.append("`postcheck explain` lists the checks, `postcheck catalogue` what can be named.")
    return "\n\n".join(paragraphs) + "\n"


def _as_line(line: str) -> str:
    return (line[:1].lower() + line[1:]).removesuffix(".")


def _written(name: str) -> str:
    """The text of a page as it was written."""
    return (get_data("postcheck.guidebook", f"pages/{name}.md") or b"").decode()


def _opening(topic: str) -> str:
    """What was written to begin the page of a table with; most have nothing."""
    try:
        return _written(topic)
    except OSError:  # of a zipped package it is no FileNotFoundError
        return ""


def _filled(text: str) -> str:
    """A page with what is made from the models put in its place."""
    if "<!-- tables -->" in text:
        from postcheck.guidebook.tables import tables_list  # noqa: PLC0415

        text = text.replace("<!-- tables -->", tables_list())
    if "<!-- units -->" in text:
        from postcheck.guidebook.units import units_list  # noqa: PLC0415

        text = text.replace("<!-- units -->", units_list())
    return text
