"""``--html`` and ``--pdf``: what is written where, what is left alone, and what is said."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run
from tests.cli.small_book import DAY

ROOT = Path(__file__).parents[2]
FULL = Path("/dev/full")
PAGES = (("board",), ("bull", "417"), ("sheet", "--on", "2026-03-20"), ("stats",))


@pytest.mark.parametrize("command", PAGES, ids=lambda command: str(command[0]))
def test_a_page_is_written_whole_and_a_page_of_ours_replaced(
    run: Run, book: Path, tmp_path: Path, command: tuple[str, ...]
) -> None:
    page = tmp_path / "page.html"
    for _ in range(2):
        ran = run(*command, "--html", page, *(() if "--on" in command else ("--on", DAY)))
        assert ran.code == 0, ran.err
        assert str(page) in ran.out
        text = page.read_text(encoding="utf-8")
        assert text.startswith("<!doctype html>")
        assert text.endswith("</html>\n") or text.endswith("</html>")
    assert sorted(tmp_path.glob(".readiness-*")) == []


def test_what_is_no_page_of_ours_is_left_alone(run: Run, book: Path, tmp_path: Path) -> None:
    for name, data in (("a.html", b"<html>my own page</html>"), ("b.pdf", b"%PDF-1.4 a form")):
        theirs = tmp_path / name
        theirs.write_bytes(data)
        ran = run("board", "--html" if name == "a.html" else "--pdf", theirs)
        assert (ran.code, theirs.read_bytes()) == (65, data)
        assert str(theirs) in ran.err
        assert "name another file" in ran.err
    empty = tmp_path / "empty.html"
    empty.touch()
    assert run("board", "--html", empty).code == 0


def test_where_nothing_can_be_written_what_was_there_is_whole(
    run: Run, book: Path, tmp_path: Path
) -> None:
    assert run("board", "--html", tmp_path).code == 73
    assert run("board", "--html", tmp_path / "no" / "such" / "folder.html").code == 73
    ran = run("board", "--html", FULL)
    assert ran.code == 73
    assert "is a device" in ran.err
    assert "Traceback" not in ran.err


def test_a_dash_means_stdout_and_no_file(book: Path, tmp_path: Path) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "readiness", "--book", book, "board", "--on", DAY, "--html", "-"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=True,
    )
    assert ran.stdout.startswith(b"<!doctype html>")
    assert b"Corran" in ran.stdout
    assert not (tmp_path / "-").exists()


def test_only_one_form_is_written_and_print_sizes_are_of_pages(run: Run, book: Path) -> None:
    for options in (
        ("board", "--json", "--html", "x.html"),
        ("board", "--pdf", "x.pdf", "--html", "x.html"),
        ("sheet", "--pdf", "x.pdf", "--html", "x.html"),
        ("board", "--large-print"),
        ("bull", "417", "--large-print"),
        ("board", "--html", ""),
        ("board", "--html", "board.pdf"),
    ):
        assert run(*options).code == 2, options
    assert not Path("x.html").exists()


def test_hold_is_told_beside_a_page_too(run: Run, book: Path, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    assert run("board", "--on", DAY, "--html", page, "--fail-on-hold").code == 1
    assert page.exists()


@pytest.mark.long
def test_the_pdf_is_the_page_on_a4(run: Run, book: Path, tmp_path: Path) -> None:
    paper = tmp_path / "bull.pdf"
    for large in ((), ("--large-print",)):  # the second replaces the first: it knows its own
        ran = run("bull", "93", "--on", DAY, "--pdf", paper, *large)
        assert ran.code == 0, ran.err
    reader = PdfReader(paper)
    box = reader.pages[0].mediabox
    assert (round(box.width), round(box.height)) == (595, 842)
    text = " ".join("".join(sheet.extract_text() for sheet in reader.pages).split())
    for words in ("00093 Brock", "■ HOLD", "block on LH outer since 4 Mar", "SU2", "BLOCK",
                  "page 1 of", "the vet decides on all that is the vet's"):  # fmt: skip
        assert words in text, words


def test_without_the_library_a_pdf_is_refused_with_what_to_do(
    run: Run, book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    ran = run("board", "--pdf", tmp_path / "b.pdf")
    assert ran.code == 73
    assert "readiness[pdf]" in ran.err
    assert "print that page from any browser" in " ".join(ran.err.split())
    assert not (tmp_path / "b.pdf").exists()


def test_a_day_without_work_has_no_sheet_and_the_last_one_is_named(run: Run, book: Path) -> None:
    ran = run("sheet", "--on", DAY)
    assert ran.code == 66
    assert "2026-04-03" in ran.err
    assert "give --on 2026-04-02" in ran.err
    assert run("sheet", "--on", "2026-04-02").code == 0
    assert run("sheet", "--on", "2026-04-02", "--farm", "Nowhere").code == 66
    ran = run("sheet", "--on", "2025-01-01")
    assert ran.code == 66
    assert "--on" not in ran.err
