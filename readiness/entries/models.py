"""The shape of each of the seventeen kinds of entry: the one statement of its fields.

What else knows an entry's fields reads them off here: validation and JSON Schema (by pydantic),
the book's views, the export's tables, the forms. Fields that need each other (a claw that fits its
code, a score on its scale) are checked in ``checks``, after the shape stands.
"""

from typing import Annotated, Any, Literal, Required

from annotated_types import Interval, MaxLen
from typing_extensions import TypedDict  # typing's own is not enough before Python 3.12

from readiness.entries import called as c
from readiness.entries import fields as f
from readiness.entries.columns import Column, columns_of
from readiness.entries.fields import About, OneOf
from readiness.trade import body, bulls, examination, females
from readiness.trade.numbers import UNIT_OF

_CONFIG = {"extra": "forbid", "strict": True, "allow_inf_nan": False}
LIST_MOST = 200

_Part = Annotated[str, OneOf(tuple(body.PARTS))]
_Mm = Annotated[float, Interval(ge=1, le=300)]
_Percent = Annotated[float, Interval(ge=0, le=100)]


def foot_text(text: str) -> str:
    """What a column of feet is about, with what its words stand for."""
    return f"{text}: left fore, right fore, left hind, right hind"


def _foot(text: str, label: str = "") -> About:
    return About(foot_text(text), label=label)


_Foot = Annotated[f.Foot, _foot("The foot")]


class Common(TypedDict, total=False):
    """What every entry may say. ``recorded`` to ``who`` are an export's."""

    __pydantic_config__ = _CONFIG  # type: ignore[misc]
    on: Required[Annotated[f.Day, About("The day of which it is said")]]
    id: Annotated[f.EntryId, About("Id of the entry (a UUID)")]
    by: Annotated[f.Name, About("Who said so")]
    note: Annotated[f.Note, About("A note to the entry as a whole")]
    recorded: Annotated[f.Moment, About("When a book first took the entry in", "UTC")]
    position: Annotated[f.Position, About("Place in its batch")]
    batch: Annotated[f.Name, About("What it was written together with")]
    device: Annotated[f.Name, About("On which device")]
    who: Annotated[f.Name, About("Who wrote it down there")]


class OfBull(Common, total=False):
    bull: Required[Annotated[f.Name, About("The bull's tag", label="bull's tag")]]


class Bull(OfBull, total=False):
    kind: Required[Literal["bull"]]
    name: Annotated[f.Name, About("What he is called", label="his name")]
    breed: Annotated[f.Name, About("His breed, as written")]
    born: Annotated[f.Day, About("The day he was born, or the last it can have been")]
    born_from: Annotated[f.Day, About("The first it can have been, where the day is not known")]
    origin: Annotated[Literal["homebred", "bought", "hired"], About("Where he is from"), c.ORIGINS]
    arrived: Annotated[f.Day, About("The day he came")]
    temper: Annotated[
        Literal["quiet", "watch", "dangerous"], About("How to go near him"), c.TEMPERS
    ]
    heifer_safe: Annotated[
        bool, About("Whether he may go on heifers", label="safe on heifers"), c.ON_HEIFERS
    ]
    pen: Annotated[f.Name, About("Where he stands")]
    farm: Annotated[f.Name, About("Whose bull he is")]


class Weight(OfBull, total=False):
    kind: Required[Literal["weight"]]
    # Wide enough for a new-born calf and the heaviest bull; what lies outside is a slip of the pen.
    kg: Required[
        Annotated[
            float, Interval(ge=20, le=2500), About("Live weight", UNIT_OF["kg"], label="weight")
        ]
    ]


class _Group(Common, total=False):
    kind: Required[Literal["group"]]
    group: Required[Annotated[f.Name, About("Its name")]]
    farm: Annotated[f.Name, About("Whose it is")]
    turnout: Required[Annotated[f.Day, About("The day the bulls go out")]]
    weeks: Annotated[
        Annotated[int, Interval(ge=1, le=52)] | None,
        About("How long they stay", "weeks", label="season"),
    ]
    females: Annotated[
        Annotated[int, Interval(ge=0, le=10000)] | None,
        About("How many females", label="females in it"),
    ]


# "class" is a word of Python's own: it can only be named in a call.
_Class = TypedDict(
    "_Class",
    {
        "class": Annotated[
            Annotated[str, OneOf(females.FEMALES)] | None,
            About("What they are", label="cows or heifers"),
            c.CLASSES,
        ]
    },
    total=False,
)


class Group(_Group, _Class, total=False):
    pass


