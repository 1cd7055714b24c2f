"""An entry in plain words, as it is read back to the person who wrote it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Any

from readiness.shorthand.lexicon import CAUSE_TO_WORD, FEET_LISTS
from readiness.system.plain import plain
from readiness.trade.ages import BORN, birth_in
from readiness.trade.body import STATES, part_words
from readiness.trade.codes import CODES, finding_words
from readiness.trade.examination import COLLECTED, JUDGED, LIBIDO, examined_words
from readiness.trade.feet import ACT_DONE, FEET, MEASURES, feet_words, spot_words
from readiness.trade.scales import score_words
from readiness.trade.words import day_words, list_words, number_words, plural, sentence

Content = Mapping[str, Any]
Here = dict[str, list[Content]]
"""What is said of one claw, or of the foot as a whole, by the list that it stands in."""


def feet_sentences(content: Content) -> str:
    """What was seen and done on each spot ("RH outer: sole ulcer, moderate, zone 4; pared,
    dressed."); the feet on which only the same was done; those with nothing to note; those refused.
    """
    sentences: list[str] = []
    quiet: list[str] = []
    worked: dict[str, list[str]] = {}
    for foot in content["lifted"]:
        spots = _spots(content, foot)
        claws = list(spots)
        if claws in ([None], ["both"]) and list(spots[claws[0]]) == ["work"]:
            both = ", both claws" if claws == ["both"] else ""
            worked.setdefault(f"{both}: {_done(spots[claws[0]])}", []).append(foot)
        else:
            sentences += [_spot(foot, claw, here) for claw, here in spots.items()]
        if not spots:
            quiet.append(foot)
    sentences += [sentence(f"{feet_words(feet)}{done}") for done, feet in worked.items()]
    if quiet:
        sentences.append(sentence(f"{feet_words(quiet)} lifted, nothing to note"))
    if refused := content.get("refused"):
        every = len(refused) == len(FEET)
        sentences.append(
            "No foot could be lifted."
            if every
            else sentence(f"{feet_words(refused)} would not lift")
        )
    return " ".join(sentences)


def _spots(content: Content, foot: str) -> dict[str | None, Here]:
    """The claws of a foot that something is said of, in the order said, each with that."""
    spots: dict[str | None, Here] = {}
    for key in FEET_LISTS:
        for item in content.get(key, ()):
            if item["foot"] == foot:
                spots.setdefault(item.get("claw"), {}).setdefault(key, []).append(item)
    return spots


def _spot(foot: str, claw: str | None, here: Here) -> str:
    parts = [_finding(item) for item in here.get("findings", ())]
    parts += [_healed(item) for item in here.get("healed", ())]
    parts += [_done(here)] if "work" in here else []
    parts += [_measure(item) for item in here.get("measures", ())]
    return sentence(f"{spot_words(foot, claw)}: {'; '.join(parts)}")


def _done(here: Here) -> str:
    return ", ".join(ACT_DONE[item["act"]] for item in here["work"])


def _finding(item: Content) -> str:
    parts = [finding_words(item["code"], item.get("severity"), item.get("stage"))]
    if "zone" in item:
        parts.append(f"zone {item['zone']}")
    if "size_mm" in item:
        parts.append(f"{number_words(item['size_mm'])} mm")
    if "was" in item:
        parts.append(f"called {CODES[item['was']].name} before")
    return ", ".join(parts)


def _healed(item: Content) -> str:
    stable = {None: "healed", True: "fit to work though not gone", False: "healed, and gone"}
    return f"{CODES[item['code']].name} {stable[item.get('stable')]}"


def _measure(item: Content) -> str:
    return list_words(
        f"{word} {number_words(item[key])} mm" for key, word in MEASURES.items() if key in item
    )


# ---- every kind of entry -------------------------------------------------------------------------

Saying = str | tuple[str, str] | Mapping[str, str] | Callable[[Any], str]
"""A text with the field's value in place of {}; of a flag the words for yes and for no; the words
for each value, or what makes them."""

_DAYS = ("born", "arrived", "turnout", "again_on", "withdrawal_until", "valid_until")


def words(content: Content) -> str:
    """One or more plain sentences for any kind of entry, its note at the end."""
    head, fields = _SAYINGS[content["kind"]]
    head = head.format_map(content) if isinstance(head, str) else head(content)
    more = (_said(content, key, saying) for key, saying in fields.items() if key in content)
    text = plain(_listed(head, more))
    note = content.get("note")
    return f"{text} Note: {plain(note)}" if note else text


def _listed(head: str, more: Iterable[str]) -> str:
    """The sentence "Head: one, two.", or "Head." where nothing more is said."""
    said = ", ".join(text for text in more if text)
    return sentence(f"{head}: {said}" if said else head)


def _said(content: Content, key: str, saying: Saying) -> str:
    value = content[key]
    if isinstance(saying, tuple):
        return saying[0] if value else saying[1]
    if isinstance(saying, Mapping):
        return saying[value]
    if callable(saying):
        return saying(value)
    if key == BORN and (birth := birth_in(content)) and not birth.known:
        value = birth.words
    elif key in _DAYS:
        value = day_words(date.fromisoformat(value), date.fromisoformat(content["on"]))
    return saying.format(value if isinstance(value, str) else number_words(value))


_OF_GROUP = {"weeks": "weeks", "females": "number of females", "class": "cows or heifers"}


def _group(content: Content) -> str:
    weeks, females = content.get("weeks"), content.get("females")
    parts = (
        _said(content, "turnout", "turnout {}"),
        f"for {plural(weeks, 'week')}" if weeks is not None else "",
        plural(females, "female") if females is not None else "",
        content.get("class") or "",
        *(
            f"{word} no longer said"
            for key, word in _OF_GROUP.items()
            if content.get(key, "") is None
        ),
        f"farm {content['farm']}" if "farm" in content else "",
    )
    return _listed(f"Group {content['group']}", parts)


def _join(content: Content) -> str:
    role = {None: "", "worker": ", to work", "reserve": ", in reserve"}[content.get("role")]
    group = content["group"]
    return f"{'Out of his group' if group is None else f'Joins {group}'}{role}"


def _block_on(content: Content) -> str:
    return f"Block fitted on {spot_words(content['foot'], content['claw'])}"


def _block_off(content: Content) -> str:
    place = spot_words(content["foot"], content["claw"])
    if content.get("lost"):
        return f"Block lost from {place}"
    return f"Block off {place}{', not lost' if 'lost' in content else ''}"


def _scored(content: Content) -> str:
    name = {"mobility": "walk", "condition": "condition"}[content["kind"]]
    return f"{name} {score_words(content['score'], content['scale'])}"


def _vet_look(content: Content) -> str:
    """An old book may hold looks that say nothing of their outcome."""
    outcome = content.get("outcome", "outcome not said")
    if outcome == "again":
        day = _said(content, "again_on", " on {}") if "again_on" in content else ""
        outcome = f"sees him again{day}"
    by = f", {content['examiner']}" if "examiner" in content else ""
    return f"Vet{by and by + ','} looked at {_looked_at(content)}: {outcome}"


def _looked_at(content: Content) -> str:
    about, foot, part = content["about"], content.get("foot"), content.get("part")
    if about == "foot":
        return f"the foot {foot}" if foot else "a foot"
    if about == "body":
        return f"the {part_words(part, content.get('limb'))}" if part else "the body"
    words = {"lame": "lameness", "illness": "illness", "other": "something else"}
    return f"{words[about]} on {foot}" if foot else words[about]


def _body(content: Content) -> str:
    return f"{part_words(content['part'], content.get('limb'))}: {STATES[content['state']]}"


def _examined(items: list[Content]) -> str:
    return ", ".join(examined_words((one["part"], one["how"]) for one in items))


def _check(content: Content) -> str:
    return f"Check {content['check']} {'passed' if content['result'] == 'pass' else 'failed'}"


_MOVED = {"out": "out with the females", "in": "came in", "left": "left"}
_HIRE = {"out": "on hire", "in": "from hire"}


def _moved(content: Content) -> str:
    act, reason = content["act"], content.get("reason")
    why = _HIRE.get(act, reason) if reason == "hired" else reason
    return f"{_MOVED[act]}: {why}" if why else _MOVED[act]


_SAYINGS: dict[str, tuple[str | Callable[[Content], str], dict[str, Saying]]] = {
    "bull": (
        "Bull {bull}",
        {
            "name": "name {}",
            "breed": "{}",
            "born": "born {}",
            "origin": "{}",
            "arrived": "arrived {}",
            "temper": "temper {}",
            "heifer_safe": ("safe on heifers", "not for heifers"),
            "pen": "pen {}",
            "farm": "farm {}",
        },
    ),
    "weight": (lambda content: f"Weight {number_words(content['kg'])} kg", {}),
    "group": (_group, {}),
    "join": (_join, {}),
    "feet": (feet_sentences, {}),
    "block-on": (_block_on, {}),
    "block-off": (_block_off, {}),
    "mobility": (_scored, {"limb": "{}"}),
    "condition": (_scored, {}),
    "vet-exam": (
        "Vet examination {outcome}",
        {
            "again_on": "again from {}",
            "scrotum_cm": "scrotum {} cm",
            "collection": COLLECTED,
            "motility_pct": "motile {} %",
            "motility_by": {how: f"motility by {words}" for how, words in JUDGED.items()},
            "morphology": ("morphology done", "morphology not done"),
            "normal_pct": "normal sperm {} %",
            "libido": {seen: f"libido {words}" for seen, words in LIBIDO.items()},
            "examined": _examined,
            "feet_seen": ("feet seen", "feet not seen"),
            "stands": ("the vet stands by it", "the vet does not stand by it"),
            "examiner": "examined by {}",
        },
    ),
    "vet-look": (_vet_look, {}),
    "body": (_body, {}),
    "incident": (
        lambda content: CAUSE_TO_WORD[content["cause"]],
        {
            "lame": ("lame", "not lame"),
            "fever": ("fever", "no fever"),
            "limb": "{}",
            "suspect": "{} suspected",
        },
    ),
    "treatment": (
        "given by {given_by}",
        {
            "product": "{}",
            "reason": "for {}",
            "pain_relief": ("pain relief", "no pain relief"),
            "withdrawal_until": "withdrawal until {}",
        },
    ),
    "check": (
        _check,
        {"laboratory": "tested by {}", "reading": "they wrote {}", "valid_until": "until {}"},
    ),
    "moved": (_moved, {}),
    "strike": ("entry {entry} taken back", {"why": "{}"}),
}
"""Kind → how its sentence begins, and how each other field is said, in this order."""
