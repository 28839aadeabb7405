"""Every under rule over every technique on every division it is offered for, through to steps and charts."""

import re
from functools import cache
from itertools import product
from typing import Any

import pytest

from polestitch.document.design import UNDER_RULES, Design
from polestitch.errors import DesignError
from polestitch.laying.order import stitching_order
from polestitch.laying.weave import NONE, UnderRule, relation
from polestitch.marking.route import Route
from polestitch.pipeline import Build, build
from polestitch.sheets.views import motif_chart, unlike_motifs
from polestitch.steps.instructions import Instructions, instructions
from polestitch.stitching.technique import names, technique
from polestitch.studio.catalogue import offers
from tests.builds import document
from tests.whole import wanting

# Coarse and fine, odd, uneven, with and without obi, every combination, and nets of many faces.
pytestmark = pytest.mark.slow
DIVISIONS = ("S3", "S5", "S8+obi", "S8/S16", "C4", "C6", "C8", "C10", "C6/8", "C8/14", "C10/32")
COUNTS = (8, 4, 5, 6, 3)
FORMS: dict[str, tuple[dict[str, Any], ...]] = {
    **{name: tuple({"corners": k} for k in COUNTS) for name in ("polygon", "rose", "swirl")},
    "sakasa": tuple({"corners": k, "step": (k - 1) // 2} for k in (12, 8, 5, 6, 3)),
    "star": tuple({"points": k} for k in (5, 8, 6)),
    "both_poles": ({}, {"lines": "every"}),
    "woven_spindle": ({"turns": 2},),
    "thimble": ({}, {"marks": 12}),
}
ROWS = {"woven_spindle": "3 navy", "cube_weave": "1 navy"}
RULES = (*UNDER_RULES, "pattern OUUO")
NO_ROUTE = Route((), (), ())
CLAIMED = [pair for pair in product(names(), DIVISIONS) if offers(*pair)]


def worked(name: str, division: str, given: dict[str, Any], rule: str = "") -> Build:
    """The technique twice over: at the first place offered, and then at the next one, with a rule."""
    first, *others = [where for where in offers(name, division) if where != "every turn"]
    around = "600 mm" if name == "one_stroke" else "300 mm"
    plain = {"technique": name, "where": first, "rows": ROWS.get(name, "2 navy"), "params": given}
    later = {**plain, "name": "later", "where": (others or [first])[0]}
    under = [{"layer": "layer 1", "rule": rule}, {"layer": "later", "rule": rule}] if rule else []
    made = document(plain, {**later, "under": under}, division=division, ball={"around": around})
    return build(Design.model_validate(made))


@cache
def plainly(name: str, division: str) -> Build | DesignError:
    """The same without a rule, in the first form that fits the lines there; or what is said against the last."""
    said = None
    for given in FORMS.get(name, ({},)):
        try:
            return worked(name, division, given)
        except DesignError as error:
            said = error
    assert said is not None
    return said


def refused(made: Build | DesignError) -> bool:
    """Whether nothing fits here; then the words must be about how the lines divide."""
    if isinstance(made, DesignError):
        assert re.search("divide|too few|less than half", made.what)
        return True
    return False


def told(made: Build) -> Instructions:
    """Its steps; how the lines are marked is told elsewhere."""
    return instructions(made, (), NO_ROUTE)


def test_every_technique_is_offered_on_some_division() -> None:
    assert {name for name, _ in CLAIMED} == set(names())


@pytest.mark.parametrize(("name", "division"), CLAIMED)
def test_every_rule_is_resolved_and_realised_or_refused_with_reason(name: str, division: str) -> None:
    made = plainly(name, division)
    if refused(made):
        return
    assert isinstance(made, Build)
    assert len(made.motifs) > 1
    for rule in RULES:
        asked = relation(made.laid, made.crossings, (UnderRule(1, 0, rule), UnderRule(1, 1, rule)))
        assert rule != "all" or not asked.over[asked.told == 0].any()
        order = stitching_order(made.laid, made.crossings, asked.over)
        assert sorted(order.threads) == list(range(len(made.laid.row_layer)))
        assert order.least <= order.unders <= order.given
        assert bool(order.proof) == (order.unders > 0)
        if rule == "interlocked":
            assert stitching_order(made.laid, made.crossings, order.nearest).unders == 0


@pytest.mark.parametrize(("name", "division"), CLAIMED)
def test_its_steps_exist(name: str, division: str) -> None:
    made = plainly(name, division)
    if refused(made):
        return
    assert isinstance(made, Build)
    said = told(made)
    for layer in (0, 1):
        assert all(step.text.endswith((".", ":", ";")) for step in said.of("layer", layer))
        assert len(said.of("layer", layer)) > 1


@pytest.mark.parametrize(("name", "division"), [pair for pair in CLAIMED if pair[1] in {"S8+obi", "C8", "C8/14"}])
def test_its_chart_draws(name: str, division: str) -> None:
    made = plainly(name, division)
    if refused(made):
        return
    assert isinstance(made, Build)
    chart = motif_chart(made, unlike_motifs(made, 0)[0])
    assert chart.height > 10
    assert len(chart.marks) > 3


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("name", names())
def test_a_document_with_the_rule_is_built_and_told(name: str, rule: str) -> None:
    made = worked(name, technique(name).EXAMPLE["division"], dict(technique(name).EXAMPLE["params"]), rule)
    said = told(made)
    assert list(wanting(made, said)) == []
    ruled = made.relation.told != NONE
    if ruled[~made.over].any():
        words = " ".join(step.text for layer in (0, 1) for step in said.of("layer", layer))
        assert re.search(r"\bunder\b", words)
        assert "layer 1" in words or "later" in words
