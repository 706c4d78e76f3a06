"""Real Chromium (Debian package), driven over its own protocol by Playwright, with axe-core inside the page."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, sync_playwright

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 12.0  # mm, of @page
PX = 96.0 / 25.4  # a CSS millimetre


@dataclass
class Opened:
    """A page that is open, and everything that it said or asked for."""

    page: Page
    said: list[str] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)

    def violations(self) -> list[str]:
        """What axe-core objects to."""
        found = Axe().run(self.page).response["violations"]
        return [
            f"{rule['id']}: {node['target']} {node['failureSummary']}"
            for rule in found
            for node in rule["nodes"]
        ]

    def leaf_heights(self) -> list[float]:
        """How high each page's content is when printed, mm."""
        self.page.emulate_media(media="print")
        self.page.set_viewport_size({"width": round(186 * PX), "height": 900})
        pixels = self.page.evaluate(
            "Array.from(document.querySelectorAll('.leaf'), leaf => leaf.getBoundingClientRect().height)"
        )
        self.page.emulate_media(media="null")
        return [float(height) / PX for height in pixels]

    def written_heights(self) -> list[tuple[str, float]]:
        """Of each page its headings, and what stands between its head and its foot when printed, mm."""
        self.page.emulate_media(media="print")
        self.page.set_viewport_size({"width": round(186 * PX), "height": 900})
        found = self.page.evaluate(
            "Array.from(document.querySelectorAll('.leaf'), leaf => ["
            "Array.from(leaf.querySelectorAll('h2,.h2'), head => head.textContent).join('; '),"
            "leaf.querySelector('footer').getBoundingClientRect().top"
            " - leaf.querySelector('header').getBoundingClientRect().bottom])"
        )
        self.page.emulate_media(media="null")
        return [(str(heads), float(pixels) / PX) for heads, pixels in found]

    def too_wide(self) -> list[str]:
        """What is cut off at the right when printed."""
        self.page.emulate_media(media="print")
        self.page.set_viewport_size({"width": round(186 * PX), "height": 900})
        found = self.page.evaluate(
            "Array.from(document.querySelectorAll('p,td,th,h3,svg text'))"
            ".filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 2)"
            ".map(e => e.textContent.slice(0, 60))"
        )
        self.page.emulate_media(media="null")
        return [str(text) for text in found]

    def printed_pages(self, paper: str) -> int:
        """How many pages it prints on."""
        wide, high = PAPERS[paper]
        data = self.page.pdf(width=f"{wide}mm", height=f"{high}mm", print_background=True)
        return len(re.findall(rb"/Type\s*/Page\b(?!s)", data))


@contextmanager
def chromium() -> Iterator[Browser]:
    """The browser. It missing is an error, never a skip."""
    program = shutil.which("chromium")
    if program is None:
        raise RuntimeError("Chromium is needed to look at the sheet: apt-get install chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=["--no-sandbox"])
        yield browser
        browser.close()


def opened(browser: Browser, path: Path, scheme: str = "light") -> Opened:
    """A file in a window of its own, on a screen that is light or dark."""
    page = browser.new_context(color_scheme="dark" if scheme == "dark" else "light").new_page()
    seen = Opened(page)
    page.on("console", lambda message: seen.said.append(message.text))
    page.on("pageerror", lambda error: seen.said.append(str(error)))
    page.on("request", lambda request: seen.asked.append(request.url))
    page.goto(path.as_uri())
    return seen
