"""Every rule that is a single number or a yes or no, and the ranges of such values."""

from typing import Annotated, NamedTuple

from readiness.rules import shapes
from readiness.rules.shapes import DAYS, MOST_DAYS, Shape, whole
from readiness.trade.codes import SEVERITIES

DAY_MINUTES = 1440
Days = Annotated[int, Shape(DAYS, whole(0, MOST_DAYS))]
YesNo = Annotated[bool, Shape("yes or no", shapes.yes_no, shapes.yes_no_said)]
Minutes = Annotated[int, Shape("minutes", whole(0, DAY_MINUTES))]
Severity = Annotated[int, Shape("severity", whole(0, max(SEVERITIES)), shapes.severity_said)]
Percent = Annotated[int, Shape("%", whole(0, 100))]
Females = Annotated[int, Shape("females", whole(0, 200))]
Gestation = Annotated[int, Shape(DAYS, whole(240, 320))]
FewDays = Annotated[int, Shape(DAYS, whole(1, 60))]
FewOrNone = Annotated[int, Shape(DAYS, whole(0, 60))]
Count = Annotated[int, Shape("count", whole(0, 20), str)]


class Limits(NamedTuple):
    """Every single-number rule, in the unit of its ``Value``; the rule id is the name with its
    first ``_`` read as ``.``."""

    feet_oldest: Days
    feet_due: Days
    feet_advised: Days
    trim_settle: Days
    lame_lift: Days
    lame_lift_worst: Days
    lame_long: Days
    clear_after_open: Days
    severity_unsaid: Annotated[
        int, Shape("severity", whole(1, max(SEVERITIES)), shapes.severity_said)
    ]
    rename_anew: Annotated[tuple[str, ...], Shape("codes", shapes.codes, shapes.listed)]
    block_least: Days
    block_most: Days
    block_settle: Days
    block_look: Days
    block_wrong: Days
    wrap_most: Days
    pain_settle: Days
    mobility_oldest: Days
    mobility_again: Days
    mobility_late: Days
    incident_settle: Days
    incident_settle_back: Days
    illness_settle: Days
    age_least: Annotated[int, Shape("months", whole(0, 60))]
    condition_oldest: Days
    condition_again: Days
    condition_late: Days
    vet_oldest: Days
    vet_advised: Days
    vet_again: Days
    vet_after_illness: Days
    vet_lame_days: Days
    vet_look: Days
    vet_look_again: Days
    vet_memory: Days
    vet_required: YesNo
    lame_transport: YesNo
    vet_worst_walk: YesNo
    vet_nothing_found: YesNo
    vet_refused: YesNo
    vet_explains: Severity
    vet_doubts: YesNo
    test_doubts: YesNo
    heifers_safe: YesNo
    booking_stands: YesNo
    copies_agree: YesNo
    seen_ahead: Days
    out_told: YesNo
    withdrawal_shown: YesNo
    quarantine_days: Days
    tight_days: Days
    heavy_kg: Annotated[int, Shape("kg", whole(1, 3000))]
    sole_thin: Annotated[int, Shape("mm", whole(0, 50))]
    wall_guard: Annotated[int, Shape("mm", whole(0, 300))]
    stage_m2_from: Annotated[int, Shape("mm", whole(1, 300))]
    weight_drop: Annotated[int, Shape("%", whole(1, 100))]
    weight_drop_days: Days
    group_weeks: Annotated[int, Shape("weeks", whole(1, 52))]
    look_slack: Annotated[
        float, Shape("part of the interval", shapes.part, "{:g} of the interval".format)
    ]
    look_farmer: Days
    motility_least: Percent
    normal_least: Percent
    pain_words: Annotated[tuple[str, ...], Shape("words", shapes.words, shapes.listed)]
