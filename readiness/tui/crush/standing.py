"""The four feet on the Crush screen, in letters and drawn: what is open there and what is said now.

Pure."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from textual.content import Content

from readiness.crush.before import Open
from readiness.crush.pad import Pad
from readiness.crush.slip import WRAPS
from readiness.history.finding import claws_of
from readiness.report.spans import fitted, width_of
from readiness.trade.codes import STAGED
from readiness.trade.feet import ACT_DONE, BLOCK_CLAWS, FEET, FOOT_NAMES
from readiness.trade.words import column_day as day
from readiness.tui.shared.feet import Foot, Label, four_feet
from readiness.tui.shared.looks import QUIET, SKY, TEXT, VERMILLION, YELLOW, Glyphs

Part = tuple[str, str]
WORK_BESIDE = tuple(act for act in ACT_DONE if act not in WRAPS)


def feet(pad: Pad, width: int, glyphs: Glyphs) -> Content:
    """The four feet as they stand before the trimmer: three lines each, left and right."""
    half = width // 2
    lines: list[Content] = []
    for pair in (FEET[:2], FEET[2:]):
        drawn = [_foot(pad, foot, half - 1, glyphs) for foot in pair]
        for left, right in zip(*drawn, strict=True):
            gap = " " * max(half - left.cell_length, 1)
            lines.append(Content.assemble(left, gap, right))
    return Content("\n").join(lines)


def feet_drawn(pad: Pad, width: int, glyphs: Glyphs) -> Content:
    """The four feet drawn: what is said today, and what is open and not spoken of."""
    drawn = four_feet({foot: _drawn(pad, foot) for foot in FEET}, width - 1, glyphs)
    return Content("\n").join(Content(" ") + line for line in drawn.split("\n", allow_blank=True))


def _drawn(pad: Pad, foot: str) -> Foot:
    state = ", lifted" if foot in pad.slip.lifted else ""
    state = ", would not lift" if foot in pad.slip.refused else state
    wraps = [ACT_DONE[act] for act in pad.slip.acts(foot) if act in WRAPS]
    state += "".join(f", {words}" for words in (*(words for words, _ in _wrap(pad, foot)), *wraps))
    found = [
        Label(claw, _zone(pad, item, claw), _grade(pad, item), True, item.get("severity", 1))
        for item in pad.slip.feet.get("findings", ())
        if item["foot"] == foot
        for claw in claws_of(item["claw"])
    ]
    found += [
        Label(claw, None, f"{item['code']} gone", False, 1)
        for item in pad.slip.feet.get("healed", ())
        if item["foot"] == foot
        for claw in claws_of(item["claw"])
    ]
    open_still = [
        Label(each.claw, each.zone, _graded(pad, each), each.holds, each.severity or 0)
        for each in pad.before.open
        if each.foot == foot and not pad.slip.speaks_of(foot, each.claw, each.code)
    ]
    blocks = {claw: words for claw in BLOCK_CLAWS for words, _ in _block(pad, foot, claw)}
    on = {claw: "" for claw, words in blocks.items() if words.startswith("BLOCK")}
    return Foot(foot, f"{foot} {FOOT_NAMES[foot]}{state}", (*found, *open_still), on)


def _foot(pad: Pad, foot: str, width: int, glyphs: Glyphs) -> list[Content]:
    mine = pad.mode.place[0] == foot
    style = f"bold reverse {TEXT}" if mine else f"bold {TEXT}"
    state = "lifted" if foot in pad.slip.lifted else ""
    state = "would not lift" if foot in pad.slip.refused else state
    head: list[Part] = [(" ", ""), (f" {foot} ", style), (f" {state}" if state else "", TEXT)]
    found = _labels(pad, foot, "skin", glyphs)
    whole = [*_wrap(pad, foot), *_work(pad, foot, None, WRAPS), *found, *_work(pad, foot, None)]
    lines = [_fitted(head, whole, width, glyphs)]
    for claw in BLOCK_CLAWS:
        labels = [*_labels(pad, foot, claw, glyphs), *_work(pad, foot, claw)]
        labels += _block(pad, foot, claw)
        dot = [(f" {glyphs.dot}", QUIET)] if not labels else []
        lines.append(_fitted([(f"   {claw}", QUIET), *dot], labels, width, glyphs))
    return lines


def _fitted(head: list[Part], labels: Sequence[Part], width: int, glyphs: Glyphs) -> Content:
    spaced = ((f" {words}", style) for words, style in labels)
    return Content.assemble(*head, *fitted(spaced, width - width_of(head), glyphs.fit))


def _labels(pad: Pad, foot: str, claw: str, glyphs: Glyphs) -> list[Part]:
    """The findings of a claw: today's, those healed today, those open and not spoken of."""
    labels: list[Part] = []
    for item in pad.slip.on_claw("findings", foot, claw):
        known = _zone(pad, item, claw)
        zone = f"@{known}" if known is not None else ""
        labels.append((_grade(pad, item) + zone, f"bold {TEXT}"))
    for item in pad.slip.on_claw("healed", foot, claw):
        labels.append((f"{item['code']} {'fit' if item.get('stable') else 'healed'}", SKY))
    for found in pad.before.open:
        if (found.foot, found.claw) != (foot, claw):
            continue
        if pad.slip.speaks_of(foot, claw, found.code):
            continue
        mark, style = (glyphs.hold, f"bold {VERMILLION}") if found.holds else ("", QUIET)
        # Of the skin, beside the foot's name, there is room for little: its mark says it is open.
        zone = f"@{found.zone}" if found.zone is not None and claw != "skin" else ""
        still = "" if claw == "skin" and found.holds else " open"
        labels.append((f"{mark}{_graded(pad, found)}{zone}{still}", style))
    return labels


