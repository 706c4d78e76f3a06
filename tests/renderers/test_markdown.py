"""Any text comes out of Markdown as it went in: cmark-gfm, the renderer of GitHub's dialect, is the judge."""

from __future__ import annotations

import html
import re

import cmarkgfm
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from postcheck.renderers.markdown import plain

PIECES = [
    "http://a.example/x", "HTTPS://a.b", "ftp://a.example", "www.a.example", "WWW.A.example", "a.b@c.example", "mailto:a@b.example",
    "xmpp:a@b.example/x", "@user", "    ", " ", "- ", "+ ", "* ", "1. ", "12) ", "# ", " #", "===", "---", "***", "> ", "`", "```", "~~~",
    "~~x~~", "_x_", "**x**", "[a](b)", "![a](b)", "[x]", "<b>", "<http://a.b>", "<!-- x -->", "&amp;", "&#64;", "|", " | ", ":-", "\\", "a",
    "lamp", "12 V", "\u00a0", "é", "灯", "+44", "://", "www.", ":", "!", "(", ")", "'", '"',
]  # fmt: skip
texts = st.lists(st.sampled_from(PIECES), min_size=1, max_size=6).map("".join)


def shown(markdown: str) -> str:
    """The page with its text as it is read, and no blanks: how many of them are shown is the browser's."""
    page = cmarkgfm.github_flavored_markdown_to_html(markdown).replace("<!-- raw HTML omitted -->", "")
    return re.sub(r"\s+", "", html.unescape(page))


@settings(max_examples=400, derandomize=True, database=None)
@given(texts.filter(str.strip))
@example("http://a.example")
@example("a.b@c.example")
@example("    four blanks")
@example("\u00a0\u00a0\u00a0\u00a0four blanks")
def test_nothing_in_a_text_comes_alive(text: str) -> None:
    said, written = re.sub(r"\s+", "", text), plain(text)
    assert shown(written) == f"<p>{said}</p>"
    assert shown(f"- {written}") == f"<ul><li>{said}</li></ul>"
    assert shown(f"# {written}") == f"<h1>{said}</h1>"
    table = shown(f"| a |\n| --- |\n| {written} |")
    assert table.partition("<tbody>")[2].partition("</tbody>")[0] == f"<tr><td>{said}</td></tr>"


@pytest.mark.parametrize("text", ["port running lamp", "main+", "12 V, 5 %", "nose (0402)", "a: b"])
def test_an_ordinary_text_is_left_alone(text: str) -> None:
    assert plain(text) == text
