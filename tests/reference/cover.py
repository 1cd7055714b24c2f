"""Whether the bulls of a group are enough for its females, counted in the plainest way.

``brute_cover`` reads entries in the order of their recording, as ``brute_board`` does. The chance
that the bulls last is summed over every set of them that may fail, in exact fractions. Where a
sentence can be understood in two ways, the understanding taken stands at the end of this module.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from functools import cache
from itertools import product
from typing import Any, NamedTuple

from .brute import as_date, assess, in_order, stories
from .figures import months_on
from .groups import Group, alike, of_heifers
from .state import Entry, Story, day_of
from .values import rule_values
from .went_out import Past

# Typed here a second time on purpose, as the other values are. A bull's females by his whole
# months at turnout: (the last whole month to which it holds, females), then those of any older.
COVER: dict[str, Any] = {
    "cover.females": ((14, 10), (17, 15), (23, 20), (35, 30), (72, 35), (None, 30)),
    "cover.females_unknown": 20,
    "cover.fails": Fraction(10, 100),
    "cover.fails_old": Fraction(35, 100),
    "cover.old": 60,  # whole months
    "cover.spares_most": 20,
    "cover.spare": 30,  # females of a spare bull where no other bull is there to go by
    "cover.gestation": 283,  # days, where the breed is not known
    "cover.gestations": {
        279: ("holstein friesian", "holstein", "friesian", "hf"),
        282: ("shorthorn", "beef shorthorn", "sh"),
        283: ("angus", "aberdeen angus", "aa"),
        285: ("hereford", "he"),
        289: ("limousin", "lim", "charolais", "ch", "simmental", "sim"),
        294: ("blonde", "blonde d'aquitaine", "ba"),
    },
}

Odds = tuple[int, Fraction]  # a bull's females, and how likely he is to fail
Row = dict[str, Any]


class Team(NamedTuple):
    """A group as last said: ``turnout`` an ordinal, ``over`` the last day of its season, ``before``
    that of the last season that had begun by today as it was said then, this one or one before.
    ``of``: what it is called; ``heifers``: whether who is not safe with them is held in it."""

    farm: str | None
    name: str
    turnout: int
    over: int
    of: str
    heifers: bool
    females: int | None
    before: int


class Bull(NamedTuple):
    """A bull on the board, the name of the group that he is in today, and his story any day."""

    story: Story
    group: str | None
    past: Past

    @property
    def farm(self) -> str | None:
        farm: str | None = self.story.bull.get("farm")
        return farm

    @property
    def tag(self) -> str:
        return str(self.story.bull["bull"])

    def works_in(self, team: Team) -> bool:
        mine = (self.farm, self.group) == (team.farm, team.name)
        return mine and self.story.role == "worker"


class Worker(NamedTuple):
    """What a bull is worth as a worker of a group; ``ready``: his earliest day, None for never."""

    females: int
    fails: Fraction
    gestation: int
    go: bool
    ready: int | None
    forecast: bool
    out: int | None

    @property
    def odds(self) -> Odds:
        return self.females, self.fails


class Herd(NamedTuple):
    """Everything said up to today: bulls on the board and groups whose season is not over."""

    today: int
    values: dict[str, Any]
    teams: list[Team]
    bulls: list[Bull]

    def workers(self, team: Team) -> list[Worker]:
        return [self.as_worker(bull, team) for bull in self.bulls if bull.works_in(team)]

    def as_worker(self, bull: Bull, team: Team) -> Worker:
        """He as a worker of that group, whether he is one or not."""
        group = Group(team.name, team.turnout, team.heifers)
        said = assess(bull.story, group, self.today, bull.past)
        ready = said["earliest_ready"].toordinal() if said["earliest_ready"] else None
        go = said["status"] == "GO"
        # out on hire he is with nobody's females here
        away = bull.story.on_hire and bool(bull.story.out)
        born, breed = bull.story.bull.get("born"), bull.story.bull.get("breed")
        # born between two days: of all the ages that he may have the one that carries fewest, and
        # as likely to fail as the oldest
        months = whole_months(day_of(born), team.turnout) if born else None
        first = bull.story.bull.get("born_from", born)
        oldest = whole_months(day_of(first), team.turnout) if first else None
        ages = range(months, oldest + 1) if months is not None and oldest is not None else [None]
        return Worker(
            min(females_for(age, self.values) for age in ages),
            failing(oldest, self.values),
            gestation(breed, self.values),
            go and not away,
            ready,
            forecast=(go and not away) or (ready is not None and ready <= team.turnout),
            out=bull.story.went_out if bull.story.out else None,
        )


def brute_cover(
    entries: list[Entry],
    on: date,
    rules: dict[str, Any] | None = None,
    turnout: date | None = None,
    females: int | None = None,
) -> list[Row]:
    """Every group whose season is not over on ``on``, by farm and name.

    ``entries`` and ``rules`` as ``brute_board`` takes them, ``rules`` also with other values than
    those of ``COVER``. ``turnout``, ``females``: what if every group's were that. Days are dates,
    the chance is a fraction. What asks for females is None where they are not said.
    """
    herd = told(entries, on, rules, turnout, females)
    return [cover_of(herd, team) for team in herd.teams]


def told(
    entries: list[Entry],
    on: date,
    rules: dict[str, Any] | None,
    turnout: date | None,
    females: int | None,
) -> Herd:
    """What is known of bulls and groups on ``on``."""
    mine = {name: value for name, value in (rules or {}).items() if name in COVER}
    others = {name: value for name, value in (rules or {}).items() if name not in COVER}
    values, today = rule_values(others), on.toordinal()
    bulls = [
        Bull(story, group.name if group else None, past)
        for story, group, past in stories(entries, today, values, turnout)
    ]
    teams = teams_said(entries, today, values["group.weeks"], turnout, females)
    return Herd(today, COVER | mine, teams, bulls)


def teams_said(
    entries: list[Entry], today: int, usual_weeks: int, turnout: date | None, females: int | None
) -> list[Team]:
    said: dict[tuple[str, str], Entry] = {}
    begun: dict[tuple[str, str], Entry] = {}
    for entry in in_order(entries):
        # a name is another group on another farm; what is said later overlays what was said before
        if entry["kind"] == "group" and day_of(entry["on"]) <= today:
            place = entry.get("farm") or "", alike(entry["group"])
            said[place] = said.get(place, {}) | entry
            if day_of(said[place]["turnout"]) <= today:
                begun[place] = said[place]
    teams = []
    for place, group in sorted(said.items()):
        day = turnout.toordinal() if turnout else day_of(group["turnout"])
        over = last_day(group, day, usual_weeks)
        first = begun.get(place)
        before = last_day(first, day_of(first["turnout"]), usual_weeks) if first else 0
        of, heifers = group.get("class") or "cows", of_heifers(group)
        count = group.get("females") if females is None else females
        if today <= over:
            farm, name = group.get("farm"), group["group"]
            teams.append(Team(farm, name, day, over, of, heifers, count, before))
    return teams


def last_day(group: Entry, turnout: int, usual_weeks: int) -> int:
    weeks = group.get("weeks")
    return turnout + 7 * (usual_weeks if weeks is None else weeks)


def cover_of(herd: Herd, team: Team) -> Row:
    """One group."""
    workers, values = herd.workers(team), herd.values
    forecast = [worker for worker in workers if worker.forecast]
    odds = [worker.odds for worker in forecast]
    days = [worker.gestation for worker in forecast] or [gestation(None, values)]
    unsaid = team.females is None
    need = team.females or 0
    row = {
        "farm": team.farm,
        "group": team.name,
        "turnout": as_date(team.turnout),
        "class": team.of,
        "females": team.females,
        "workers": len(workers),
        "capacity_go": sum(worker.females for worker in workers if worker.go),
        "capacity_forecast": sum(worker.females for worker in forecast),
        "short": short(need, forecast),
        "covered_from": as_date(covered_from(need, workers, herd.today)),
        "chance": chance(odds, need),
        "spare_for_90": spares(odds, need, Fraction(90, 100), values),
        "spare_for_95": spares(odds, need, Fraction(95, 100), values),
        # who was let out before turnout has served since, but not one whom nobody brought in after
        # a season that is over
        "first_calf": as_date(
            min(
                [
                    team.turnout,
                    *(
                        w.out
                        for w in forecast
                        if w.out is not None
                        and not (team.before < herd.today and w.out <= team.before)
                    ),
                ]
            )
            + min(days)
        ),
        "last_calf": as_date(team.over + max(days)),
    }
    if unsaid:
        row |= dict.fromkeys(("short", "covered_from", "chance", "spare_for_90", "spare_for_95"))
    return row


def whole_months(born: int, day: int) -> int:
    """How many months of the calendar lie between two days; none where the second comes first."""
    months = 0
    while months_on(born, months + 1) <= day:
        months += 1
    return months


def females_for(months: int | None, values: dict[str, Any]) -> int:
    if months is None:
        return int(values["cover.females_unknown"])
    table = values["cover.females"]
    return int(next(count for last, count in table if last is None or months <= last))


def failing(months: int | None, values: dict[str, Any]) -> Fraction:
    # of an age that nobody knows: as a young one
    old = months is not None and months >= values["cover.old"]
    return Fraction(values["cover.fails_old" if old else "cover.fails"])


def gestation(breed: str | None, values: dict[str, Any]) -> int:
    """Days that a cow carries his calf."""
    named = " ".join((breed or "").replace("-", " ").casefold().split())
    known = [days for days, names in values["cover.gestations"].items() if named in names]
    return int(known[0] if known else values["cover.gestation"])


def short(females: int, forecast: Sequence[Worker]) -> int:
    return max(0, females - sum(worker.females for worker in forecast))


def covered_from(females: int, workers: Sequence[Worker], today: int) -> int | None:
    """The first day on which those who are ready by then are enough."""
    # nothing changes on a day on which nobody becomes ready
    for day in sorted({today, *(w.ready for w in workers if w.ready is not None)}):
        ready = [w for w in workers if w.go or (w.ready is not None and w.ready <= day)]
        if sum(w.females for w in ready) >= females:
            return day
    return None


ENUMERATED = 14  # bulls, of whom every set is tried


def chance(bulls: Sequence[Odds], females: int) -> Fraction:
    """How likely it is that those who do not fail are enough."""
    by = by_every_set if len(bulls) <= ENUMERATED else by_one_after_another
    return by(bulls, females)


def by_every_set(bulls: Sequence[Odds], females: int) -> Fraction:
    total = Fraction(0)
    for failed in product((False, True), repeat=len(bulls)):
        likely, left = Fraction(1), 0
        for (count, fails), fell in zip(bulls, failed, strict=True):
            likely *= fails if fell else 1 - fails
            left += 0 if fell else count
        if left >= females:
            total += likely
    return total


def by_one_after_another(bulls: Sequence[Odds], females: int) -> Fraction:
    @cache
    def enough(place: int, wanting: int) -> Fraction:
        if place == len(bulls):
            return Fraction(wanting <= 0)
        count, fails = bulls[place]
        lasts, fell = enough(place + 1, wanting - count), enough(place + 1, wanting)
        return (1 - fails) * lasts + fails * fell

    return enough(0, females)


def spares(
    bulls: Sequence[Odds], females: int, wanted: Fraction, values: dict[str, Any]
) -> int | None:
    """How many bulls more make that chance, each of the lower median of those there are."""
    counts = sorted(count for count, _ in bulls)
    count = counts[(len(counts) - 1) // 2] if counts else int(values["cover.spare"])
    spare = count, Fraction(values["cover.fails"])
    for more in range(values["cover.spares_most"] + 1):
        if chance([*bulls, *[spare] * more], females) >= wanted:
            return more
    return None


# AMBIGUOUS: what can be understood in two ways, and what was taken here.
#
# - ready by turnout, turnout passed: whoever could go out today is in time, as T is today then; age
#   and calves are still counted at the group's own turnout.
# - whole months: a month is over on the same day of the next, or on its last day where it has no
#   such day (born on 31 January, one month on 28 February), as for the least age.
# - not born yet at turnout: no month old.
# - breed: the whole of what is written must be a name or letters that are known, capitals, hyphens
#   and spaces aside; a cross is not known.
# - females said to be none: none short, covered today, sure to last, no spare; not the same as
#   females not said.
# - a chance that is reached exactly is reached: one bull at 1 in 10 has the chance of 90 in 100.
# - first and last calf: said whether or not females are.
# - workers: those out and those that are not ready as well.
# - a group is listed though it has no bull; groups stand by farm (none first) and name.
# - what if every group had so many females: those that do not say it as well.
