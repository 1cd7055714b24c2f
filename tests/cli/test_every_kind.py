"""Every kind of entry can be made from the command line alone, and is read back from the book."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from readiness.book import Book
from readiness.entries import models
from readiness.system.clock import SystemClock
from tests.cli.conftest import Run
from tests.cli.small_book import DAY, LAME
from tests.entries.samples import FULL

TAG = "00288"
FARM = "Sallow Fell"
COMMANDS: dict[str, tuple[str, ...]] = {
    "bull": (
        "book-in", TAG, "--name", "Corran", "--breed", "Limousin", "--born", "2022-04-03",
        "--origin", "bought", "--arrived", "2026-02-01", "--temper", "watch", "--no-heifer-safe",
        "--pen", "3", "--farm", FARM,
    ),
    "weight": ("log", TAG, "kg 980.5"),
    "group": (
        "group", "Heifers", "--turnout", "2026-05-09", "--weeks", "9", "--females", "60",
        "--class", "heifers", "--farm", FARM,
    ),
    "join": ("log", TAG, "join Heifers reserve"),
    "feet": (
        "log", TAG, "lf o su@4/2 was sh pare; lf i wall 92 sole 7 groove 20; rh s dd:m4.1 22.5mm; "
        "rh b wlf healed stable; rh trim; lh refused",
    ),
    "block-on": ("log", TAG, "block lf i"),
    "block-off": ("log", TAG, "block lf i lost"),
    "mobility": ("log", TAG, "walk 2 gb0-3 lf"),
    "condition": ("log", TAG, "cond 3.25 five"),
    "vet-exam": ("log", TAG, "vet again 2026-06-03 cm 36.5 electro mot 25 individual "
        "morph norm 78 keen seen eyes felt testes feet by J. Hart"),
    "vet-look": ("log", TAG, "vetlook body again 2026-05-03 joint lh by J. Hart"),
    "body": ("log", TAG, "body joint lh wrong"),
    "incident": ("log", TAG, "fight lame not fever lf shoulder"),
    "treatment": (
        "log", TAG, "given A. Vet: as on the label pain until 2026-04-20 for sore foot",
    ),
    "check": ("log", TAG, "done bvd-test lab Sike Laboratories says \"negative, 1:20\" "
        "until 2027-04-02"),
    "moved": ("log", TAG, "in lame"),
    "strike": ("strike", LAME, "--why", "wrong bull"),
}  # fmt: skip
# What the sample says that a command says otherwise: whose, and of which entry.
OTHERWISE: dict[str, dict[str, Any]] = {"strike": {"entry": LAME}}


def test_there_is_a_command_for_every_kind() -> None:
    assert set(COMMANDS) == set(models.KINDS)


def wanted(kind: str) -> dict[str, Any]:
    """The full sample of the kind, said by us of our bull."""
    sample = {**FULL[kind], "by": "sam", **OTHERWISE.get(kind, {})}
    if "bull" in sample:
        sample["bull"] = TAG
    return sample


@pytest.mark.parametrize("kind", COMMANDS)
def test_each_kind_is_written_by_a_command_and_read_back(run: Run, book: Path, kind: str) -> None:
    ran = run(*COMMANDS[kind], "--json", "--on", DAY)
    assert ran.code == 0, ran.err
    (written,) = ran.json()["written"]
    entries = {entry.id: entry for entry in Book(book, SystemClock()).snapshot().entries}
    assert entries[written].body == wanted(kind)
