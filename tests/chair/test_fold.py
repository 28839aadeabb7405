"""The fold: in whatever order and however often events arrive, they come to one state."""

import json
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from polestitch.chair.fold import after, folded, nothing_done, with_span, without_span
from tools.golden_chair import GOLDEN, text

Event = dict[str, Any]
STEPS = st.integers(0, 40)


def test_the_golden_file_is_what_this_fold_gives() -> None:
    assert GOLDEN.read_text(encoding="utf-8") == text()


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_arrival_order_and_doubles_change_nothing(data: st.DataObject) -> None:
    log = data.draw(st.sampled_from(json.loads(GOLDEN.read_text(encoding="utf-8"))))
    shuffled = data.draw(st.permutations(log["events"]))
    doubled = [*shuffled, *data.draw(st.lists(st.sampled_from(shuffled), max_size=5))] if shuffled else []
    assert folded(doubled) == log["state"]


@given(
    st.lists(
        st.dictionaries(
            st.sampled_from(["kind", "step", "to", "n", "what", "value", "name", "minutes"]),
            st.one_of(
                st.none(),
                st.text(max_size=5),
                st.integers(),
                st.floats(),
                st.booleans(),
                st.sampled_from(
                    ["next", "back", "jump", "unpick", "pins", "sit", "hours", "setting", "replan", "note"]
                ),
            ),
        )
    )
)
@settings(max_examples=100, deadline=None)
def test_no_event_makes_it_stumble(odd: list[Event]) -> None:
    plain = {"device": "a", "at": "no time", "clock": 1}
    folded([{**deed, **plain, "id": str(n), "seq": n} for n, deed in enumerate(odd)])


@given(st.lists(st.tuples(st.booleans(), STEPS, STEPS)))
@settings(max_examples=100, deadline=None)
def test_spans_are_the_set_of_their_steps(deeds: list[tuple[bool, int, int]]) -> None:
    spans: list[list[int]] = []
    steps: set[int] = set()
    for add, start, end in deeds:
        spans = (with_span if add else without_span)(spans, start, end)
        steps = steps | set(range(start, end)) if add else steps - set(range(start, end))
    assert {step for start, end in spans for step in range(start, end)} == steps
    assert all(one[1] < two[0] for one, two in pairwise(spans))


class TwoDevices(RuleBasedStateMachine):
    """Each device folds what it did and what it was told; the studio keeps the set of all events it was told."""

    def __init__(self) -> None:
        super().__init__()
        self.kept: dict[str, Event] = {}
        self.mine: dict[str, list[Event]] = {"a": [], "b": []}
        self.waiting: dict[str, list[Event]] = {"a": [], "b": []}
        self.minutes = 0
        self.state = {device: nothing_done() for device in "ab"}

    def _do(self, device: str, /, **deed: Any) -> None:
        self.minutes += 1
        at = f"2026-12-06T{self.minutes // 60 % 24:02d}:{self.minutes % 60:02d}:00Z"
        seq = len(self.mine[device]) + 1
        event = {"id": f"{device}{seq}", "device": device, "seq": seq, "at": at, **deed}
        event["clock"] = self.state[device]["clock"] + 1
        self.mine[device].append(event)
        self.waiting[device].append(event)
        self.state[device] = after(self.state[device], event)

    @rule(device=st.sampled_from("ab"))
    def next(self, device: str) -> None:
        self._do(device, kind="next", step=self.state[device]["place"])

    @rule(device=st.sampled_from("ab"))
    def back(self, device: str) -> None:
        self._do(device, kind="back", step=self.state[device]["place"])

    @rule(device=st.sampled_from("ab"), to=STEPS, between=st.sampled_from(["done", "as is"]))
    def jump(self, device: str, to: int, between: str) -> None:
        self._do(device, kind="jump", to=to, between=between)

    @rule(device=st.sampled_from("ab"), to=STEPS)
    def unpick(self, device: str, to: int) -> None:
        self._do(device, kind="unpick", to=to)

    @rule(device=st.sampled_from("ab"), what=st.sampled_from(["start", "stop", "beat"]))
    def sit(self, device: str, what: str) -> None:
        self._do(device, kind="sit", what=what)

    @rule(device=st.sampled_from("ab"), lost=st.booleans())
    def sync(self, device: str, lost: bool) -> None:
        self.kept |= {event["id"]: event for event in self.waiting[device]}
        if not lost:  # the answer came: else the device tells it all again
            self.waiting[device] = []
            self.state[device] = folded(self.kept.values())

    @invariant()
    def both_come_to_their_merged_log(self) -> None:
        arrived = folded(reversed(list(self.kept.values())))
        told = [e for device in "ba" for e in self.mine[device] if e["id"] in self.kept]
        assert arrived == folded(told)

    def teardown(self) -> None:
        for device in "abab":
            self.sync(device, lost=False)
        assert self.state["a"] == self.state["b"] == folded([*self.mine["b"], *self.mine["a"]])


TestTwoDevices = TwoDevices.TestCase
TestTwoDevices.settings = settings(max_examples=25, stateful_step_count=25, deadline=None)
