"""The mixed-integer solver, HiGHS: one model, one objective after another."""

from __future__ import annotations

from typing import NamedTuple

import highspy
import numpy as np

from readiness.visits.program import Budget, Program

_SOLVED = {
    highspy.HighsModelStatus.kOptimal,
    highspy.HighsModelStatus.kObjectiveTarget,
}


class Found(NamedTuple):
    """``values`` of the columns, None where none were found in time; ``least``: nothing can be
    less than this; ``proven``: the values are the best there are; ``impossible``:
    it is proven that there are none."""

    values: list[float] | None
    least: float
    proven: bool
    impossible: bool


class Solver:
    """A model in the solver's hands.

    Objectives have whole-number values only, so that a bound above ``n - 1`` proves ``n``.
    """

    def __init__(self, model: Program) -> None:
        self._width = model.width
        self._highs = highspy.Highs()  # type: ignore[no-untyped-call]
        # One thread and a fixed seed: the same problem has the same answer.
        options = (
            ("output_flag", False), ("threads", 1), ("random_seed", 0),
            ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.99),
        )  # fmt: skip
        for name, value in options:
            self._highs.setOptionValue(name, value)
        self._highs.passModel(_program(model))

    def least(self, costs: list[float], budget: Budget, start: list[float] | None) -> Found:
        """The columns' values for which ``costs`` come to least, in the seconds that are left."""
        highs, width = self._highs, self._width
        every = np.arange(width, dtype=np.int32)
        highs.changeColsCost(width, every, np.array(costs))
        highs.setOptionValue("time_limit", budget.left)
        if start is not None:
            highs.setSolution(width, every, np.array(start))
        before = highs.getRunTime()
        highs.run()
        budget.left = max(0.0, budget.left - (highs.getRunTime() - before))
        info = highs.getInfo()
        found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
        values = list(highs.getSolution().col_value) if found else None
        return Found(
            values,
            info.mip_dual_bound,
            highs.getModelStatus() in _SOLVED,
            highs.getModelStatus() == highspy.HighsModelStatus.kInfeasible,
        )

    def at_most(self, costs: list[float], most: float) -> None:
        """From now on these costs come to no more than that."""
        self._row(costs, -highspy.kHighsInf, most)

    def at_least(self, costs: list[float], least: float) -> None:
        """From now on they come to no less."""
        self._row(costs, least, highspy.kHighsInf)

    def _row(self, costs: list[float], least: float, most: float) -> None:
        used = [(column, cost) for column, cost in enumerate(costs) if cost]
        columns = np.array([column for column, _ in used], dtype=np.int32)
        factors = np.array([cost for _, cost in used])
        self._highs.addRow(least, most, len(used), columns, factors)


def _program(model: Program) -> highspy.HighsLp:
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = model.width, len(model.rows)
    lp.col_cost_ = np.zeros(model.width)
    lp.col_lower_, lp.col_upper_ = np.array(model.lower), np.array(model.upper)
    lp.row_lower_ = np.array([least for least, _, _, _ in model.rows])
    lp.row_upper_ = np.array([most for _, most, _, _ in model.rows])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    ends = np.cumsum([0, *(len(columns) for _, _, columns, _ in model.rows)])
    lp.a_matrix_.start_ = ends
    lp.a_matrix_.index_ = np.array([c for _, _, columns, _ in model.rows for c in columns])
    lp.a_matrix_.value_ = np.array([f for _, _, _, factors in model.rows for f in factors])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * model.width
    return lp
