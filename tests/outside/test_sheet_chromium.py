"""The sheet in a real browser: nothing said, nothing asked for, nothing that axe-core objects to, and as many pages as promised.

Outside truth: Chromium's own layout and print; axe-core's rules (WCAG 2.2 A and AA among them).
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import postcheck
from postcheck.checking import sheet_of
from postcheck.renderers.sheet import page_count, render
from tests.outside.browser import MARGIN, PAPERS, chromium, opened
from tests.renderers.hostile import NAMES
from tests.renderers.sheet.builds import hostile_sheet, long_build

if TYPE_CHECKING:
    from playwright.sync_api import Browser

    from postcheck.sheet import Sheet

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "example_builds").glob("*.post.toml"))
SOUND = sorted((ROOT / "tests" / "builds" / "sound").glob("*.post.toml"))
SPILLS = ROOT / "tests" / "builds" / "sound" / "cut-length-of-strip.post.toml"
ROOM = min(high for _, high in PAPERS.values()) - 2.0 * MARGIN
LITTLE = ROOM / 5.0  # a page with less on it, mm, is nearly empty
CARD = "About your model"  # is given away, and so stands alone


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 3
    assert len(SOUND) >= 50


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_an_example_opens_without_a_word_and_without_a_fault(
    path: Path, scheme: str, browser: Browser, tmp_path: Path
) -> None:
    page = tmp_path / "sheet.html"
    page.write_text(render(sheet_of(postcheck.load(path))), encoding="utf-8")
    seen = opened(browser, page, scheme)
    assert seen.said == []
    assert seen.asked == [page.as_uri()]
    assert seen.violations() == []


def prints_as_promised(text: str, promised: int, browser: Browser, folder: Path) -> None:
    page = folder / "sheet.html"
    page.write_text(text, encoding="utf-8")
    seen = opened(browser, page)
    assert seen.said == []
    assert max(seen.leaf_heights()) <= ROOM
    assert seen.too_wide() == []
    assert {paper: seen.printed_pages(paper) for paper in PAPERS} == dict.fromkeys(PAPERS, promised)
    seen.page.context.close()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_an_example_prints_on_the_promised_pages(path: Path, browser: Browser, tmp_path: Path) -> None:
    drawn = sheet_of(postcheck.load(path))
    prints_as_promised(render(drawn), page_count(drawn), browser, tmp_path)


@pytest.mark.parametrize("path", SOUND[::9], ids=lambda path: path.name)
def test_sound_builds_print_on_the_promised_pages(path: Path, browser: Browser, tmp_path: Path) -> None:
    drawn = sheet_of(postcheck.load(path))
    prints_as_promised(render(drawn), page_count(drawn), browser, tmp_path)


def test_a_long_build_goes_on_overleaf(browser: Browser, tmp_path: Path) -> None:
    drawn = sheet_of(long_build(90))
    assert page_count(drawn) > 10
    prints_as_promised(render(drawn), page_count(drawn), browser, tmp_path)


def little_on(drawn: Sheet, browser: Browser, folder: Path) -> list[tuple[str, float]]:
    """The pages that are nearly empty in print."""
    page = folder / "sheet.html"
    page.write_text(render(drawn), encoding="utf-8")
    seen = opened(browser, page)
    found = seen.written_heights()
    seen.page.context.close()
    assert len(found) == page_count(drawn)
    return [(heads, high) for heads, high in found if high < LITTLE and heads != CARD]


@pytest.mark.parametrize("path", [*EXAMPLES, *SOUND[::9], SPILLS], ids=lambda path: path.name)
def test_no_page_is_nearly_empty(path: Path, browser: Browser, tmp_path: Path) -> None:
    assert little_on(sheet_of(postcheck.load(path)), browser, tmp_path) == []


@pytest.mark.parametrize("lamps", [5, 20, 44, 60])
def test_no_page_of_many_lamps_is_nearly_empty(lamps: int, browser: Browser, tmp_path: Path) -> None:
    assert little_on(sheet_of(long_build(lamps)), browser, tmp_path) == []


def test_pages_that_are_filled_as_they_come_would_be_nearly_empty(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("postcheck.renderers.sheet.NEARLY_EMPTY", 0.0)
    assert little_on(sheet_of(postcheck.load(SPILLS)), browser, tmp_path) != []


@pytest.mark.parametrize("name", [NAMES[key] for key in ("long", "wide", "long words", "markup", "bidi")])
def test_hostile_names_stay_text_on_the_promised_pages(name: str, browser: Browser, tmp_path: Path) -> None:
    drawn = hostile_sheet(name)
    page = tmp_path / "sheet.html"
    prints_as_promised(render(drawn), page_count(drawn), browser, tmp_path)
    seen = opened(browser, page)
    assert seen.asked == [page.as_uri()]
    assert seen.page.evaluate("document.querySelectorAll('script,img,iframe,a').length") == 0
    seen.page.context.close()
