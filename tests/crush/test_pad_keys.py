"""Any key in any order: what the hands of somebody who does not look at the screen may do.

The reference: every entry is checked by the validation of the
import, and the shorthand written is read back by the reader that ``log`` uses.
"""

from __future__ import annotations

import copy

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from readiness.crush.before import Before, Open
from readiness.crush.modes_foot import OnClaw, OnFoot
from readiness.crush.pad import BACK, Pad
from readiness.crush.slip import Content
from readiness.crush.top import AskFinding
from readiness.entries.validate import validate
from readiness.history.finding import claws_of
from readiness.shorthand import write
from readiness.trade.codes import CODES, claw_words
from readiness.trade.feet import FEET
from tests.crush.pads import RULES, SLIP, found, new_pad, spelled, stands
from tests.shorthand.contents import any_contents
from tests.volume import examples

NAMED = ("enter", "escape", "left", "right", "up", "down", "tab", "delete", "f1", "ctrl+c")
STRAY = [*"0123456789", *"abcdefghijklmnopqrstuvwxyz", *"ASV,+-= ?/;.@é²", *NAMED]
# What clears or lowers, and only where a finding is asked about or in hand: nothing else may.
CLEARING = ("h", "f", "-")
CLEARS = (AskFinding, OnClaw)
OFTEN = ("DD", "DD", "DD", "SU")
HORN = ("outer", "inner")


@st.composite
def opens(draw: st.DrawFn) -> Open:
    """A finding that is open, as a book holds it: on one claw or on the skin, never on both."""
    code = draw(st.sampled_from([*sorted(CODES), *OFTEN]))
    claw = draw(st.sampled_from([claw for claw in claw_words(code) if claw != "both"]))
    severity, holds = draw(st.none() | st.integers(1, 3)), draw(st.booleans())
    return found(draw(st.sampled_from(FEET)), claw, code, severity, holds=holds)


def bulls() -> st.SearchStrategy[Before]:
    place = st.tuples(st.sampled_from(FEET), st.sampled_from(HORN))
    return st.builds(
        lambda open_, blocks, walk, condition: stands(
            *open_, blocks=tuple(blocks), walk=walk, condition=condition
        ),
        st.lists(opens(), min_size=1, max_size=8, unique_by=lambda f: (f.foot, f.claw, f.code)),
        st.lists(place, max_size=3, unique=True),
        st.sampled_from(sorted(RULES.mobility)),
        st.sampled_from(sorted(RULES.condition)),
    )


class Fumbling(RuleBasedStateMachine):
    """Keys of all kinds on one pad, each judged as it falls."""

    pad: Pad

    @initialize(before=bulls())
    def begin(self, before: Before) -> None:
        self.pad = new_pad(before)
        self.changes = 0
        self.lowered = False

    def _press(self, key: str) -> bool:
        """Whether the key meant something; it may then be taken back by one key."""
        before, kept = self.pad, copy.deepcopy(self.pad.slip.contents)
        after = before.press(key)
        assert before.slip.contents == kept, "a key changed what an older pad says"
        if after is None:
            return False
        said_so = key in CLEARING and isinstance(before.mode, CLEARS)
        said_so = said_so or _how_bad(before)  # "how bad?" is answered
        if key == "h" and isinstance(before.mode, OnFoot):
            said_so = True
            for item in after.slip.feet.get("healed", ()):
                gone = [known for known in before.before.open if _is(item, known)]
                new = item not in before.slip.feet.get("healed", ())
                assert not (new and any(known.holds for known in gone))
        self.lowered = self.lowered or said_so
        if key == BACK:
            self.changes -= 1
        elif (after.slip, after.mode) != (before.slip, before.mode):
            self.changes += 1
        self.pad = after
        return True

    @rule(data=st.data())
    def a_key_that_is_offered(self, data: st.DataObject) -> None:
        key = data.draw(st.sampled_from([shown for shown in self.pad.keys if shown.key != "?"]))
        for each in spelled(key):
            assert self.pad.press(each) is not None, f"{each} is offered at {self.pad.mode}"
        assert self._press(data.draw(st.sampled_from(spelled(key))))

    @rule(data=st.data(), times=st.integers(1, 4))
    def keys_that_clear_nothing(self, data: st.DataObject, times: int) -> None:
        """So that a bull gets far without one of the few keys that clear."""
        for _ in range(times):
            keys = [each for shown in self.pad.keys for each in spelled(shown)]
            if _how_bad(self.pad):
                keys = ["enter"]
            self._press(data.draw(st.sampled_from([k for k in keys if k not in CLEARING])))

    @rule(key=st.sampled_from(STRAY))
    def any_key(self, key: str) -> None:
        self._press(key)

    @precondition(lambda self: self.changes)
    @rule()
    def one_key_back(self) -> None:
        assert self._press(BACK)

    @precondition(lambda self: self.pad.mode == self.pad.top)
    @rule(said=any_contents())
    def a_line_is_typed_and_said_further_by_keys(self, said: list[Content]) -> None:
        slip = self.pad.slip.read(write(said), self.pad.before.scales)
        self.changes += slip != self.pad.slip
        self.pad = self.pad.done(slip)
        self.lowered = True

    @invariant()
    def what_is_said_is_a_valid_entry(self) -> None:
        for content in self.pad.slip.contents:
            assert validate(content) == (content, [])

    @invariant()
    def the_line_reads_back(self) -> None:
        scales = self.pad.before.scales
        line = self.pad.slip.line(scales)
        assert SLIP.read(line, scales) == self.pad.slip, line
        assert bool(line) == bool(self.pad.slip)

    @invariant()
    def every_view_can_be_painted(self) -> None:
        assert self.pad.question
        assert self.pad.keys
        assert len(self.pad.slip.said()) == len(self.pad.slip.contents)

    @invariant()
    def no_other_key_clears_or_lowers(self) -> None:
        if self.lowered:
            return
        feet = self.pad.slip.feet
        assert "healed" not in feet
        for item in feet.get("findings", ()):
            for known in self.pad.before.open:
                if _is(item, known) and known.severity:
                    assert item.get("severity", known.severity) >= known.severity

    def teardown(self) -> None:
        """Backspace as often as a key changed something: nothing was said of him."""
        if not hasattr(self, "pad"):
            return
        for _ in range(self.changes):
            assert self._press(BACK)
        assert (self.pad.slip, self.pad.mode, self.pad.steps) == (SLIP, self.pad.top, ())
        assert self.pad.press(BACK) is None


def _how_bad(pad: Pad) -> bool:
    """Whether nothing is asked but how bad a finding is."""
    return "how bad?" in pad.question


def _is(item: Content, known: Open) -> bool:
    same = (item["foot"], item["code"]) == (known.foot, known.code)
    return same and known.claw in claws_of(item["claw"])


def test_any_row_of_keys_says_only_what_stands_reads_back_and_can_be_taken_back() -> None:
    run_state_machine_as_test(
        Fumbling,
        settings=settings(
            max_examples=examples(250),
            stateful_step_count=40,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