class Join(OfBull, total=False):
    kind: Required[Literal["join"]]
    group: Required[Annotated[f.Name | None, About("The group's name, on the bull's farm")]]
    role: Annotated[str, OneOf(bulls.ROLES), About("What he is there for", label="as"), c.ROLES]


class _OnFoot(TypedDict, total=False):
    __pydantic_config__ = _CONFIG  # type: ignore[misc]
    foot: Required[_Foot]


class _OfCode(_OnFoot, total=False):
    claw: Required[Annotated[f.Claw, About("outer, inner, both, or the skin of the foot")]]
    code: Required[
        Annotated[f.FindingCode, About("Short code of the ICAR Claw Health Atlas (XX: other)")]
    ]


class Finding(_OfCode, total=False):
    zone: Annotated[f.Zone, About("Zone of the foot, International Lameness Committee")]
    severity: Annotated[f.Severity, About("1 slight, 2 moderate, 3 severe")]
    stage: Annotated[f.Stage, About("Stage of digital dermatitis")]
    size_mm: Annotated[_Mm, About("How wide it is", "mm")]
    was: Annotated[f.FindingCode, About("The code it was called by before")]


class Healed(_OfCode, total=False):
    stable: Annotated[bool, About("Fit to work though not gone")]


class Work(_OnFoot, total=False):
    claw: Annotated[f.Claw, About("The claw, or the skin")]
    act: Required[Annotated[f.Act, About("What was done")]]


class Measure(_OnFoot, total=False):
    claw: Required[Annotated[f.HornClaw, About("The claw")]]
    wall_mm: Annotated[float, Interval(ge=20, le=300), About("Length of the front wall", "mm")]
    sole_mm: Annotated[
        float, Interval(ge=1, le=60), About("Thickness of the sole at the toe", "mm")
    ]
    groove_mm: Annotated[
        float, Interval(ge=0, le=200), About("A groove's distance below the coronet", "mm")
    ]


class Feet(OfBull, total=False):
    kind: Required[Literal["feet"]]
    lifted: Required[Annotated[list[_Foot], About("The feet that were lifted")]]
    refused: Annotated[list[_Foot], About("The feet that would not lift")]
    findings: Annotated[list[Finding], MaxLen(LIST_MOST), About("What was found")]
    healed: Annotated[list[Healed], MaxLen(LIST_MOST), About("What was seen healed")]
    work: Annotated[list[Work], MaxLen(LIST_MOST), About("What was done")]
    measures: Annotated[list[Measure], MaxLen(LIST_MOST), About("Horn measured")]


class _Block(OfBull, total=False):
    foot: Required[_Foot]
    claw: Required[Annotated[f.BlockClaw, About("The claw that carries it")]]


class BlockOn(_Block, total=False):
    kind: Required[Literal["block-on"]]


class BlockOff(_Block, total=False):
    kind: Required[Literal["block-off"]]
    lost: Annotated[bool, About("It came off by itself")]


class Mobility(OfBull, total=False):
    kind: Required[Literal["mobility"]]
    scale: Required[Annotated[f.MobilityScale, About("The scale of the score")]]
    score: Required[Annotated[f.MobilityScore, About("The score on that scale")]]
    limb: Annotated[f.Foot, _foot("The limb he was lame on")]


class Condition(OfBull, total=False):
    kind: Required[Literal["condition"]]
    scale: Required[Annotated[f.ConditionScale, About("The scale of the score")]]
    score: Required[Annotated[f.ConditionScore, About("The score on that scale")]]


_Examiner = Annotated[
    f.Name, About("Who examined him, where another wrote it down", label="examined by")
]


class Examined(TypedDict, total=False):
    __pydantic_config__ = _CONFIG  # type: ignore[misc]
    part: Required[Annotated[str, OneOf(tuple(examination.PARTS)), About("The part")]]
    how: Required[Annotated[str, OneOf(tuple(examination.WAYS)), About("How it was examined")]]


