"""A real browser (Debian's chromium, headless) that opens a page of ours and tells what it sees.

It lives in a thread of its own: what drives it keeps a loop running, which would be in the way of
other tests of the same process.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any, TypeVar

from playwright.sync_api import Browser, Dialog, Page, Playwright, sync_playwright
from pypdf import PdfReader

from tests.pages.books import spaced

T = TypeVar("T")

A4_INSIDE = 703
"""Pixels (96 to the inch) of an A4 sheet between our margins: 210 mm - 2 × 12 mm."""

PHONE = 360
_MEASURES = (Path(__file__).parent / "measures.js").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Seen:
    """``wide``: what sticks out to the right; ``colours``: every pair of a text's colour and its
    ground, with the text, as (red, green, blue) of 0-255; ``asked_for``: addresses that the page
    wanted besides its own; ``alerts``: what a script would have said; ``rows``: the head over each
    bull's row and the text of it."""

    text: str
    title: str
    wide: list[str]
    colours: list[tuple[tuple[float, ...], tuple[float, ...], str]]
    elements: set[str]
    handlers: list[str]
    rows: list[tuple[str, str]]
    asked_for: list[str]
    alerts: list[str]


@dataclass(frozen=True)
class Printed:
    """``sheets``: the words of each sheet of paper; ``size``: of a sheet in millimetres."""

    sheets: list[str]
    size: tuple[int, int]


def _refused(dialog: Dialog, alerts: list[str]) -> None:
    alerts.append(dialog.message)
    dialog.dismiss()


def browser() -> str | None:
    """Where chromium is, if it is here."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


class Looker:
    """One browser. ``close`` it."""

    def __init__(self) -> None:
        self._thread = ThreadPoolExecutor(max_workers=1)
        self._seen: dict[tuple[Path, int, bool, bool], Seen] = {}
        self._driver: Playwright = self._do(lambda: sync_playwright().start())
        self._browser: Browser = self._do(self._launch)

    def _launch(self) -> Browser:
        return self._driver.chromium.launch(
            executable_path=browser(),
            args=["--no-sandbox", "--disable-background-networking", "--disable-component-update"],
        )

    def _do(self, work: Callable[[], T]) -> T:
        return self._thread.submit(work).result()

    def close(self) -> None:
        self._do(self._browser.close)
        self._do(self._driver.stop)
        self._thread.shutdown()

    def look(
        self, path: Path, *, width: int = PHONE, dark: bool = False, paper: bool = False
    ) -> Seen:
        """Open a page ``width`` pixels wide. ``paper``: as it is laid out to be printed. A page
        looked at in the same way before is not opened again."""
        way = (path, width, dark, paper)
        if way not in self._seen:
            self._seen[way] = self._do(lambda: self._look(path, width, dark=dark, paper=paper))
        return self._seen[way]

    def print(self, path: Path) -> Printed:
        """Print a page to PDF, in the format that it asks for itself."""
        return self._do(lambda: self._print(path))

    def picture(self, path: Path, of: Path, *, width: int, height: int) -> None:
        """Write the head of a page, so many pixels of it, into the file ``of``."""

        def taken() -> None:
            opened, _, _ = self._open(path, width, dark=False)
            opened.screenshot(path=of, clip={"x": 0, "y": 0, "width": width, "height": height})
            opened.close()

        self._do(taken)

    def _open(self, path: Path, width: int, *, dark: bool) -> tuple[Page, list[str], list[str]]:
        page = self._browser.new_page(
            viewport={"width": width, "height": 800}, color_scheme="dark" if dark else "light"
        )
        own = path.resolve().as_uri()
        asked: list[str] = []
        alerts: list[str] = []
        page.on("request", lambda request: asked.append(request.url))
        page.on("dialog", lambda dialog: _refused(dialog, alerts))
        page.goto(own)
        return page, [url for url in asked if url != own], alerts

    def _look(self, path: Path, width: int, *, dark: bool, paper: bool) -> Seen:
        page, asked, alerts = self._open(path, width, dark=dark)
        try:
            if paper:
                page.emulate_media(media="print")
            seen: dict[str, Any] = page.evaluate(_MEASURES)
        finally:
            page.close()
        return Seen(
            text=spaced(seen["text"]),
            title=seen["title"],
            wide=seen["wide"],
            colours=[(tuple(c[0]), tuple(c[1]), c[2]) for c in seen["colours"]],
            elements=set(seen["elements"]),
            handlers=seen["handlers"],
            rows=[(head, row) for head, row in seen["rows"]],
            asked_for=asked,
            alerts=alerts,
        )

    def _print(self, path: Path) -> Printed:
        page, _, _ = self._open(path, 1000, dark=True)  # paper is white, whatever the screen is
        try:
            data = page.pdf(prefer_css_page_size=True, tagged=False)
        finally:
            page.close()
        sheets = PdfReader(BytesIO(data)).pages
        box = sheets[0].mediabox
        millimetres = 25.4 / 72
        size = (round(float(box.width) * millimetres), round(float(box.height) * millimetres))
        return Printed([sheet.extract_text() for sheet in sheets], size)
