"""One bull: his entries up to a day, folded into the state he is in on that day."""

from readiness.history.fold import advance, history, relieves_pain
from readiness.history.state import History, ordinal

__all__ = ["History", "advance", "history", "ordinal", "relieves_pain"]
