"""A printed page taken apart, as a browser's parser would: pages, tables with their columns, drawings, what is said."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from postcheck.renderers.sheet import render
from postcheck.renderers.sheet.pages import WIDE
from postcheck.sheet import Sheet

_VOID = re.compile(r"<(meta|col|br)\b([^>]*)>")


def leaves(sheet: Sheet) -> list[ElementTree.Element]:
    """The pages of a sheet."""
    text = _VOID.sub(r"<\1\2/>", render(sheet).removeprefix("<!DOCTYPE html>"))
    return [each for each in ElementTree.fromstring(text).iter("section") if each.get("class") == "leaf"]


def said(element: ElementTree.Element) -> str:
    """All that stands in it, titles and descriptions of drawings left out."""
    if element.tag in ("title", "desc"):
        return ""
    inside = (text for child in element for text in (said(child), child.tail or ""))
    return " ".join(" ".join([element.text or "", *inside]).split())


def columns(table: ElementTree.Element) -> dict[str, float]:
    """The columns of a table: each heading with its width on paper, mm."""
    heads = [said(head) for head in table.iter("th") if head.get("scope") == "col"]
    wide = [float(re.findall(r"[0-9.]+", col.attrib["style"])[0]) * WIDE / 100.0 for col in table.iter("col")]
    return dict(zip(heads, wide, strict=True))


def marked(element: ElementTree.Element, class_: str) -> list[ElementTree.Element]:
    """All in it of a class."""
    return [each for each in element.iter() if class_ in (each.get("class") or "").split()]
