"""Run every command and every screen in a process that may not speak to a network: python -m
tests.faults.offline FOLDER. It ends with OFFLINE where something tried to, be it the database.

With ``--try`` it opens an Internet socket itself, to show that it is then ended. With ``--fleet``
only `fleet` runs, whose processes speak to each other: over this machine's own loopback alone.
"""

from __future__ import annotations

import asyncio
import ctypes
import os
import platform
import re
import socket
import struct
import sys
from pathlib import Path
from typing import Any

OFFLINE = 99
FORBIDDEN = ("socket.connect", "socket.bind", "socket.getaddrinfo", "socket.gethostbyname",
             "socket.sendto", "socket.gethostbyaddr", "socket.getnameinfo")  # fmt: skip
LOOPBACK = re.compile(r"'(127\.0\.0\.1|localhost|::1)'")
PR_SET_NO_NEW_PRIVS, PR_SET_SECCOMP, FILTER = 38, 22, 2
SOCKET_CALL = {"x86_64": 41, "aarch64": 198}
LOAD, SAME, GIVE, ALLOW, KILL = 0x20, 0x15, 0x06, 0x7FFF0000, 0x80000000


def forbid_in_python(*, but_loopback: bool = False) -> None:
    """Whatever of Python's asks for an address, or goes to one, ends the process; ``but_loopback``:
    to one of another machine."""

    def heard(event: str, arguments: tuple[Any, ...]) -> None:
        internet = event == "socket.__new__" and arguments[1] in (socket.AF_INET, socket.AF_INET6)
        if but_loopback and (internet or LOOPBACK.search(repr(arguments))):
            return
        if internet or event in FORBIDDEN:
            os.write(2, f"network: {event} {arguments}\n".encode())
            os._exit(OFFLINE)

    sys.addaudithook(heard)


def forbid_in_the_system() -> bool:
    """The system itself ends the process at an Internet socket, whatever library asks for one;
    whether that can be had here. Rules of BPF: seccomp(2)."""
    call = SOCKET_CALL.get(platform.machine())
    if sys.platform != "linux" or call is None:
        return False
    rules = [
        (LOAD, 0, 0, 0),  # the number of the call
        (SAME, 0, 4, call),
        (LOAD, 0, 0, 16),  # its first argument, the family
        (SAME, 1, 0, socket.AF_INET),
        (SAME, 0, 1, socket.AF_INET6),
        (GIVE, 0, 0, KILL),
        (GIVE, 0, 0, ALLOW),
    ]
    told = b"".join(struct.pack("HBBI", *rule) for rule in rules)
    kept = ctypes.create_string_buffer(told)
    program = struct.pack("HxxxxxxP", len(rules), ctypes.addressof(kept))
    system = ctypes.CDLL(None, use_errno=True)
    alone = system.prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0
    return alone and bool(system.prctl(PR_SET_SECCOMP, FILTER, program, 0, 0) == 0)


def commands(room: Path) -> list[tuple[str, ...]]:
    """Every command once at least, in an order in which each has something to do."""
    (room / "roster.csv").write_text("tag,name,born\n00601,Wren,2023-03-04\n")
    (room / "more.jsonl").write_text(
        '{"kind":"bull","on":"2026-04-01","bull":"00777"}\n'
        '{"kind":"weight","on":"2026-04-01","bull":"00777","kg":900}\n'
    )
    other = str(room / "other.duckdb")
    return [
        ("demo", "--json", "--book", str(room / "bulls.duckdb")), ("demo",),
        ("guide",), ("guide", "start"), ("board",), ("board", "--json"), ("board", "--csv"),
        ("board", "--html", str(room / "board.html")), ("board", "--pdf", str(room / "board.pdf")),
        ("import", str(room / "roster.csv")), ("import", str(room / "more.jsonl")),
        ("book-in", "00888"), ("log", "00777", "walk 1; lf ok"), ("bull", "00777"), ("undo",),
        ("retag", "00777", "00778"),
        ("group", "Far", "--turnout", "2027-04-20"), ("strike", "none", "mistaken"),
        ("diary",), ("diary", "--season"), ("diary", "--ics", str(room / "diary.ics")), ("sheet",),
        ("visits", "--ics", str(room / "visits.ics")), ("cover",), ("turnout", "Far"), ("stats",),
        ("rules",), ("export", str(room / "out")), ("schema",), ("schema", "board"), ("settings",),
        ("backup", other), ("--book", str(room / "new.duckdb"), "restore", other), ("verify",),
        ("--book", str(room / "anew.duckdb"), "salvage", other), ("merge", other, "--check"),
        ("completion", "bash"), ("man",), ("--version",), ("board", "--help"),
    ]  # fmt: skip


SCREENS = ("enter", "c enter", "d", "v", "t enter", "i", "o", "w", "question_mark", "slash", "g")
"""The keys of the board that open another screen or dialog."""


def run_commands(room: Path) -> None:
    from readiness.__main__ import main

    for command in commands(room):
        code = main(list(command))
        print(f"command {command} {code}", file=sys.stderr)


async def run_screens(book: Path) -> None:
    from readiness.book import Book
    from readiness.desk.desk import Desk
    from readiness.system.clock import SystemClock
    from tests.tui.driver import make_app, press, settled

    for path, keys in ((book, SCREENS), (book.with_name("none yet.duckdb"), ("w",))):
        for key in keys:
            clock = SystemClock()
            app = make_app(Desk(Book(path, clock), None, clock, who="Ines"))
            async with app.run_test(size=(120, 40)) as pilot:
                await settled(pilot)
                for pressed in ("", *key.split()):
                    await press(pilot, *filter(None, [pressed]))
                    print(f"screen {type(app.screen).__name__}", file=sys.stderr)


def run_fleet(room: Path) -> None:
    from readiness.__main__ import main

    forbid_in_python(but_loopback=True)
    (room / "farms").mkdir()
    assert main(["demo", "--json", "--book", str(room / "farms" / "one.duckdb")]) == 0
    out = str(room / "out")
    for command in (
        ("fleet", str(room / "farms"), "--out", out),
        ("fleet", "stats", out),
        ("fleet", "board", out, "--farm", "one"),
    ):
        print(f"command {command} {main([*command])}", file=sys.stderr)


def run_all(room: Path) -> None:
    forbid_in_python()
    print(f"system {forbid_in_the_system()}", file=sys.stderr)
    if "--try" in sys.argv:
        socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if "--try-below" in sys.argv:
        ctypes.CDLL(None).socket(socket.AF_INET, socket.SOCK_STREAM, 0)
    os.environ["READINESS_BOOK"] = str(room / "bulls.duckdb")
    run_commands(room)
    asyncio.run(run_screens(room / "bulls.duckdb"))


if __name__ == "__main__":
    (run_fleet if "--fleet" in sys.argv else run_all)(Path(sys.argv[1]))