def _zone(pad: Pad, item: Mapping[str, Any], claw: str) -> int | None:
    """Where on the claw: as said today, else where it was."""
    known = pad.before.known(item["foot"], claw, item["code"])
    said: int | None = item.get("zone", known.zone if known else None)
    return said


def _graded(pad: Pad, found: Open) -> str:
    """One that is open and not spoken of: its code and how bad it was."""
    return _grade(pad, {"foot": found.foot, "claw": found.claw, "code": found.code})


def _grade(pad: Pad, item: Mapping[str, Any]) -> str:
    known = pad.before.known(item["foot"], item["claw"], item["code"])
    severity = item.get("severity") or (known.severity if known else None)
    severity = severity or ("?" if item["code"] in pad.before.grades else "")
    stage = item.get("stage") or (known.stage if known else None)
    grade = stage or "" if item["code"] == STAGED else str(severity)
    return f"{item['code']}{grade}"


def _work(
    pad: Pad, foot: str, claw: str | None, which: Collection[str] = WORK_BESIDE
) -> list[Part]:
    """What was done: of the foot a wrap on or off stands first, since it decides, and what is found
    before the rest, since the end may be cut off."""
    acts = [
        item["act"]
        for item in pad.slip.feet.get("work", ())
        if item["foot"] == foot and item.get("claw") in ((claw,) if claw else (None, "skin"))
    ]
    told = [act for act in acts if act in which]
    return [(" ".join(told), SKY)] if told else []


def _wrap(pad: Pad, foot: str) -> list[Part]:
    """A wrap that is on and stays on with what is said."""
    since = pad.before.wraps.get(foot)
    if since is None or pad.slip.unwraps(foot, since):
        return []
    return [(f"WRAP {day(since, pad.slip.on.toordinal())}", f"bold {YELLOW}")]


def _block(pad: Pad, foot: str, claw: str) -> list[Part]:
    said = {
        content["kind"]: content
        for content in pad.slip.contents
        if content["kind"] in ("block-on", "block-off")
        and (content["foot"], content["claw"]) == (foot, claw)
    }
    if "block-on" in said:
        return [("BLOCK on", f"bold {YELLOW}")]
    if "block-off" in said:
        return [("block lost" if said["block-off"].get("lost") else "block off", SKY)]
    return [("BLOCK", f"bold {YELLOW}")] if (foot, claw) in pad.before.blocks else []


# ---- what was saved ----------------------------------------------------------------------------
