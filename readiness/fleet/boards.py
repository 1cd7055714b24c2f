"""What ``board --json`` says of a farm, out of the fleet's folder: the very bytes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from readiness.book.parquet import asked
from readiness.fleet.place import receipts
from readiness.fleet.sources import same_name
from readiness.fleet.tables import ASSESSMENTS
from readiness.fleet.task import BOARD_END
from readiness.system.errors import NotFound

AGAIN = "Run `readiness fleet DIR` again."


def board_line(out: Path, farm: str, upto: date | None = None) -> str:
    """As that command prints it on the last day up to ``upto`` on which the farm was done. Raises
    NotFound, DataError."""
    found = [each for each in receipts(out, upto) if same_name(each.farm) == same_name(farm)]
    if not found:
        raise NotFound(f"No farm {farm} is done in {out}. Give its name as its book is called.")
    last = found[-1]
    (path,) = (str(out / path) for path in last.files if path.startswith(ASSESSMENTS.name))
    query = "SELECT json FROM read_parquet($path, hive_partitioning = false) ORDER BY place"
    bulls = (text for (text,) in asked(query, {"path": path}, path, AGAIN))
    return f"{last.head}{', '.join(bulls)}{BOARD_END}\n"
