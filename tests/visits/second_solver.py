"""The planner's problem as a mixed-integer program for CBC, by way of PuLP.

Written from the problem's four sentences (see ``reference``), apart from the planner's own program
and for another solver than the planner's. The parts of the cost are made least one after another,
each held at its least while the next one is looked for, with no gap left open.
"""

from __future__ import annotations

from typing import Any

import pulp

from readiness.visits.problem import Cost, Farm, Job, JobKey, Problem

Sum = Any
"""A linear expression of PuLP, which has no types: a sum of variables and numbers."""

# The CBC that comes with PuLP, by its path: PuLP's own name for it warns that it will go.
CBC = pulp.COIN_CMD(path=pulp.PULP_CBC_CMD.pulp_cbc_path, msg=False, gapRel=0, gapAbs=0)


def solve_cbc(problem: Problem) -> Cost:
    """The least cost of all allowed answers. RuntimeError when CBC does not prove it."""
    return _Program(problem).least()


class _Program:
    """``on[job, day]``: the job is done on that day; ``visit[farm, day]``: one drives there."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = pulp.LpProblem("visits", pulp.LpMinimize)
        self.farms = {farm.name: farm for farm in problem.farms}
        self.windows = {job.key: self._window(job) for job in problem.jobs}
        self.visit = self._visit_variables()
        self.on = self._job_variables()
        for job in problem.jobs:
            self._say_after(job)
        self._say_minutes()
        self._say_sharing()

    def least(self) -> Cost:
        jobs, on = self.problem.jobs, self.on
        placed = pulp.lpSum(on.values())
        each = [(job, day, on[job.key, day]) for job in jobs for day in self.windows[job.key]]
        late = [(day - job.wanted) * x for job, day, x in each if day > job.wanted]
        wait = [(day - job.first) * x for job, day, x in each if job.overdue]
        return Cost(
            unplaced=self._least(len(jobs) - placed),
            wait=self._least(pulp.lpSum(wait)),
            visits=self._least(pulp.lpSum(self.visit.values())),
            late=self._least(pulp.lpSum(late)),
            days=self._least(pulp.lpSum((day - self.problem.start) * x for _, day, x in each)),
        )

    def _least(self, part: Sum) -> int:
        """The least of this part of the cost; from now on it is held there."""
        if not len(part):
            return int(part.constant)
        self.model.setObjective(part)
        status = self.model.solve(CBC)
        if status != pulp.LpStatusOptimal:
            raise RuntimeError(f"CBC says {pulp.LpStatus[status]}")
        least: int = round(part.value())
        self.model += part <= least
        return least

    def _window(self, job: Job) -> list[int]:
        return [day for day in self.farms[job.farm].days if job.first <= day <= job.last]

    def _binary(self, *name: object) -> Sum:
        return self.model.add_variable("_".join(map(str, name)), 0, 1, pulp.LpBinary)

    def _visit_variables(self) -> dict[tuple[str, int], Sum]:
        visit = {}
        for number, farm in enumerate(self.problem.farms):
            for day in farm.days:
                visit[farm.name, day] = self._binary("visit", number, day)
                if day in farm.kept:
                    self.model += visit[farm.name, day] >= 1
        return visit

    def _job_variables(self) -> dict[tuple[JobKey, int], Sum]:
        on = {}
        for number, job in enumerate(self.problem.jobs):
            days = self.windows[job.key]
            for day in days:
                on[job.key, day] = self._binary("on", number, day)
                self.model += on[job.key, day] <= self.visit[job.farm, day]
            if days:
                self.model += pulp.lpSum(on[job.key, day] for day in days) <= 1
        return on

    def _say_after(self, job: Job) -> None:
        """Done by a day only where the earlier one was done by that day less the lag."""
        for id_, lag in job.after:
            earlier = (job.bull, id_)
            for end in self.windows[job.key]:
                done = [self.on[job.key, day] for day in self.windows[job.key] if day <= end]
                before = [
                    self.on[earlier, day] for day in self.windows[earlier] if day + lag <= end
                ]
                self.model += pulp.lpSum(done) <= pulp.lpSum(before)

    def _say_minutes(self) -> None:
        problem = self.problem
        taken = {
            (job.key, day): self._minutes(number, job, day)
            for number, job in enumerate(problem.jobs)
            for day in self.windows[job.key]
        }
        for farm, day in self.visit:
            there = [
                taken[job.key, day]
                for job in problem.jobs
                if job.farm == farm and (job.key, day) in taken
            ]
            if there:
                self.model += pulp.lpSum(there) <= self.farms[farm].minutes
        for day in {day for _, day in self.visit}:
            all_over = [taken[job.key, day] for job in problem.jobs if (job.key, day) in taken]
            if all_over:
                left = problem.minutes - problem.taken.get(day, 0)
                self.model += pulp.lpSum(all_over) <= max(0, left)

    def _minutes(self, number: int, job: Job, day: int) -> Sum:
        """The job's minutes on the day, given back where it is done beside another one."""
        minutes = job.minutes * self.on[job.key, day]
        other = self.on.get(((job.bull, job.beside), day)) if job.beside else None
        if other is None:
            return minutes
        both = self._binary("both", number, day)
        self.model += both <= self.on[job.key, day]
        self.model += both <= other
        return minutes - job.minutes * both

    def _say_sharing(self) -> None:
        def alone(one: Farm, two: Farm) -> bool:
            return not (one.shares and two.shares)

        farms = self.problem.farms
        for number, one in enumerate(farms):
            for two in (two for two in farms[number + 1 :] if alone(one, two)):
                for day in set(one.days) & set(two.days):
                    self.model += self.visit[one.name, day] + self.visit[two.name, day] <= 1
