"""What people wrote stands as they wrote it on every screen, page and text: no markup is read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from rich.style import Style

from readiness.tui.app import ReadinessApp
from tests.cli.conftest import Run, run
from tests.cli.small_book import write
from tests.tui.conftest import without_waiting
from tests.tui.driver import board_of, make_app, press, screen_lines, settled, squeezed
from tests.tui.estate import ago, ahead, bull, desk_at, done, of
from tests.volume import sampled

__all__ = ["run", "without_waiting"]

DAY = "2026-04-03"
MARKUPS = (
    "[bold]x[/]", "[@click=app.quit]y[/]", "[/]z[[", "$accent[red]w", "[link=file:///etc/passwd]l[/link]",
    "<b>&amp;</b>", "{{7*7}}{%x%}", "\"><img src=x onerror=alert(1)>", "`[a](b)`**c**",
)  # fmt: skip
TERMINAL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


def called(text: str) -> Iterator[dict[str, Any]]:
    """A bull, his farm, group and pen, whoever said something of him, what and with what."""
    farm = {"farm": text}
    yield {
        "kind": "group",
        "on": ago(200),
        "group": text,
        "turnout": ahead(6),
        "females": 40,
        **farm,
    }
    yield from bull(text, text, text, breed=text, pen=text, **farm)
    yield from done(text)
    yield of(text, "feet", 3, lifted=["LF"], note=text, by=text,
             findings=[{"foot": "LF", "claw": "outer", "code": "XX", "severity": 2}])  # fmt: skip
    yield of(text, "vet-exam", 0, outcome="satisfactory", examiner=text, note=text)
    yield of(
        text, "treatment", 0, product=text, given_by=text, reason=text, withdrawal_until=ahead(2)
    )
    yield of(
        text,
        "check",
        2,
        check="dung-sample",
        result="fail",
        laboratory=text,
        reading=text,
        note=text,
    )


# ---- screens -------------------------------------------------------------------------------------

SCREENS: dict[str, tuple[str, ...]] = {
    "board": (), "bull": ("enter",), "bull's history": ("enter", "h"), "crush": ("c", "slash", "LETTER", "enter"), "line": ("c", "l"),
    "diary": ("d",), "cover": ("v",), "turnout": ("t",), "figures": ("i",), "groups": ("g",), "find": ("slash",),
    "begin": ("w",), "the crush's list": ("c", "m"),
}  # fmt: skip


def actions(app: ReadinessApp) -> set[str]:
    """What a click somewhere on the screen would do, of all that is painted."""
    strips = app.screen._compositor.render_strips()
    styles: list[Style] = [segment.style for strip in strips for segment in strip if segment.style]
    return {str(value) for style in styles for value in (*style.meta.values(), style.link or "")}


@sampled("text", MARKUPS[:3], first=0)
async def test_no_markup_is_read_on_any_screen(tmp_path: Path, text: str) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", list(called(text))), poll=3600)
    seen = {}
    async with app.run_test(size=(120, 48)) as pilot:
        await settled(pilot)
        for name, keys in SCREENS.items():
            letter = next(each for each in text if each.isalnum())
            await press(pilot, *(letter if key == "LETTER" else key for key in keys))
            seen[name] = squeezed(app)
            assert not [line for line in screen_lines(app) if TERMINAL.search(line)], name
            assert not {each for each in actions(app) if "quit" in each or "passwd" in each}, name
            while app.screen is not board_of(app):
                await press(pilot, "escape")
                assert app.is_running, name
            await press(pilot, "escape")
    packed = "".join(text.split())
    for name in ("board", "bull", "crush", "diary", "cover", "turnout", "groups"):
        assert packed in seen[name], f"{name} shows it otherwise:\n{seen[name]}"


# ---- pages and texts -----------------------------------------------------------------------------

COMMANDS: dict[str, tuple[str, ...]] = {
    "board": ("board",), "bull": ("bull", "TAG"), "diary": ("diary",), "sheet": ("sheet",), "stats": ("stats",),
    "cover": ("cover",), "turnout": ("turnout", "TAG"), "visits": ("visits",),
}  # fmt: skip
PAGES = ("board", "bull", "diary", "sheet", "stats", "cover", "turnout")


class Elements(HTMLParser):
    """The elements of a page with the names of their attributes, in order, and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, ...]] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, *(name for name, _ in attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def said_of(run: Run, folder: Path, text: str, command: tuple[str, ...], *more: str) -> str:
    """What a command says of the book in which everything is called so."""
    book = folder / "book.duckdb"
    if not book.exists():
        lines = [{key: value for key, value in line.items()} for line in called(text)]
        ran = run("--book", book, "import", write(folder / "lines.jsonl", lines), "--on", DAY)
        assert ran.code == 0, ran.err
    named = [text if each == "TAG" else each for each in command]
    ran = run("--book", book, "--on", DAY, *named, *more)
    assert ran.code == 0, ran.err
    assert not TERMINAL.search(ran.out + ran.err)
    return ran.out


@sampled("text", MARKUPS, of=MARKUPS[7:8])
def test_a_page_has_the_elements_of_its_template_and_shows_the_text(
    run: Run, tmp_path: Path, text: str
) -> None:
    (tmp_path / "plain").mkdir()
    (tmp_path / "odd").mkdir()
    for name in PAGES:
        calm = Elements(said_of(run, tmp_path / "plain", "Calm", COMMANDS[name], "--html", "-"))
        odd = Elements(said_of(run, tmp_path / "odd", text, COMMANDS[name], "--html", "-"))
        assert odd.elements == calm.elements, name
        assert name == "stats" or text in odd.text, name


@sampled("text", MARKUPS, of=MARKUPS[:1])
def test_a_text_shows_it_as_it_was_written(run: Run, tmp_path: Path, text: str) -> None:
    for name, command in COMMANDS.items():
        told = said_of(run, tmp_path, text, command)
        if name not in ("stats", "visits"):
            assert "".join(text.split()) in "".join(told.split()), name
