"""What the guide says of a fleet is so."""

from __future__ import annotations

import re

from readiness.book.parquet import PARTITION
from readiness.fleet.place import DONE
from readiness.fleet.tables import TABLES
from readiness.guide import topic
from tests.build import RULES

TEXT = topic("fleet").text


def test_the_guide_names_every_column_of_a_partition_and_no_other() -> None:
    told = TEXT.split("in the columns of the book's own tables:")[1].split("They are")[0]
    outside = re.sub(r"\([^)]*\)", "", told)
    assert re.findall(r"`(\w+)`", outside) == [*PARTITION]


def test_the_guide_names_every_folder_that_is_written_and_the_rule() -> None:
    named = re.findall(r"^\| `(\w+)/on=DAY/", TEXT, re.MULTILINE)
    assert named == [*(table.name for table in TABLES), DONE]
    least = RULES.common.stats.publish_least
    assert f"fewer than {least} bulls (`publish.least`)" in TEXT
    assert f"until at least two are, of {least} bulls together" in TEXT
