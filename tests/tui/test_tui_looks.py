"""Marks, words and colours: each state told apart without colour, without UTF-8, on any ground."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest
from rich.segment import Segment
from textual.color import Color

from readiness.tui.app import ReadinessApp
from readiness.tui.shared import looks
from readiness.tui.shared.keys import KeyLine
from readiness.tui.shared.looks import glyphs_for
from tests.tui.driver import make_app, press, resized, screen_lines, screen_text, settled
from tests.tui.estate import desk_at, estate

ON_GROUND = ("text", "quiet", "vermillion", "yellow", "sky", "orange")
# Okabe & Ito, "Color Universal Design" (2002/2008): vermillion, yellow, sky blue, orange.
OKABE_ITO = {
    "vermillion": (213, 94, 0),
    "yellow": (240, 228, 66),
    "sky": (86, 180, 233),
    "orange": (230, 159, 0),
}


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.1."""
    parts = [part / 255 for part in Color.parse(colour).rgb]
    red, green, blue = (
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.1: at least 4.5 for text."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_gives_the_published_extremes() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("theme", looks.PALETTES)
@pytest.mark.parametrize("colour", ON_GROUND)
def test_text_reads_on_the_ground(colour: str, theme: str) -> None:
    palette = looks.PALETTES[theme]
    assert contrast(getattr(palette, colour), palette.ground) >= 4.5


@pytest.mark.parametrize("name", OKABE_ITO)
def test_the_hues_are_okabe_and_itos(name: str) -> None:
    assert Color.parse(getattr(looks.PALETTES["dark"], name)).rgb == OKABE_ITO[name]


@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "latin-1", None, "no such encoding"])
def test_states_differ_by_sign_alone(encoding: str | None) -> None:
    glyphs = glyphs_for(encoding)
    states = ("reason", "checks", "go", "care")
    for one, other in combinations(states, 2):
        assert glyphs.sign(one) != glyphs.sign(other)
        assert looks.ROLES[one] != looks.ROLES[other]
    assert glyphs.late not in map(glyphs.sign, states)


@pytest.mark.parametrize("encoding", ["ascii", "ISO-8859-1"])
@pytest.mark.long
async def test_a_terminal_without_utf8_is_sent_nothing_it_cannot_show(
    tmp_path: Path, encoding: str
) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), encoding=encoding)
    async with app.run_test(size=(120, 60)) as pilot:
        await settled(pilot)
        text = screen_text(app)
        assert "# HOLD 00122 Tarn !" in text
        assert "o HOLD 00310" in text
        assert "* GO   00288" in text
        for keys in ((), ("down", "down", "down", "enter"), ("s",), ("escape", "question_mark"),
                     ("escape", "escape", "g"), ("escape", "w")):  # fmt: skip
            await press(pilot, *keys)
            screen_text(app).encode("ascii")
        await press(pilot, "escape", "enter")
        assert "# HOLD for a reason" in screen_text(app)


async def test_without_colour_no_colour_is_sent_and_nothing_is_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()))
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        text = screen_text(app)
        assert "■  00122" in text
        assert "□  00310" in text
        assert "●  00288" in text and "●! 00291" in text
        assert "■ HOLD for a reason  □ HOLD checks to come  ● GO" in text
        assert not colours(app)
        assert reversed_text(app).startswith("■  00122 Tarn !")
        await press(pilot, "g")
        assert not colours(app)
        underlined = [s.text for s in segments(app) if s.style and s.style.underline]
        assert "".join(underlined).split() == ["1", "every", "bull"]
        await press(pilot, "escape", "enter")
        assert not colours(app)
        assert "■ HOLD for a reason" in reversed_text(app)


def segments(app: ReadinessApp) -> list[Segment]:
    return [s for strip in app.screen._compositor.render_strips() for s in strip]


def colours(app: ReadinessApp) -> list[str]:
    """Every colour on the screen but the terminal's own."""
    styles = [segment.style for segment in segments(app) if segment.style]
    found = [colour for style in styles for colour in (style.color, style.bgcolor)]
    return [colour.name for colour in found if colour is not None and not colour.is_default]


def reversed_text(app: ReadinessApp) -> str:
    """What stands out by being reversed."""
    found = [s.text for s in segments(app) if s.style and s.style.reverse]
    return "".join(found).strip()


async def test_keys_shown_are_whole_at_every_width(tmp_path: Path) -> None:
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()))
    async with app.run_test(size=(120, 24)) as pilot:
        await settled(pilot)
        for width in (120, 60, 30):
            await resized(pilot, width, 24)
            last = screen_lines(app)[-1]
            assert last.endswith("? help  q quit")
            assert len(last) <= width


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
@pytest.mark.parametrize(
    ("way", "keys"),
    [
        ("", "Enter bull,c crush,t out,/ find,g group,? help,q quit"),
        ("d", "l look,Esc back,? help"),
        ("d 4", "x drop,y promise,Esc back,? help"),
        ("v", "m mend,Esc back,? help"),
        ("t 1", "l let out,Enter this one,g group,Esc back,? help"),
        ("i", "g farm,Esc board,? help"),
        ("enter", "Esc board,e correct,l look,? help"),
        ("c", "Enter save,Esc board,m note,g group,/ bull,l line,? help"),
    ],
)
async def test_the_keys_to_leave_find_and_help_and_of_the_main_job_stand_on_the_smallest_screen(
    tmp_path: Path, size: tuple[int, int], way: str, keys: str
) -> None:
    """At 60x20 the board offered neither turnout nor search, the diary and the turnout no Esc."""
    app = make_app(desk_at(tmp_path / "bulls.duckdb", estate()), poll=3600)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await press(pilot, *way.split())
        line = app.screen.query_one(KeyLine)
        shown = " ".join(screen_text(app).split("\n")[-line.size.height :])
        assert [key for key in keys.split(",") if f" {key} " not in f"{shown} "] == []
