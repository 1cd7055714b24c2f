"""What people call the values of an entry's fields: one table for lines, forms, commands, rosters
and vet's sheets. Files of entries keep to the values themselves."""

from __future__ import annotations

from readiness.entries.fields import Called
from readiness.trade import checks, examination, females

ORIGINS = Called((
    ("homebred", ("HB", "home bred", "home", "own", "own bred", "bred here", "born here", "ours")),
    ("bought", ("bought in", "bought", "purchased", "purchase", "purchased in", "BI")),
    ("hired", (
        "hired in", "hire", "on hire", "loan", "on loan", "loaned", "borrowed", "leased", "lease",
        "on lease", "rented",
    )),
))  # fmt: skip
TEMPERS = Called((
    ("quiet", ("calm", "docile", "steady", "placid", "gentle", "easy")),
    ("watch", ("watch him", "wary", "flighty", "nervous", "lively", "careful")),
    ("dangerous", ("danger", "aggressive", "vicious", "nasty")),
))  # fmt: skip


def _yes_no(yes: tuple[str, ...], no: tuple[str, ...]) -> Called:
    """Yes and no, and what else says so of a field."""
    return Called((
        (True, ("yes", "y", "true", "1", "✓", "✔", *yes)), (False, ("no", "n", "false", "0", *no)),
    ))  # fmt: skip


ON_HEIFERS = _yes_no(("ok", "safe"), ("not safe", "unsafe"))
_WAS_DONE = (("ok", "done", "seen"), ("not done", "not seen"))
MORPHOLOGY = _yes_no(("morph", *_WAS_DONE[0]), ("no morph", "not morph", *_WAS_DONE[1]))
FEET_SEEN = _yes_no(("feet", *_WAS_DONE[0]), ("no feet", "not feet", *_WAS_DONE[1]))
STANDS = _yes_no(("stands", "ok"), ("no stands", "not stands"))
RELIEVES = _yes_no(("pain",), ("no pain", "not pain"))
CLASSES = Called(females.CALLED)
ROLES = Called(
    (("worker", ("working",)), ("reserve", ("spare", "stand-by"))), shown=(("worker", "working"),)
)

OUTCOMES, COLLECTED, LIBIDO = (
    Called(examination.CALLED[field]) for field in ("outcome", "collection", "libido")
)
RESULTS = Called(checks.RESULTS)