class VetExam(OfBull, total=False):
    kind: Required[Literal["vet-exam"]]
    outcome: Required[
        Annotated[
            Literal["satisfactory", "deferred", "unsatisfactory"],
            About("The vet's word"),
            c.OUTCOMES,
        ]
    ]
    again_on: Annotated[f.Day, About("When the vet will examine again")]
    scrotum_cm: Annotated[
        float,
        Interval(ge=10, le=70),
        About("Scrotal circumference", UNIT_OF["scrotum_cm"], label="scrotum"),
    ]
    collection: Annotated[
        str,
        OneOf(tuple(examination.COLLECTED)),
        About("How semen was got", label="semen by"),
        c.COLLECTED,
    ]
    motility_pct: Annotated[
        _Percent, About("Sperm that move forward", UNIT_OF["motility_pct"], label="motility")
    ]
    motility_by: Annotated[
        str,
        OneOf(tuple(examination.JUDGED)),
        About("How motility was judged: mass motion, single sperm, or by computer"),
    ]
    morphology: Annotated[
        bool,
        About("Whether the shape of his sperm was looked at", label="morphology done"),
        c.MORPHOLOGY,
    ]
    normal_pct: Annotated[
        _Percent, About("Normal sperm", UNIT_OF["normal_pct"], label="normal sperm")
    ]
    libido: Annotated[
        str,
        OneOf(tuple(examination.LIBIDO)),
        About("His libido, as the vet saw it"),
        c.LIBIDO,
    ]
    examined: Annotated[
        list[Examined], MaxLen(LIST_MOST), About("Which parts were examined, and how")
    ]
    feet_seen: Annotated[
        bool, About("The vet looked at his feet, too", label="feet looked at"), c.FEET_SEEN
    ]
    stands: Annotated[
        bool,
        About("The vet stands by satisfactory though a figure is low", label="stands by it"),
        c.STANDS,
    ]
    examiner: _Examiner


class VetLook(OfBull, total=False):
    kind: Required[Literal["vet-look"]]
    about: Required[
        Annotated[str, OneOf(tuple(body.ABOUT)), About("What about", label="looked at")]
    ]
    outcome: Required[
        Annotated[str, OneOf(tuple(body.OUTCOMES)), About("The vet's word", late=True)]
    ]
    again_on: Annotated[f.Day, About("When the vet will see him again")]
    foot: Annotated[f.Foot, _foot("The foot looked at", "which foot")]
    part: Annotated[_Part, About("The part of the body looked at", label="which part")]
    limb: Annotated[f.Foot, _foot("The limb of the joint")]
    examiner: _Examiner


class Body(OfBull, total=False):
    kind: Required[Literal["body"]]
    part: Required[Annotated[_Part, About("The part", label="which part")]]
    limb: Annotated[f.Foot, _foot("The limb of the joint")]
    state: Required[
        Annotated[str, OneOf(tuple(body.STATES)), About("How it is", label="how it is")]
    ]


class Incident(OfBull, total=False):
    kind: Required[Literal["incident"]]
    cause: Required[
        Annotated[Literal["fight", "fall", "transport", "illness", "other"], About("What it was")]
    ]
    lame: Annotated[bool, About("He was lame after it")]
    fever: Annotated[bool, About("He had a fever")]
    limb: Annotated[f.Foot, _foot("The limb that was hurt")]
    suspect: Annotated[str, OneOf(bulls.SUSPECTS), About("Where it is thought to be")]


class Treatment(OfBull, total=False):
    kind: Required[Literal["treatment"]]
    given_by: Required[Annotated[f.Name, About("Who gave it")]]
    product: Required[Annotated[f.Name, About("What, in words")]]
    reason: Annotated[f.Note, About("What for", label="for")]
    pain_relief: Annotated[bool, About("It relieves pain"), c.RELIEVES]
    withdrawal_until: Annotated[f.Day, About("The last day of withdrawal", label="withdrawal ends")]


class OwnCheck(OfBull, total=False):
    kind: Required[Literal["check"]]
    check: Required[Annotated[f.CheckName, About("Which check")]]
    result: Required[Annotated[Literal["pass", "fail"], About("How it went"), c.RESULTS]]
    laboratory: Annotated[f.Name, About("Which laboratory tested")]
    reading: Annotated[f.Note, About("The result as the laboratory wrote it", label="they wrote")]
    valid_until: Annotated[f.Day, About("The last day on which a pass holds")]


class Moved(OfBull, total=False):
    kind: Required[Literal["moved"]]
    act: Required[Annotated[str, OneOf(bulls.MOVES), About("Where to", label="he goes")]]
    reason: Annotated[str, OneOf(bulls.REASONS), About("Why", label="why")]


class Strike(Common, total=False):
    kind: Required[Literal["strike"]]
    entry: Required[Annotated[f.EntryId, About("Id of the entry taken back")]]
    why: Annotated[f.Note, About("Why")]


_SHAPES = (
    Bull, Weight, Group, Join, Feet, BlockOn, BlockOff, Mobility, Condition, VetExam, VetLook, Body,
    Incident, Treatment, OwnCheck, Moved, Strike,
)  # fmt: skip
KINDS: dict[str, Any] = {columns_of(shape)["kind"].words[0]: shape for shape in _SHAPES}


def own_columns(shape: Any) -> dict[str, Column]:
    """What a kind says beside whose it is and what every entry says, by key."""
    common = {"kind", *columns_of(OfBull)}
    return {key: column for key, column in columns_of(shape).items() if key not in common}
