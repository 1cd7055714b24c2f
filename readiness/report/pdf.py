"""A page as a PDF, where the library for it is installed: the same layout that a browser prints."""

from __future__ import annotations

import logging
import re
from typing import NoReturn

from readiness.report.foot_svg import FOOT, shared_shapes
from readiness.report.page import style
from readiness.system.errors import CannotWrite

CREATOR = b"/Creator (readiness)"
"""Stands in every PDF of ours: it is what the page's own mark becomes."""

_READABLE = (
    "text { stroke: none !important; } .grid { stroke: #ccc !important; } "
    ".ink { fill-opacity: .45 !important; }"
)


def as_pdf(page: str) -> bytes:
    """The page printed. Raises CannotWrite where the library, or what it needs, is missing."""
    try:
        from weasyprint import HTML
    except (ImportError, OSError) as problem:  # OSError: the library is there, Pango is not
        raise CannotWrite(
            f"A PDF cannot be made here: {str(problem).splitlines()[0]}. Install it with "
            "`pip install 'readiness[pdf]'` (it needs Pango), or write --html and print that page "
            "from any browser."
        ) from problem
    logging.getLogger("weasyprint").setLevel(logging.ERROR)  # of what only screens know in a style
    printed: bytes = HTML(string=_whole_drawings(page), url_fetcher=_refuse).write_pdf(
        pdf_version="1.4"  # in later ones our mark would be packed away
    )
    return printed


def _whole_drawings(page: str) -> str:
    """The page with all that a drawn foot refers to within each: the library looks no further, and
    knows neither the page's colours by name nor a rim of the paper's colour round a letter."""
    if FOOT not in page:
        return page
    colours = dict(
        reversed(re.findall(r"(--\w+): (#\w+)", style("look.css")))
    )  # the first: of light
    rules = re.sub(r"var\((--\w+)\)", lambda name: colours[name[1]], style("feet.css"))
    inside = f"<style>{rules} {_READABLE}</style>{shared_shapes()}"
    return re.sub(rf"({re.escape(FOOT)}[^>]*>)", lambda start: start[1] + inside, page)


def _refuse(url: str) -> NoReturn:
    """A page of ours has all it needs within it."""
    raise ValueError(f"a page asked for {url}")
