"""Every reader there is."""

from __future__ import annotations

from tests.hostile.copies import COPIES
from tests.hostile.files import FILES
from tests.hostile.partitions import PARTITIONS
from tests.hostile.typed import TYPED

READERS = (*FILES, *COPIES, *PARTITIONS, *TYPED)
