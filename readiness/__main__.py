"""The command ``readiness`` (also ``python -m readiness``)."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line; the exit code. Never raises, never prints a traceback."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given == ["--version"]:  # the quickest answer needs no parser
        from readiness import __version__

        print(f"readiness {__version__}")
        return 0
    from readiness.cli.main import run

    return run(given)


if __name__ == "__main__":
    sys.exit(main())
