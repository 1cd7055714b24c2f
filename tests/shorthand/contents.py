"""Hypothesis strategies for every content that shorthand can say, of one bull and day."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from readiness.entries.validate import validate
from readiness.shorthand import Scales
from readiness.shorthand import lexicon as lex
from readiness.trade.codes import CODES, STAGES, claw_words
from readiness.trade.feet import ACTS, CLAWS, FEET, HORN_CLAWS, claws_overlap
from readiness.trade.scales import CONDITION, MOBILITY

Content = dict[str, Any]
ON = "2026-04-03"
SCALES = Scales("gb0-3", "five")

feet = st.sampled_from(FEET)
flags = st.booleans()
days = st.dates().filter(lambda d: 1990 <= d.year <= 2100).map(str)
# Words that could be read as something else, and characters that shorthand has a use for.
TRICKY = (
    "seen",
    "lab",
    "says",
    "cm",
    "none",
    "reserve",
    "pain",
    "not",
    "until",
    "for",
    "ok",
    "lf",
    "3 apr",
    ";",
    '"',
    ":",
    ",",
)
texts = st.one_of(
    st.text(max_size=12),
    st.lists(st.sampled_from((*TRICKY, "Hill", "cows", "20 mg/ml")), max_size=4).map(" ".join),
)


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.one_of(
        st.integers(int(low), int(high)),
        st.floats(low, high, allow_subnormal=False).map(lambda x: round(x, 3)),
    )


examined = st.fixed_dictionaries(
    {"part": st.sampled_from(lex.EXAMINED), "how": st.sampled_from(lex.WAYS)}
)


def of_kind(kind: str, required: Content, **optional: Any) -> st.SearchStrategy[Content]:
    return st.fixed_dictionaries(
        {"kind": st.just(kind), **required}, optional={"note": texts, **optional}
    )


@st.composite
def places(draw: st.DrawFn, lifted: list[str]) -> Content:
    code = draw(st.sampled_from(sorted(CODES)))
    claw = draw(st.sampled_from(claw_words(code)))
    return {"foot": draw(st.sampled_from(lifted)), "claw": claw, "code": code}


@st.composite
def findings(draw: st.DrawFn, lifted: list[str]) -> Content:
    place = draw(places(lifted))
    others = sorted(set(CODES) - {place["code"]})
    more: Content = {
        "zone": st.integers(0, 12),
        "severity": st.integers(1, 3),
        "size_mm": numbers(1, 300),
        "was": st.sampled_from(others),
    }
    if place["code"] == "DD":
        more["stage"] = st.sampled_from(STAGES)
    return place | draw(st.fixed_dictionaries({}, optional=more))


@st.composite
def healed(draw: st.DrawFn, lifted: list[str]) -> Content:
    return draw(places(lifted)) | draw(st.fixed_dictionaries({}, optional={"stable": flags}))


def work(lifted: list[str]) -> st.SearchStrategy[Content]:
    return st.fixed_dictionaries(
        {"foot": st.sampled_from(lifted), "act": st.sampled_from(ACTS)},
        optional={"claw": st.sampled_from(CLAWS)},
    )


def measures(lifted: list[str]) -> st.SearchStrategy[Content]:
    sizes: Content = {
        "wall_mm": numbers(20, 300),
        "sole_mm": numbers(1, 60),
        "groove_mm": numbers(0, 200),
    }
    place = {"foot": st.sampled_from(lifted), "claw": st.sampled_from(HORN_CLAWS)}
    return st.fixed_dictionaries(place, optional=sizes).filter(lambda m: len(m) > len(place))


def _gone(item: Content, found: list[Content]) -> bool:
    """Whether it may be listed healed beside what was found."""
    same = [f for f in found if (f["foot"], f["code"]) == (item["foot"], item["code"])]
    return not any(claws_overlap(f["claw"], item["claw"]) for f in same)


@st.composite
def feet_entries(draw: st.DrawFn) -> Content:
    named = draw(st.permutations(FEET))[: draw(st.integers(1, 4))]
    up = draw(st.integers(0, len(named)))
    lifted, refused = list(named[:up]), list(named[up:])
    content: Content = {"kind": "feet", "lifted": lifted}
    if refused:
        content["refused"] = refused
    if lifted:
        found = draw(st.lists(findings(lifted), max_size=4))
        content["findings"] = found
        gone = draw(st.lists(healed(lifted), max_size=3))
        content["healed"] = [item for item in gone if _gone(item, found)]
        content["work"] = draw(st.lists(work(lifted), max_size=4))
        content["measures"] = draw(st.lists(measures(lifted), max_size=3))
    return content | draw(st.fixed_dictionaries({}, optional={"note": texts}))


def scored(kind: str, scale: str, low: int, high: int, step: float, **more: Any) -> Any:
    scores = st.integers(0, int((high - low) / step)).map(lambda n: low + n * step)
    return of_kind(kind, {"scale": st.just(scale), "score": scores}, **more)


def one_of(words: Any) -> st.SearchStrategy[str]:
    return st.sampled_from(sorted(words))


KINDS: dict[str, st.SearchStrategy[Content]] = {
    "feet": feet_entries(),
    "block-on": of_kind("block-on", {"foot": feet, "claw": one_of(("outer", "inner"))}),
    "block-off": of_kind(
        "block-off", {"foot": feet, "claw": one_of(("outer", "inner"))}, lost=flags
    ),
    "mobility": st.one_of(
        *(scored("mobility", s.id, s.low, s.high, s.step, limb=feet) for s in MOBILITY.values())
    ),
    "condition": st.one_of(
        *(scored("condition", s.id, s.low, s.high, s.step) for s in CONDITION.values())
    ),
    "weight": of_kind("weight", {"kg": numbers(20, 2500)}),
    "incident": of_kind(
        "incident",
        {"cause": one_of(lex.INCIDENTS.values())},
        lame=flags,
        fever=flags,
        limb=feet,
        suspect=one_of(lex.SUSPECTS),
    ),
    "vet-exam": of_kind(
        "vet-exam",
        {"outcome": one_of(lex.OUTCOMES.values())},
        again_on=days,
        scrotum_cm=numbers(10, 70),
        collection=one_of(lex.COLLECTED.values()),
        motility_pct=numbers(0, 100),
        motility_by=one_of(lex.JUDGED),
        morphology=flags,
        normal_pct=numbers(0, 100),
        libido=one_of(lex.LIBIDO.values()),
        examined=st.lists(examined, max_size=5, unique_by=lambda item: (item["part"], item["how"])),
        feet_seen=flags,
        stands=flags,
        examiner=texts,
    ),
    "vet-look": of_kind(
        "vet-look",
        {"about": one_of(lex.ABOUT), "outcome": one_of(lex.LOOKS)},
        again_on=days,
        foot=feet,
        part=one_of(lex.BODY_PARTS),
        limb=feet,
        examiner=texts,
    ),
    "body": of_kind(
        "body",
        {"part": one_of(lex.BODY_PARTS), "state": one_of(lex.BODY_STATES)},
        limb=feet,
    ),
    "treatment": of_kind(
        "treatment",
        {"given_by": texts, "product": texts},
        reason=texts,
        pain_relief=flags,
        withdrawal_until=days,
    ),
    "check": of_kind(
        "check",
        {
            "check": st.from_regex(r"[A-Za-z0-9-]{1,10}", fullmatch=True),
            "result": one_of(("pass", "fail")),
        },
        laboratory=texts,
        reading=texts,
        valid_until=days,
    ),
    "moved": of_kind("moved", {"act": one_of(lex.MOVES)}, reason=one_of(lex.REASONS)),
    "join": of_kind("join", {"group": st.none() | texts}, role=one_of(lex.ROLES)),
}


def _goes_with(raw: Content, key: str) -> bool:
    """Whether a field that needs another one's word has it; drawn at random most would not."""
    needs: dict[str, bool] = {
        "again_on": raw.get("outcome") in ("deferred", "again"),
        "valid_until": raw.get("result") == "pass",
        **dict.fromkeys(
            ("motility_pct", "motility_by", "morphology", "normal_pct"),
            raw.get("collection") != "no-sample",
        ),
        "stands": raw.get("outcome") == "satisfactory",
        "foot": raw["kind"] != "vet-look" or raw["about"] in ("foot", "lame"),
        "part": raw["kind"] != "vet-look" or raw["about"] == "body",
        "limb": raw["kind"] not in ("body", "vet-look") or raw.get("part") == "joint",
    }
    if raw["kind"] == "vet-look" and raw["about"] != "body":
        needs["limb"] = False
    return needs.get(key, True)


def canonical_content(raw: Content, by: str | None) -> Content | None:
    """The content as the book would keep it; None where the draw is not valid."""
    raw = {key: value for key, value in raw.items() if _goes_with(raw, key)}
    if raw.get("morphology") is False:
        raw.pop("normal_pct", None)
    common = {"on": ON, "bull": "00417"} | ({"by": by} if by else {})
    content, _ = validate(raw | common)
    return content


def contents(kind: str, by: str | None = None) -> st.SearchStrategy[Content]:
    """Valid canonical contents of one kind."""
    drawn = KINDS[kind].map(lambda raw: canonical_content(raw, by))
    return drawn.filter(lambda content: content is not None).map(lambda content: content or {})


def any_contents(by: str | None = None) -> st.SearchStrategy[list[Content]]:
    """Some entries of one bull, day and person."""
    return st.lists(st.one_of(*(contents(kind, by) for kind in KINDS)), min_size=1, max_size=4)
