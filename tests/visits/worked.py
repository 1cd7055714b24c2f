"""Small problems worked by hand, each with the least cost there is."""

from __future__ import annotations

from dataclasses import replace

from readiness.visits.problem import Farm, Job, Problem

DAYS = tuple(range(100, 110))
FARM = Farm("Low Farm", DAYS, minutes=60)
HILL = Farm("Hill Farm", DAYS, minutes=60)
TRIM = Job("bull 1", "trim", "Low Farm", first=100, last=105, wanted=105, minutes=30)
WALK = Job("bull 1", "walk", "Low Farm", first=103, last=108, wanted=108, minutes=20)
VET = Job("bull 2", "vet", "Hill Farm", first=100, last=100, wanted=100, minutes=40)


def plan(
    *jobs: Job, farms: tuple[Farm, ...] = (FARM,), minutes: int = 480, taken: int = 0
) -> Problem:
    """A problem from day 100 on; ``taken``: minutes of day 100 that are spoken for."""
    return Problem(100, minutes, farms, jobs, {100: taken})


# What is to be decided, and its least (unplaced, wait, visits, late, days), worked by hand.
WORKED = {
    "one visit on 103 for both": (plan(TRIM, WALK), (0, 0, 1, 0, 3 + 3)),
    "an overdue job is not made to wait for the other": (
        plan(replace(TRIM, overdue=True), WALK),
        (0, 0, 2, 0, 0 + 3),
    ),
    "one visit and two days late, sooner than two visits": (
        plan(replace(TRIM, wanted=101), WALK),
        (0, 0, 1, 2, 3 + 3),
    ),
    "wanted before the first day: late whenever": (
        plan(replace(TRIM, first=102, wanted=99)),
        (0, 0, 1, 3, 2),
    ),
    "five days apart are two visits, 100 and 105": (
        plan(TRIM, replace(WALK, after=(("trim", 5),))),
        (0, 0, 2, 0, 0 + 5),
    ),
    "no lag: both on 103": (
        plan(TRIM, replace(WALK, after=(("trim", 0),))),
        (0, 0, 1, 0, 3 + 3),
    ),
    "nine days apart there is no day for the second": (
        plan(TRIM, replace(WALK, after=(("trim", 9),))),
        (1, 0, 1, 0, 0),
    ),
    "the first has no day, so the second has none": (
        plan(replace(TRIM, first=90, last=99), replace(WALK, after=(("trim", 0),))),
        (2, 0, 0, 0, 0),
    ),
    "45 minutes hold only one of them: 100 and 103": (
        plan(TRIM, WALK, farms=(replace(FARM, minutes=45),)),
        (0, 0, 2, 0, 0 + 3),
    ),
    "beside the other it takes no minutes": (
        plan(TRIM, replace(WALK, beside="trim"), farms=(replace(FARM, minutes=30),)),
        (0, 0, 1, 0, 3 + 3),
    ),
    "alone it takes its own": (
        plan(replace(WALK, beside="trim"), farms=(replace(FARM, minutes=19),)),
        (1, 0, 0, 0, 0),
    ),
    "a promised day takes the job, days later": (
        plan(TRIM, farms=(replace(FARM, kept=(104,)),)),
        (0, 0, 1, 0, 4),
    ),
    "a promise is a visit without a job": (
        plan(farms=(replace(FARM, kept=(104, 106)),)),
        (0, 0, 2, 0, 0),
    ),
    "the farms do not share 100: the trim waits a day": (
        plan(TRIM, VET, farms=(FARM, replace(HILL, shares=True))),
        (0, 0, 2, 0, 1 + 0),
    ),
    "both share: both on 100": (
        plan(TRIM, VET, farms=(replace(FARM, shares=True), replace(HILL, shares=True))),
        (0, 0, 2, 0, 0),
    ),
    "a promise to a farm that does not share keeps the vet away": (
        plan(VET, farms=(replace(FARM, kept=(100,)), HILL)),
        (1, 0, 1, 0, 0),
    ),
    "70 minutes in one day are one too many for 69": (
        plan(
            TRIM,
            VET,
            farms=(replace(FARM, shares=True), replace(HILL, shares=True)),
            minutes=69,
        ),
        (0, 0, 2, 0, 1 + 0),
    ),
    "30 minutes of 100 are left, and enough": (plan(TRIM, taken=450), (0, 0, 1, 0, 0)),
    "29 minutes of 100 are left: 101": (plan(TRIM, taken=451), (0, 0, 1, 0, 1)),
    "100 is spoken for twice over": (plan(TRIM, taken=960), (0, 0, 1, 0, 1)),
    "one that is late on 104 goes first, though two others wait four days": (
        plan(
            replace(TRIM, wanted=100),
            replace(WALK, first=100, minutes=15),
            replace(WALK, id="look", first=100, minutes=15),
            farms=(replace(FARM, days=(100, 104), minutes=30),),
        ),
        (0, 0, 2, 0, 0 + 4 + 4),
    ),
    "two placed are better than one overdue placed at once": (
        plan(
            replace(TRIM, overdue=True, minutes=60),
            replace(WALK, first=100, last=100, minutes=10),
        ),
        (0, 1, 2, 0, 1 + 0),
    ),
    "of two on a shared day one waits for what is spoken for": (
        plan(
            replace(TRIM, minutes=5),
            replace(VET, minutes=10),
            farms=(replace(FARM, shares=True), replace(HILL, shares=True)),
            minutes=60,
            taken=49,
        ),
        (0, 0, 2, 0, 1 + 0),
    ),
    "35 minutes do not fit into 30 but beside the other, so both wait": (
        plan(
            replace(TRIM, minutes=5),
            replace(WALK, minutes=35, beside="trim"),
            farms=(replace(FARM, minutes=30, kept=(101,)),),
        ),
        (0, 0, 2, 0, 3 + 3),
    ),
    "35 minutes and 35 fit into 60 only where one is done beside a third": (
        plan(
            replace(TRIM, first=103, minutes=35),
            replace(WALK, bull="bull 3", last=105, minutes=35, beside="trim"),
            replace(TRIM, bull="bull 3", minutes=5),
            farms=(replace(FARM, minutes=480, kept=(100,)),),
            minutes=60,
        ),
        (0, 0, 2, 0, 3 + 3 + 3),
    ),
    "of two jobs kept away by a promise and an empty window, no visit is counted": (
        plan(VET, replace(TRIM, last=99), farms=(replace(FARM, kept=(100,)), HILL)),
        (2, 0, 1, 0, 0),
    ),
    "on a day spoken for twice over nothing, on the others as ever": (
        plan(
            replace(TRIM, minutes=5),
            replace(WALK, minutes=5, after=(("trim", 5),)),
            minutes=40,
            taken=41,
        ),
        (0, 0, 2, 0, 1 + 6),
    ),
    "a chain whose last is overdue: 100, 104 and 108, four days after its first": (
        plan(
            TRIM,
            replace(WALK, first=100, after=(("trim", 4),)),
            replace(WALK, id="look", first=104, overdue=True, after=(("walk", 4),)),
        ),
        (0, 4, 3, 0, 0 + 4 + 8),
    ),
}
