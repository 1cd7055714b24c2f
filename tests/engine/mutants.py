"""Is every sentence of the assessment held by a test? Each mutant breaks one of them.

    python -m tests.engine.mutants            runs the tests of the assessment on each, in a copy
    python -m tests.engine.mutants walk       only those whose words have this

It prints each mutant that no test noticed, and how many were. A mutant whose text no longer stands
in its module is an error: the list follows the code.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
TESTS = (
    "tests/engine/test_by_hand.py", "tests/engine/test_advice.py", "tests/engine/test_wrong_go.py",
    "tests/engine/test_assessment.py", "tests/engine/test_noted.py",
    "tests/engine/test_same_day.py", "tests/engine/test_left_open.py",
    "tests/engine/test_go_too_plain.py", "tests/trade/test_days.py",
)  # fmt: skip
FIND, FOLD, STATE, VETS, AHEAD = (
    "history/findings", "history/fold", "history/state", "history/vet", "history/unseen",
)  # fmt: skip
FEET, BULL, OWN, VET, WHY, ASSESS, OUT = (
    f"engine/{name}"
    for name in ("feet_checks", "bull_checks", "own", "vet", "reasons", "assess", "out")
)
ADVICE, BOARD = "engine/advice", "herd/board"


class Mutant(NamedTuple):
    """The sentence that is broken, the module, what stands there and what is put in its place."""

    sentence: str
    module: str
    old: str
    new: str


MUTANTS = tuple(
    Mutant(*row)
    for row in (
        ("a booking that was taken back holds him", WHY, "bool(state.unbooked.day) and", "False and"),
        ("what copies say against each other holds him", WHY, "bool(state.at_odds) and", "False and"),
        # ---- findings
        ("a severity not said holds wherever the code can", "rules/model",
         "(severity is None or severity >= self.holds_from)",
         "(severity or 1) >= self.holds_from"),
        ("of two spots the worse stands", "history/spots", "bad = max(", "bad = min("),
        ("found again, it keeps its severity", "history/spots", 'item.get("severity") or severity', 'item.get("severity")'),
        ("found again, it keeps its stage", "history/spots", 'item.get("stage") or stage', 'item.get("stage")'),
        ("both is outer and inner", "history/finding", '("outer", "inner") if claw == "both"',
         '("outer",) if claw == "both"'),
        ("a sole measured thin is TS", FIND, 'measure["sole_mm"] < thin', "False"),
        ("unless the entry lists TS there", FIND, "if (foot, claw) not in listed", "if True"),
        ("the clock starts again when it gets worse", FIND,
         "counts > weight(finding.severity, self.rules) or grown or begins", "grown or begins"),
        ("the clock starts again when it begins to hold", FIND,
         "counts > weight(finding.severity, self.rules) or grown or begins",
         "counts > weight(finding.severity, self.rules) or grown"),
        ("severity not said counts as 2", "history/finding",
         "return severity or rules.limits.severity_unsaid", "return severity or 1"),
        ("said first, a severity is taken at once", FIND, "if elsewhere or (not at_once and day < plausible)",
         "if elsewhere or day < plausible"),
        ("not of a code that holds by stage", FIND, "first_said and by_severity and", "first_said and"),
        ("not where a severity was once said of it", FIND,
         "prior.severity is None and not prior.graded and", "prior.severity is None and"),
        ("taken at once and no longer holding is seen clear", FIND,
         "                return\n            self._seen_clear(day, entry, prior)\n        self._worse",
         "                return\n        self._worse"),
        ("not healed before its clock's days", "history/finding", "finding.clock + days,", "finding.clock,"),
        ("by its severity on the clock day", "history/finding", "clear[finding.clock_severity - 1]",
         "clear[weight(finding.severity, rules) - 1]"),
        ("not healed a week after it was found open", "history/finding",
         "finding.seen + rules.limits.clear_after_open", "finding.seen"),
        ("healed too soon is a look only", FIND, "if prior.holds and day < plausible:\n            self._only",
         "if False:\n            self._only"),
        ("healed on the plausible day", FIND, "if prior.holds and day < plausible:\n            self._only",
         "if prior.holds and day <= plausible:\n            self._only"),
        ("so low too soon is a look only", FIND, "if elsewhere or (not at_once and day < plausible)", "if elsewhere"),
        ("too soon counts as a look", FIND, "        finding.looked = day\n        finding.graded |= graded",
         "        finding.graded |= graded"),
        ("healed is seen clear", FIND, "        if prior.holds:\n            self._seen_clear(day, entry, prior)\n        if key",
         "        if key"),
        ("what does not hold ends at a lift that does not list it", FIND,
         "if not finding.holds and key[0] in lifted", "if False and key[0] in lifted"),
        ("silence clears nothing that holds", FIND, "if not finding.holds and key[0] in lifted",
         "if key[0] in lifted"),
        ("a rename inherits its first day and clock", FIND,
         "if key[2] in self.rules.limits.rename_anew:", "if True:"),
        ("some begin anew", FIND, "if key[2] in self.rules.limits.rename_anew:", "if False:"),
        ("the old name goes", FIND, "        del self.open[old.key]\n        return True", "        return True"),
        ("renamed to what would not hold, too soon, it keeps its name", FIND,
         "if day < plausible or not graded or elsewhere:", "if not graded or elsewhere:"),
        ("renamed to what would not hold, its severity not said, it keeps its name", FIND,
         "if day < plausible or not graded or elsewhere:", "if day < plausible or elsewhere:"),
        ("renamed to what would not hold is seen clear", FIND,
         "                return False\n            self._seen_clear(day, entry, old)",
         "                return False"),
        ("renamed to an open one: the earlier first day", FIND, "min(other.first, old.first, ", "min(other.first, "),
        ("a name borne before, that of another that is open, too", FIND, "other.names.get(other.code, old.first)", "old.first"),
        ("a name borne before keeps its day where it runs on", FIND, "first = min(old.first, names.get(key[2], old.first))", "first = old.first"),
        ("a plain spot beside a rename not believed stands", FIND, "elif plain := [item for item in items if", "elif plain := [item for item in items if not olds and"),
        ("renamed to an open one: held from the earlier day", FIND,
         "if not other.holds or old.held < other.held:", "if False:"),
        ("renamed to an open one: not healed before either", FIND,
         "            self._not_before(other, old)\n", ""),
        ("renamed, it is not healed before it would have been", FIND, "            self._not_before(new, old)\n", ""),
        ("a severity said under the old name was said", FIND, "new.graded |= old.graded", "pass"),
        ("a block is wrong from the day it held, a rename counting on", FIND,
         "new.held, new.held_entry = old.held, old.held_entry", "pass"),
        ("the vet column asks each time from outside", FIND, "if reached and not finding.in_vet_column:",
         "if reached:"),
        ("left and reached again, it asks again", FIND, "finding.in_vet_column = reached",
         "finding.in_vet_column |= reached"),
        ("found open long after it was found", FIND, "if rule.vet_open and day >=", "if False and day >="),
        ("healed beside a sole measured thin it is found", FIND, 'for item in body.get("findings", ())\n            if item["code"] == THIN_SOLE', 'for item in (*body.get("findings", ()), *body.get("healed", ()))\n            if item["code"] == THIN_SOLE'),
        ("the item that renames says how bad", FIND, "self._renames(day, entry, old, spot, says)", "self._renames(day, entry, old, spot, spot.graded)"),
        ("a rename not believed found it open", FIND, "                self._ask_vet(day, entry, old, self.rules.findings[old.code])\n", ""),
        ("of several spots one not graded is not the slight one", "history/spots", "another = len(items) > 1 or elsewhere", "another = elsewhere"),
        ("nor is one in another zone", "history/spots", "another = len(items) > 1 or elsewhere", "another = len(items) > 1"),
        ("every item that renames says how bad", FIND, "olds.get(old.code, (old, True))[1] and graded(rule, item)", "graded(rule, item)"),
        ("every zone in which it held is named", FIND, "            finding.zones |= spot.held\n", "            finding.zones = spot.held\n"),
        ("the zones go on under another name", FIND, "            new.zones |= old.zones\n", ""),
        ("and where two become one", FIND, "            other.zones |= old.zones\n", ""),
        ("the severity first said on the clock day is that day's", FIND, "finding.clock_severity = counts\n", "pass\n"),
        ("out lame is a lame event", FOLD, '        if reason == "lame":\n            _lame(state, entry, FEET, own=True)\n    else:', "    else:"),
        ("who is ill is held", WHY, "    if state.ill:", "    if False:"),
        ("an examination is asked for as he is ill", BULL, "left_open or bool(state.ill) or", "left_open or"),
        ("until a vet says fit of the illness", VETS, 'if look.about == "illness":', "if False:"),
        ("the word pain by itself", FOLD, "return named or not PAIN.isdisjoint(", "return named or PAIN.isdisjoint("),
        ("a first severity is not believed before the floor", FIND, "first_said and by_severity and day >= prior.floor", "first_said and by_severity"),
        ("another spot's grade lowers nothing", FIND, "elsewhere = spot.passes_over(prior.zones)", "elsewhere = False"),
        ("a name borne before counts from its first day", FIND, "new.first = new.names.get(new.code, day)", "pass"),
        ("a later stage starts the clock again", FIND, "grown = spot.holds and", "grown = False and"),
        # ---- lame
        ("a masked walk ends no lameness: pain relief", STATE, '        return [*offs, (self.pain, limits.pain_settle, "pain.settle")]', '        return [*offs, (self.pain, 0, "pain.settle")]'),
        ("a masked walk ends no lameness: a block just off", FOLD, "max(run.lame.day + again, state.masked_until)", "max(run.lame.day + again, state.pain.day and state.pain.day + state.rules.limits.pain_settle)"),
        ("another limb asks from its own day", FOLD, "if worst or own or newly else since", "if worst or own else since"),
        ("an old lift answers no new score", FOLD, "since = max(run.base, entry.day - state.rules.limits.lame_long)", "since = run.base"),
        ("an incident asks from its own day", FOLD, "_lame(state, entry, (limb,) if limb else FEET, own=True)", "_lame(state, entry, (limb,) if limb else FEET)"),
        ("coming in lame asks from its own day", FOLD, 'NOTHING, mark, False, False\n        if reason == "lame":\n            _lame(state, entry, FEET, own=True)', 'NOTHING, mark, False, False\n        if reason == "lame":\n            _lame(state, entry, FEET)'),
        ("figures not measured again stand", VETS, "{} if state.exam is None else state.exam.figures", "{}"),
        ("the same day answers no look again", VET, "days = max(days, 1)", "days = days"),
        ("own checks whatever their case", FOLD, 'body["check"].casefold()', 'body["check"]'),
        ("walk-again waits for what masks", BULL, '    for mark, days, rule, text in masked:\n        plan.after(mark, days, rule, text)\n    yield plan', '    yield plan'),
        ("a walk that could not count is not late", BULL, "due=counts +", "due=first +"),
        ("walk-again waits for the wrap", BULL, '("lift", "wrap-off")', '("lift",)'),
        ("a sound walk on a block or wrap does not count", FOLD, "counts = lame or not carrying",
         "counts = True"),
        ("nor on a wrap", FOLD, "| state.wraps.keys()", "| set()"),
        ("a lame score on a block asks for the blocked feet", FOLD,
         "if foot in carrying) if carrying else FEET", "if foot in carrying) if False else FEET"),
        ("a lame score asks for its limb", FOLD, "feet: tuple[str, ...] = (limb,)",
         "feet: tuple[str, ...] = FEET"),
        ("an incident with lame is a lame event", FOLD, '    if body.get("lame"):\n        _lame(',
         "    if False:\n        _lame("),
        ("coming in lame is a lame event", FOLD, 'NOTHING, mark, False, False\n        if reason == "lame":', "NOTHING, mark, False, False\n        if False:"),
        ("sound too soon ends nothing", FOLD, "max(run.lame.day + again, state.masked_until)",
         "state.masked_until"),
        ("not the best ends nothing at once", FOLD, "if best or (run.mild and", "if True or (run.mild and"),
        ("a second such score a week on ends it", FOLD,
         "(run.mild and entry.day >= run.mild.day + again)", "False"),
        ("not sooner than a week on", FOLD, "entry.day >= run.mild.day + again", "True"),
        ("the first such score is the mild day", FOLD, "    elif not run.mild:\n        run.mild",
         "    else:\n        run.mild"),
        ("a lame event takes the mild day away", FOLD, "run.base, run.mild = entry.day, NOTHING",
         "run.base = entry.day"),
        ("asks from the first lame event after a mild day", FOLD,
         "run.base, run.mild = entry.day, NOTHING", "run.mild = NOTHING"),
        ("a worst score asks from its own day", FOLD, "entry.day if worst or own or newly else since",
         "entry.day if own or newly else since"),
        ("a score on a block asks from its own day", FOLD, "entry.day if worst or own or newly else since",
         "entry.day if worst or newly else since"),
        ("the others ask from the run's day", FOLD, "entry.day if worst or own or newly else since",
         "entry.day"),
        ("the last day is the later of lame event and mild day", "history/records",
         "return max(self.lame, self.mild)", "return self.lame"),
        ("an ask outlives the run", FOLD, "        state.spells.append(run)\n        state.run = None",
         "        state.spells.append(run)\n        state.run = None\n        state.lame_asks.clear()"),
        ("an incident with a limb asks for it", FOLD, 'if limb or body.get("suspect") in IN_A_LIMB:', 'if body.get("suspect") in IN_A_LIMB:'),
        ("hurt is any incident but illness alone", FOLD, 'body["cause"] != "illness" or',
         'body["cause"] in ("fight", "fall") or'),
        ("illness with a limb is hurt, too", FOLD, 'body.get("lame") or limb or "suspect" in body',
         'body.get("lame") or "suspect" in body'),
        ("a strained back settles longer", FOLD, 'if body.get("suspect") == "back":', "if False:"),
        ("fever is illness", FOLD, 'body["cause"] == "illness" or body.get("fever")',
         'body["cause"] == "illness"'),
        ("pain relief that says so", FOLD, 'return bool(body["pain_relief"])', "return False"),
        ("pain relief by its words", FOLD, "named = any(word in text", "named = all(word in text"),
        ("words in the reason, too", FOLD, """body.get("reason", "")""", '""'),
        # ---- wraps, blocks, movements
        ("a wrap is off at a lift of a later day", FOLD, "(wrap is not None and wrap.day < entry.day)", "False"),
        ("a wrap is off when unwrapped", FOLD, 'if "unwrap" in acts or', "if"),
        ("unwrapped and wrapped it is on", FOLD, 'if "wrap" in acts:', 'if "wrap" in acts and "unwrap" not in acts:'),
        ("a wrap holds", WHY, "for wrap in state.wraps.values():", "for wrap in ():"),
        ("wrap-off is outstanding", FEET, "for wrap in case.state.wraps.values():", "for wrap in ():"),
        ("wrap-off from the day after", FEET, 'off.after(Mark(wrap.day, wrap.entry), 1,',
         'off.after(Mark(wrap.day, wrap.entry), 2,'),
        ("wrap-off due", FEET, "wrap.day + case.limits.wrap_most", "wrap.day + 1 + case.limits.wrap_most"),
        ("fitting again takes an older block-off away", FOLD, "state.block_off.pop(place, None)", "pass"),
        # ---- the fourth attack
        ("no clock runs back", FIND, "if finding.holds and plausible > finding.floor:", "if False:"),
        ("what is found is in no stage without a lesion", "history/spots", "if stage == SOUND_STAGE or", "if"),
        ("what had another name is in no stage that is known", "history/spots", ' or "was" in item or mild', " or mild"),
        ("graded without its stage it is in none that is mild", "history/spots", '"was" in item or mild', '"was" in item'),
        ("what has no name is another thing each time", "history/spots", "elsewhere or rule.code == UNNAMED", "elsewhere"),
        ("condition of before he came in does not count", BULL, "        or last.day < state.last_in.day\n", ""),
        ("unfit stands for its day", VETS, "unfit.day < entry.day and ended(unfit)", "ended(unfit)"),
        ("what a vet calls ill is illness", VETS, "            state.illness = state.ill = Mark(entry.day, entry.id)", "            pass"),
        ("hired: coming in", FOLD, 'or reason == "hired":', ":"),
        ("hired: after an out hired", FOLD, "if state.hired_out or state.gone", "if state.gone"),
        ("back after he left: kept apart", FOLD, "state.hired_out or state.gone or", "state.hired_out or"),
        ("what is said of one who left is true", FOLD, "if (handler := _HANDLERS.get(entry.kind)) is None:", "if (handler := _HANDLERS.get(entry.kind)) is None or state.gone:"),
        ("what was written ahead of its day clears nothing", FOLD, "    if entry.kind in SEEN:", "    if False:"),
        ("a clock's day may be one ahead", FOLD, "> state.rules.limits.seen_ahead", "> 0"),
        ("of a lift written ahead what holds is kept", AHEAD, '.get("severity"), item.get("stage"))', '.get("severity"), item.get("stage")) and False'),
        ("and what is open there already stays as it is", AHEAD, '        if not state.feet.holds((item["foot"], claw, item["code"]))\n', ""),
        ("a sole measured thin, written ahead, holds", AHEAD, 'if measure.get("sole_mm", thin) < thin', "if False"),
        ("a lame walk written ahead holds", AHEAD, 'return body if body["score"] >=', 'return None if body["score"] >='),
        ("written ahead, what did not pass takes not the place of what failed", AHEAD, "if failed or body", "if body"),
        ("an unfit written ahead holds", AHEAD, 'return None if body["outcome"] == "fit" else body', "return None"),
        ("a test failed, written ahead, holds", AHEAD, 'return None if body["result"] == "pass" else body', "return None"),
        ("coming in asks for a fresh walk", FOLD, "NOTHING, mark, False, False\n", "NOTHING, state.last_in, False, False\n"),
        # ---- the third attack
        ("in another zone its clock starts again", FIND, "grown or spot.spreads(finding.zones)", "grown"),
        ("renamed low, every zone is spoken of", FIND, "or not graded or elsewhere:", "or not graded:"),
        ("of several spots one without a zone is remembered", "history/spots", "alone = {None} if len(spots) == 1 else set()", "alone = {None}"),
        ("another name borrows no slight grade", "history/spots", '(another or "was" in items[0])', "another"),
        ("figures that would not count any more are not taken over", VETS, "if said[0].day >= oldest", "if True"),
        ("what was left open stays until it is settled", VETS, "each.field not in said or", "False or"),
        ("by what the vet stood stays", VETS, "stood=False", "stood=True"),
        ("of one day the worse examination stands", VETS, "return how_bad(before) > how_bad(exam)", "return False"),
        ("of two deferred the later day", VETS, "again if of.outcome == \"deferred\" else NEVER", "NEVER"),
        ("each figure of one day stands", VETS, "if said.day == day]", "if False]"),
        ("a block off was on", FOLD, "    state.block_off[place] = Block(*place, entry.day, entry.id, lost)", "    pass"),
        ("a wrap off was on", FOLD, 'if "unwrap" in acts or (wrap', 'if wrap and "unwrap" in acts or (wrap'),
        ("a worst walk wants that limb seen", VET, "foot=walk.limb, run=walk.run", "run=walk.run"),
        ("unfit, then fit: he walks anew", VETS, "    if any(unfit.of_how_he_walks for", "    if False and any(unfit.of_how_he_walks for"),
        # ---- body and vet
        ("body wrong holds", WHY, "for found in state.body.values():", "for found in ():"),
        ("right ends no wrong", VETS, "    else:\n        state.watched.pop(part, None)\n",
         "    else:\n        state.watched.pop(part, None)\n        state.body.pop(part, None)\n"),
        ("a vet's fit ends it", VETS, 'if look.outcome == "fit":\n        _all_right', "if False:\n        _all_right"),
        ("only where it names no part or that one", VETS, "if look.names_no_place or part == (look.part, look.limb)",
         "if True"),
        ("of a joint that limb, too", VETS, "part == (look.part, look.limb)", "part[0] == look.part"),
        ("an examination satisfactory ends it", VETS, "        _all_right(state, entry, list(state.body))\n", ""),
        ("an unfit look stands", VETS, "state.unfit.append(look)", "pass"),
        ("until a later look fit about the same", "history/records", "same = self.names_no_place or self.place == other.place\n        return same and self.subject",
         "same = self.names_no_place or self.place == other.place\n        return same or self.subject"),
        ("that names no place or the very one", "history/records", "same = self.names_no_place or self.place == other.place",
         "same = True"),
        ("feet and lameness are the same", "history/records", 'return "foot" if self.about == "lame" else self.about',
         "return self.about"),
        ("or an examination, for feet only where they were seen", VETS, 'unfit.subject != "foot" or seen',
         "True"),
        ("feet seen end an unfit foot", VETS, 'unfit.subject != "foot" or seen', 'unfit.subject != "foot"'),
        ("again asks anew", VETS, "state.again_looks.append(look)", "pass"),
        ("answered on a later day only", VETS, "if look.day <= asks.day or not look.speaks_of(asks)",
         "if not look.speaks_of(asks)"),
        ("illness: also by any examination", VETS, 'asks.subject not in ("illness", "other")', "True"),
        ("again: from its day or a week on", VET, "limits.vet_look_again if look.again_on is None",
         "0 if look.again_on is None"),
        ("again is due two days on", VET, "due=look.day + days + limits.vet_look", "due=look.day + days"),
        ("a look that names a foot answers that foot", VET, "return look.foot in (None, need.foot)", "return True"),
        ("and lameness only where it asked for that foot", VET, "return need.run.asked_for(look.foot, look.day)",
         "return True"),
        ("a look before does not answer", VET, "or look.day < need.day", ""),
        ("a look at the body answers no foot", VET, 'if look.subject != "foot" or', "if"),
        ("a body finding asks for a look", VET, "if not found.looked:", "if False:"),
        ("the worst score asks for a look", VET, "for walk in state.worst_walks if limits.vet_worst_walk else ():",
         "for walk in ():"),
        ("for vet.memory days", VET, "live = on - walk.day <= limits.vet_memory", "live = on - walk.day < limits.vet_memory"),
        ("findings while they are open", VET, "open_still or on - ask.day <= memory", "on - ask.day <= memory"),
        ("findings for vet.memory days", VET, "open_still or on - ask.day <= memory", "open_still"),
        ("a refused foot asks the vet", VET, "yield Need(day, \"vet.refused\"", "if False: yield Need(day, \"vet.refused\""),
        ("until it is lifted", VET, "and state.last_lift(foot) < day", ""),
        ("only where it was asked for", VET, "if day >= run.first and wanted and", "if day >= run.first and"),
        ("nothing found asks the vet", VET, '    yield Need(day, "vet.nothing_found"', '    if False: yield Need(day, "vet.nothing_found"'),
        ("not while a finding holds", VET, "if any(finding.holds for finding in state.feet.open.values()):", "if False:"),
        ("not before every asked foot is lifted", VET, "if not all(lift for _, lift in asked):", "if not any(lift for _, lift in asked):"),
        ("not where a finding listed explains it", VET, ">= run.first for foot, _ in asked", "> 10**9 for foot, _ in asked"),
        ("what could not hold explains nothing", FIND, "if prior.holds or self.could_explain(rule):", "if True:"),
        ("healed explains, too", FIND, "if prior.holds or self.could_explain(self.rules.findings[key[2]]):", "if False:"),
        ("lame for long asks the vet", VET, "if on - base > long:", "if False:"),
        ("longer than 14 days", VET, "if on - base > long:", "if on - base >= long:"),
        ("and again after a look that answers", VET, "*(look.day for look in state.vet_looks if _answers(look, any_day))", ""),
        # ---- checks
        ("feet count 120 days", FEET, "if state.last_lift(foot) < oldest]", "if state.last_lift(foot) <= oldest]"),
        ("feet are due a week before", FEET, "case.promised - limits.feet_due", "case.promised"),
        ("lift due", FEET, "(ask.day + limits.lame_lift, ", "(ask.day + 1 + limits.lame_lift, "),
        ("lift due at the worst score", FEET, "if ask.worst\n", "if False\n"),
        ("clear waits for block-off", FEET, 'clear.behind(off, 0, off.rule', 'off.behind(off, -1, off.rule'),
        ("clear's first day waits for the block's", FEET, "first = max(first, off.first)", "pass"),
        ("a look counts a quarter early", FEET, "finding.clock + days - floor(days * slack)", "finding.clock + days"),
        ("and is overdue a quarter late", FEET, "late = ceil(interval * slack)", "late = 0"),
        ("clear is not before its look", FEET, "clear.behind(look, 0,", "look.behind(look, -1,"),
        ("clear is that look where it is late", FEET, "if day >= first:", "if False:"),
        ("block-off from 28 days", FEET, "off.after(fitted, limits.block_least,", "off.after(fitted, 0,"),
        ("block-off by 42 days", FEET, "due=block.day + limits.block_most", "due=block.day + 1 + limits.block_most"),
        ("a wrong block comes off at once", FEET, "        if wrong is None:\n            fitted", "        if True:\n            fitted"),
        ("a wrong block's due", FEET, "off.due = since + limits.block_wrong", "off.due = since + 9"),
        ("block-look after block-off", FEET, "look.behind(off, 0, look.rule", "off.behind(off, -1, look.rule"),
        ("block-look of one that is off", FEET, "if case.state.last_lift(block.foot) < block.day:", "if False:"),
        ("its due", FEET, "block.day + case.limits.block_look", "block.day"),
        ("walk-again where time allows", BULL, "first >= case.turnout - limits.mobility_oldest:\n        return", "False:\n        return"),
        ("walk-again after the block has settled", BULL, "*(off.first + limits.block_settle for off in offs)]", "]"),
        ("walk-again not before the lift", BULL, '_behind(plan, feet, ("lift", "wrap-off"))\n    for off in offs', 'for off in offs'),
        ("the walk is at most 14 days old", BULL, "or walk.day < case.turnout - case.limits.mobility_oldest", ""),
        ("a walk is no walk while he is lame", BULL, "or state.run is not None\n", "\n"),
        ("nor one that does not count", BULL, "or not walk.counts\n", "\n"),
        ("nor while a joint or the back is wrong", BULL, "case.state.wrong_on_legs or any(", "any("),
        ("the walk waits for the vet's look at it", BULL, "_behind(plan, [look for look in looks if look.of_body]", "_behind(plan, []"),
        ("block.settle", BULL, "for mark, days, rule in state.masking():\n        yield mark, days,", "for mark, days, rule in state.masking():\n        yield mark, 0 if rule == 'block.settle' else days,"),
        ("the walk after the block-look", BULL, '        yield looked, 0, "block.look"', '        yield off, 0, "block.look"'),
        ("incident.settle", BULL, "yield state.hurt, limits.incident_settle,", "yield state.hurt, 0,"),
        ("trim.settle", BULL, "yield state.trim, limits.trim_settle,", "yield state.trim, 0,"),
        ("pain.settle", BULL, "for mark, days, rule in state.masking():\n        yield mark, days,", "for mark, days, rule in state.masking():\n        yield mark, 0 if rule == 'pain.settle' else days,"),
        ("the walk after coming in", BULL, '    yield state.last_in, 0, "mobility.oldest", "came in"\n', ""),
        ("the walk after seen clear", BULL, '    yield clear, 0, "clear.after_open", "seen healed"\n', ""),
        ("the walk after a wrap came off", BULL, '    yield state.wrap_off, 0, "wrap.most", "the wrap came off"\n', ""),
        ("the walk after the vet saw his legs right", BULL, '    yield state.body_clear, 0, "vet.look", "the vet saw him right"\n', ""),
        ("condition is at most 30 days old", BULL, "or last.day < turnout - limits.condition_oldest\n", "\n"),
        ("condition outside hold does not count", BULL, "        or last.outside\n", ""),
        ("21 days after one outside", BULL, "        or last.day < again\n", ""),
        ("condition-again", BULL, "again < turnout - limits.condition_oldest:", "False:"),
        ("an examination counts 60 days", BULL, "and exam.day >= turnout - limits.vet_oldest", ""),
        ("14 days after illness", BULL, "state.illness.day + limits.illness_settle)", "state.illness.day)"),
        ("figures under the minimum", BULL, "and not doubtful_figures(state)", ""),
        ("figures hold", WHY, "for figure in doubtful_figures(state):", "for figure in ():"),
        ("unless the vet stands by them", BULL, "if not low.stood]", "]"),
        ("no examination after unsatisfactory", BULL, "if not person_decides(case.state) and lacks_exam", "if lacks_exam"),
        ("an unfit look is a person's decision", BULL, "return bool(state.unfit) or (exam", "return (exam"),
        ("again_on after deferred", BULL, "exam.again_on - exam.day if exam.again_on is not None else", ""),
        ("who arrived was elsewhere", STATE, "max(self.arrived, self.back_again)", "self.back_again"),
        ("a foot suspected, not which, asks for all", FOLD, 'if limb or body.get("suspect") in IN_A_LIMB:', "if limb:"),
        ("a stifle suspected asks for the feet", "trade/bulls", 'IN_A_LIMB = ("foot", "shoulder", "stifle")', 'IN_A_LIMB = ("foot", "shoulder")'),
        ("a shoulder suspected asks for the feet", "trade/bulls", 'IN_A_LIMB = ("foot", "shoulder", "stifle")', 'IN_A_LIMB = ("foot", "stifle")'),

        ("quarantine", BULL, "on < state.apart.day + state.rules.limits.quarantine_days", "on <= state.apart.day + state.rules.limits.quarantine_days"),
        ("old enough", BULL, "if day is not None and case.on < day:", "if day is not None and case.on <= day:"),
        ("old enough by the last day he can have been born", "trade/ages", "return Birth(min(first, last), last)", "return Birth(min(first, last), min(first, last))"),
        ("the scrotum by the first day", "rules/model", "months_after(birth.first, upto)", "months_after(birth.last, upto)"),
        ("a birth said later takes the place of two days", "trade/ages", "if k != FROM} if BORN in said", "if k} if BORN in said"),
        ("too young at turnout holds", WHY, "(on if case.turnout is None else case.turnout) < old", "False"),
        ("own checks for their bulls", OWN, 'own.applies in ("all", *state.origins)', "True"),
        ("a pass counts from so long before", OWN, "tested.day >= turnout - own.oldest)", "True)"),
        ("a pass lies so long before", OWN, "if tested.day <= turnout - own.lag\n        and", "if"),
        ("a pass holds for so many days", "rules/model", "(self.first, self.valid)", "(self.first,)"),
        ("a pass holds as long as it says", OWN, "turnout <= tested.until)", "True)"),
        ("a pass holds on its last day", OWN, "turnout <= tested.until)", "turnout < tested.until)"),
        ("to bars nothing", OWN, "tail=own.lag", "tail=own.due"),
        ("own checks are due", OWN, "case.promised - own.due", "case.promised"),
        ("a fail takes a pass back", OWN, "            standing.clear()", "            pass"),
        # ---- reasons, status, out
        ("an own check failed holds", WHY, "if last := failed(state, own.name):", "if last := None:"),
        ("of one day a fail takes a pass back", OWN, "elif tested.day > failed:", "else:"),
        ("of one day a fail is the last word", OWN, "if each.day == last.day and not each.passed", "if False"),
        ("on the day of a fail he passes no more", OWN, "last.entry), 1, plan", "last.entry), 0, plan"),
        ("the last examination not satisfactory holds", WHY, 'if exam.outcome != "satisfactory":', "if False:"),
        ("unfit holds", WHY, "for look in state.unfit:", "for look in ():"),
        ("vet-again holds", WHY, 'in ("vet-look", "vet-again")', 'in ("vet-look",)'),
        ("quarantine holds", WHY, "    if in_quarantine(state, on):", "    if False:"),
        ("not safe with heifers holds", WHY, "    if not_for_heifers(case):", "    if False:"),
        ("only in a group of heifers", WHY, "return case.heifers and said is False", "return said is False"),
        ("only where somebody said so", WHY, "said is False and", "said is not True and"),
        ("condition outside holds", WHY, "if last is not None and last.outside:", "if False:"),
        ("a name alone says heifers", "history/groups", "of == HEIFERS if of else named_heifers(name)",
         "of == HEIFERS"),
        ("a worse walk that is not lame is advised", ADVICE, "not walk.lame and walk.score >=", "not walk.lame and walk.score =="),
        ("a trim hides nothing that hurt him", ADVICE, '(rule != "trim.settle", mark.day', "(False, mark.day"),
        ("what is fit though not gone is told", ADVICE, "not rules.findings[code].never_holds and state.last_lift", "False and state.last_lift"),
        ("who may be too young is told", ADVICE, "if not state.born and limits.age_least:", "if False:"),
        ("who came on no day that is known is told", ADVICE, "if came_unsaid(state) and", "if False and"),
        ("null where heifers", ASSESS, "or not_for_heifers(case)\n    never", "\n    never"),
        ("wrong-group", ASSESS, 'return "wrong-group"', 'return "on-track"'),
        ("later fields of a group replace earlier", "history/groups", "own = fields.setdefault(key, {})", "own = fields[key] = {}"),
        ("a season ends", BOARD, "if on <= group.last_day(", "if True or on <= group.last_day("),
        ("went out without", BOARD, "    if state.out:\n        state.owed", "    if False:\n        state.owed"),
        ("an entry of the day he went out counts", OUT, "wanted = {went}", "wanted = {went - 1}"),
        ("made up for, it stays made up for", OUT, "        owed &= lacks\n", "        owed = lacks\n"),
        ("unfit puts no examination in its place", OUT, '        lacks.add("vet-exam")', "        pass"),
        ("went out without is a reason", WHY, "    if missing:\n", "    if False:\n"),
        ("due the day he went out", ASSESS, "plan.due, plan.since, plan.waits, plan.oldest = state.out.day",
         "plan.due, plan.since, plan.waits, plan.oldest = on"),
        ("out again changes nothing", FOLD, "        if not state.out:  #", "        if True:  #"),
        ("a note holds nobody", WHY, "*_noted(case)) if found else ()", "*_noted(case))"),
        ("who comes in leaves his note", FOLD, '        state.out_note = ""\n', ""),
    )
)  # fmt: skip


def main(words: str = "") -> int:
    """Run the mutants whose sentence or module has ``words``; 1 where one was not noticed."""
    chosen = [each for each in MUTANTS if words in each.sentence or words in each.module]
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", ".*_cache"))
        left = 0
        for each in chosen:
            if not _noticed(copy, each):
                left += 1
                text = f"nobody noticed: {each.sentence} ({each.module}: {each.old.strip()!r})"
                print(text, flush=True)
    print(f"{len(chosen) - left} of {len(chosen)} mutants were noticed")
    return 1 if left else 0


def _noticed(copy: Path, mutant: Mutant) -> bool:
    module = copy / "readiness" / f"{mutant.module}.py"
    text = module.read_text(encoding="utf-8")
    if mutant.old not in text:
        raise SystemExit(f"{mutant.module} no longer says {mutant.old!r}")
    module.write_text(text.replace(mutant.old, mutant.new, 1), encoding="utf-8")
    try:
        tests = ["-m", "pytest", "-q", "-x", "-n0", "-m", "", "-p", "no:cacheprovider", *TESTS]
        ran = subprocess.run(
            [sys.executable, *tests], cwd=copy, capture_output=True, timeout=600, check=False
        )
    finally:
        module.write_text(text, encoding="utf-8")
    return ran.returncode != 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:2]))
