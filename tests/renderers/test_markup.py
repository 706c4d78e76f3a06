"""Elements are escaped by construction, and nothing that runs or reaches out can be made of them."""

from __future__ import annotations

from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from postcheck.renderers.markup import el, markup
from tests.renderers.hostile import NAMES


def test_attributes_and_children() -> None:
    text = markup(
        el("g", el("circle", class_="bore", stroke_width=1.5, cx=2, cy=-0.0001, r=None), el("text", "a"))
    )
    assert text == '<g>\n <circle class="bore" stroke-width="1.5" cx="2" cy="0"/>\n <text>a</text>\n</g>\n'


@pytest.mark.parametrize("name", [*NAMES.values(), "<script>alert(1)</script>", "&lt;", "]]>", "\"'><x y='"])
def test_any_text_comes_back_as_it_was(name: str) -> None:
    # what XML 1.0 (5th edition, production 2) has no way to write comes back as the replacement character
    allowed = "".join(
        sign
        if sign in "\t\n\r"
        or 0x20 <= ord(sign) <= 0xD7FF
        or 0xE000 <= ord(sign) <= 0xFFFD
        or ord(sign) > 0xFFFF
        else "\ufffd"
        for sign in name
    )
    whole = ElementTree.fromstring(markup(el("p", name, title=name)).encode())
    assert (whole.text or "") == allowed
    # XML 1.0, 3.3.3: a reader makes blanks of line ends and tabs in attributes that are written as they stand
    assert whole.get("title", "").split() == allowed.split()
    assert list(whole) == []


@pytest.mark.parametrize(
    ("name", "attributes"),
    [
        ("script", {}), ("SCRIPT", {}), ("foreignObject", {}), ("iframe", {}), ("a b", {}), ("", {}), ("g><x", {}),
        ("g", {"onload": "x"}), ("g", {"ONCLICK": "x"}), ("g", {'a"b': "x"}), ("a", {"href": "javascript:x"}),
        ("image", {"href": "https://example.invalid/"}), ("use", {"xlink:href": "other.svg#a"}), ("g", {"": "x"}),
    ],
)  # fmt: skip
def test_what_runs_or_reaches_out_is_refused(name: str, attributes: dict[str, str]) -> None:
    with pytest.raises(ValueError, match="of ours"):
        el(name, **attributes)


def test_a_style_sheet_cannot_end_early() -> None:
    assert markup(el("style", "a>b{x:y}")) == "<style>a>b{x:y}</style>\n"
    with pytest.raises(ValueError, match="style sheet"):
        el("style", "</style><b>")


def test_html_has_void_elements_and_closes_the_others() -> None:
    page = el("div", el("br"), el("p"), el("svg", el("circle", r=1)), el("a", "x", href="#top"))
    text = markup(page, html=True)
    assert (
        text
        == '<div>\n <br>\n <p></p>\n <svg>\n  <circle r="1"></circle>\n </svg>\n <a href="#top">x</a>\n</div>\n'
    )
    opened: list[str] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: object) -> None:
            opened.append(tag)

        def handle_endtag(self, tag: str) -> None:
            while opened.pop() != tag:
                pass

    Reader().feed(text)
    assert opened == []
    assert ElementTree.fromstring(markup(page)).tag == "div"
