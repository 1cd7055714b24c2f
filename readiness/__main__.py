"""The command ``readiness`` (also ``python -m readiness``)."""

from __future__ import annotations

import atexit
import gc
import sys
from collections.abc import Sequence

atexit.register(gc.freeze)  # nothing is collected from what ends anyway: 24 ms of a cold board


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line; the exit code. Never raises, never prints a traceback."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given == ["--version"]:  # the quickest answer needs no parser
        from readiness import __version__

        try:
            print(f"readiness {__version__}", flush=True)
        except OSError:
            return _all_the_way(given)  # which says in words what is wrong
        return 0
    return _all_the_way(given)


def _all_the_way(given: Sequence[str]) -> int:
    from readiness.cli.main import run

    return run(given)


if __name__ == "__main__":
    sys.exit(main())
