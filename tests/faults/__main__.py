"""`python -m tests.faults [--long] [NAMES]`: faults done to the program, and what became of what it
had acknowledged. Without `--long` a few of each; NAMES are beginnings of the names of rows.
"""

from __future__ import annotations

import argparse
import signal

from tests.faults.table import HEAD, Often, leftovers, line, named, run

WORDS = """lost: an acknowledged entry is not there, nor made anew from journal and backups;
wrong: another answer with exit 0, half a batch, a batch twice, a crash, or words that are not true;
told: refused, with the exit code that says so and a sentence; harmless: nothing came of it."""


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("names", nargs="*", help="rows, by the beginning of their names")
    parser.add_argument("--long", action="store_true", help="all trials: an hour or more")
    parser.add_argument("--count", type=int, help="so many trials of each row")
    options = parser.parse_args()

    def count(often: Often) -> int:
        return options.count or (often.whole if options.long else often.long)

    signal.signal(signal.SIGTERM, signal.default_int_handler)  # the row so far is told
    print(HEAD, flush=True)
    done = []
    for tally in run(named(options.names), count, thorough=options.long):
        print(line(tally), flush=True)
        for failed in tally.failed:
            print(f"    {failed[:700]}", flush=True)
        done.append(tally)
    print(f"\n{WORDS}")
    if left := leftovers(done):
        print("left behind:", ", ".join(f"{count} {end}" for end, count in left.items()))
    return int(any(tally.lost or tally.wrong for tally in done))


if __name__ == "__main__":
    raise SystemExit(main())
