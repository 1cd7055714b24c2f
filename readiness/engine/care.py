"""What has to be said aloud beside a bull, though it holds nobody: advice that makes a GO one with
care, and a medicine's withdrawal while it runs.

Pure: an assessment or a board in, its remarks out.
"""

from __future__ import annotations

from readiness.engine.results import Assessment, Board, Remark

Running = tuple[Assessment, Remark]
"""A bull and a withdrawal that runs for him."""

_ASK_FIRST = frozenset(
    (
        "vet.after_illness",
        "vet.lame_days",
        "lame.long",
        "vet.doubts",
        "test.doubts",
        "scrotum.least",
        "motility.least",
        "normal.least",
        "vet.look",
        "look.slack",
        "incident.settle",
        "incident.settle_back",
        "pain.settle",
        "block.settle",
        "block.look",
        "wrap.most",
        "clear.after_open",
        "vet.worst_walk",
        "weight.drop",
        "heifers.safe",
        "quarantine.days",
    )
)
_WALK = "mobility.advise."
_FOR_A_VET = (".vet_from", ".vet_open")
_WITHDRAWAL = "withdrawal.shown"


def cares(bull: Assessment) -> tuple[Remark, ...]:
    """The advice for which his GO is never a plain one: he was ill, the vet stands by figures under
    the least, he walks with a score that is not the best, he was lame since the vet passed him, a
    part of him is to be watched, a finding is not gone though he is fit, at work something happened
    since he last walked sound, a vet was asked for and never looked, a look that was advised is
    overdue, he lost much weight, the vet's examination left something open, a test reads as failed,
    or nobody said when he came, or that he is safe with the heifers of his group.
    Nothing for a bull who is on HOLD: what holds him says more."""
    if bull.status != "GO":
        return ()
    return tuple(
        said
        for said in bull.advice
        if said.rule in _ASK_FIRST or said.rule.startswith(_WALK) or said.rule.endswith(_FOR_A_VET)
    )


def withdrawals(bull: Assessment) -> tuple[Remark, ...]:
    """The withdrawals that run for him, GO or HOLD."""
    return tuple(said for said in bull.advice if said.rule == _WITHDRAWAL)


def running(board: Board) -> tuple[Running, ...]:
    """Every withdrawal that runs, in the order of the board."""
    return tuple((bull, said) for bull in board.bulls for said in withdrawals(bull))
