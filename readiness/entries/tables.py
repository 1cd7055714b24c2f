"""Which table each kind of entry goes to, and its columns: those of the book's views and of the
export alike. Lists have tables of their own, in long form: a row for each finding."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from readiness.entries.columns import Column, columns_of
from readiness.entries.fields import ID_LENGTH, NAME_MOST
from readiness.entries.models import KINDS, LIST_MOST, Common, OfBull, Strike, own_columns

_COMMON = columns_of(Common)

ENTRY = Column(
    "entry",
    "string",
    "Id of the entry in entries.jsonl (a UUID)",
    required=True,
    longest=ID_LENGTH,
)
LINE = Column(
    "line", "integer", "Place in that entry's list, from 1", required=True, least=1, most=LIST_MOST
)
ON = _COMMON["on"]
BULL = replace(columns_of(OfBull)["bull"], text="The bull's tag, as he was booked last")
TAIL = (_COMMON["by"], _COMMON["note"], replace(_COMMON["recorded"], required=True))
"""What ends each row: who said so, a note, the moment."""


class EntryTable(NamedTuple):
    """A table of what was said: a row for each entry of its ``kinds``, or for each item of their
    ``lists``. ``told``: the column that says which of the kinds, or lists, a row is from; what
    stands in lists of plain words is the column ``item``."""

    name: str
    kinds: tuple[str, ...]
    title: str
    text: str
    lists: tuple[str, ...] = ()
    item: str = ""
    told: Column | None = None

    @property
    def of_bull(self) -> bool:
        return "bull" in columns_of(KINDS[self.kinds[0]])

    @property
    def key(self) -> tuple[Column, ...]:
        return (ENTRY, LINE) if self.lists else (ENTRY,)

    @property
    def columns(self) -> tuple[Column, ...]:
        taken = ", ".join(self.may_be_taken_away)
        away = Column("taken_away", "string", f"Which of {taken} no longer hold, parted by spaces")
        return (
            *self.key, ON, *((BULL,) if self.of_bull else ()),
            *self.own, *((away,) if taken else ()), *TAIL,
        )  # fmt: skip

    @property
    def own(self) -> tuple[Column, ...]:
        """The fields of its kinds but for their lists, or those of its lists' items."""
        told = (self.told,) if self.told else ()
        fields = {k: v for kind in self.kinds for k, v in own_columns(KINDS[kind]).items()}
        if not self.lists:
            return (*told, *(field for field in fields.values() if field.type != "array"))
        item = fields[self.lists[0]].item
        if isinstance(item, Column):
            return (replace(item, name=self.item, required=True), *told)
        return tuple(columns_of(item).values())

    @property
    def may_be_taken_away(self) -> list[str]:
        """The fields of which null says something else than silence: empty tells no more."""
        return [column.name for column in self.own if column.null and not column.required]


def _word(name: str, text: str, words: tuple[str, ...]) -> Column:
    return Column(name, "string", text, required=True, words=words)


TABLES = (
    EntryTable("bookings", ("bull",), "What was said of the bulls themselves",
        "Said again, later fields replace earlier ones; the table bulls puts them together."),
    EntryTable("group_said", ("group",), "What was said of the groups of females",
        "Said again, later fields replace earlier ones, and what is not said stays; the table "
        "groups puts them together."),
    EntryTable("memberships", ("join",), "Which bull goes with which group",
        "An empty group takes him out of his."),
    EntryTable("lifts", ("feet",), "Feet lifted and feet refused",
        "A row for each foot; a foot lifted without a finding was seen and had none.",
        ("lifted", "refused"), "foot",
        _word("outcome", "Lifted, or could not be", ("lifted", "refused"))),
    EntryTable("findings", ("feet",), "What was found on the feet",
        "A row for each finding of a lift; found again it keeps severity and stage unless said.",
        ("findings",)),
    EntryTable("healed", ("feet",), "What was seen healed",
        "As it was said: whether it counts as healed depends on the day (see open_findings).",
        ("healed",)),
    EntryTable("work", ("feet",), "What was done on the feet",
        "No claw means the foot as a whole.", ("work",)),
    EntryTable("measures", ("feet",), "Horn measured",
        "A wall measured says nothing of the sole.", ("measures",)),
    EntryTable("blocks", ("block-on", "block-off"), "Blocks fitted, taken off and lost",
        "The claw is the one that carries the block.",
        told=_word("act", "Fitted, or off again", ("on", "off"))),
    EntryTable("mobility", ("mobility",), "How he walked",
        "A score is on its own scale and is never converted: gb0-3 and nz0-3 run from 0 (sound) "
        "to 3, five1-5 from 1 (sound) to 5."),
    EntryTable("condition", ("condition",), "His condition",
        "A score is on its own scale and is never converted: five runs from 1 to 5, nine from 1 "
        "to 9."),
    EntryTable("weights", ("weight",), "What he weighed", "How he was weighed is not asked."),
    EntryTable("vet_exams", ("vet-exam",), "Breeding examinations by a vet",
        "The vet's outcome, of that day only."),
    EntryTable("vet_examined", ("vet-exam",), "Which parts a vet examined, and how",
        "A row for each part and way; what is not here was not written down.", ("examined",)),
    EntryTable("vet_looks", ("vet-look",), "What a vet looked at",
        "Apart from the breeding examination. A look of an older book may have no outcome."),
    EntryTable("body", ("body",), "Parts of the body, beside the feet",
        "As it was seen; what is wrong there is for the vet to say."),
    EntryTable("incidents", ("incident",), "Fights, falls, illness",
        "What happened to him, as it was seen."),
    EntryTable("treatments", ("treatment",), "What he was given",
        "Written down in words; no dose. Withdrawal is as the label or the vet said."),
    EntryTable("checks", ("check",), "The farm's own checks, and tests",
        "By the names of the farm's own rules; a test's day is that of its sample."),
    EntryTable("moves", ("moved",), "Out, in, and left",
        "Out with females, in again, or gone from the farm."),
)  # fmt: skip

_AIM, *_WHY = own_columns(Strike).values()
STRIKE_COLUMNS = (
    ENTRY,
    ON,
    replace(_AIM, name="struck", longest=ID_LENGTH),
    Column(
        "struck_kind",
        "string",
        "What kind of entry that is; empty where the book does not hold it",
        longest=NAME_MOST,
    ),
    *_WHY,
    *TAIL,
)
"""The columns of the table of strikes: what is withdrawn stands in no other table."""
