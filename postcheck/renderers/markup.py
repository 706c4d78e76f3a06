"""Elements of HTML and SVG as values. What comes from a file can only become text: escaped by construction.

`el("text", "a < b", x=4, text_anchor="middle")` is one element; children are elements or plain text, and None is left
out. Names are checked, scripts, handlers and outside addresses refused, so that no mistake of ours lets them in either.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

Value = str | int | float | None

_VOID = frozenset({"area", "br", "col", "hr", "img", "input", "link", "meta", "source", "track", "wbr"})
_REFUSED = frozenset({"script", "iframe", "object", "embed", "base", "foreignobject"})
_INLINE = frozenset({"text", "tspan", "p", "td", "th", "li", "span"})
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9:-]*")
# XML 1.0 has no way to write these, not even escaped
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Element:
    """One element: name, attributes in their order, children."""

    name: str
    attributes: tuple[tuple[str, str], ...]
    children: tuple[Element | str, ...]


def el(name: str, *children: Element | str | None, **attributes: Value) -> Element:
    """An element. An underscore in an attribute's name stands for a dash, one at its end for nothing (`class_`)."""
    if not _NAME.fullmatch(name) or name.lower() in _REFUSED:
        raise ValueError(f"no element of ours: {name!r}")
    kept = tuple(child for child in children if child is not None)
    if name == "style" and any(not isinstance(child, str) or re.search("[<&]", child) for child in kept):
        raise ValueError("a style sheet is plain text without < and &: it is written as it stands")
    pairs = [(key.rstrip("_").replace("_", "-"), value) for key, value in attributes.items()]
    return Element(name, tuple((key, _value(key, value)) for key, value in pairs if value is not None), kept)


def _value(key: str, value: str | float) -> str:
    text = (
        value
        if isinstance(value, str)
        else f"{value:.3f}".rstrip("0").rstrip(".")
        if value % 1
        else f"{value:.0f}"
    )
    if not _NAME.fullmatch(key) or key.lower().startswith("on"):
        raise ValueError(f"no attribute of ours: {key!r}")
    if key.lower() in {"href", "src", "xlink:href"} and not text.startswith("#"):
        raise ValueError("a page of ours stands alone: it refers to nothing outside itself")
    return "0" if text == "-0" else text


def markup(element: Element, *, html: bool = False) -> str:
    """The text of an element, as XML that is HTML too, or as HTML; a line for each element that holds no text."""
    return "".join(_written(element, html, 0)) + "\n"


def document(element: Element) -> str:
    """The text of an element as an XML document."""
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + markup(element)


def _written(element: Element, html: bool, depth: int) -> Iterator[str]:
    attributes = "".join(f' {key}="{_escaped(value)}"' for key, value in element.attributes)
    yield f"<{element.name}{attributes}"
    if not element.children and (element.name in _VOID or not html):
        yield ">" if html else "/>"
        return
    yield ">"
    # a line each, but not where blanks would be drawn
    nested = element.name not in _INLINE and all(isinstance(child, Element) for child in element.children)
    nested = nested and bool(element.children)
    for child in element.children:
        if nested:
            yield "\n" + " " * (depth + 1)
        if isinstance(child, Element):
            yield from _written(child, html, depth + 1)
        else:
            yield child if element.name == "style" else _escaped(child)
    yield "\n" + " " * depth + f"</{element.name}>" if nested else f"</{element.name}>"


def _escaped(text: str) -> str:
    text = _NO_XML.sub("\ufffd", text)
    for sign, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("\r", "&#13;")):
        text = text.replace(sign, entity)
    return text
