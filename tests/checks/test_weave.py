"""What is said of over and under before the first stitch."""

from polestitch.checks import Finding, findings
from polestitch.checks.neighbours import collisions
from polestitch.pipeline import Build
from tests.builds import BAND, KIKU, SQUARE, built

BANDS = {**BAND, "where": "all equators", "rows": "1 navy"}
SMALL = {**SQUARE, "params": {"corners": 4, "at": "25 mm"}}
WIDE = {**KIKU, "params": {"outer": "5 mm from obi", "inner": "8 mm"}, "rows": "6 navy"}


def about(made: Build, kind: str) -> list[Finding]:
    return [finding for finding in findings(made, {}) if finding.kind == kind]


def under(*rules: str, other: str = "layer 1") -> dict[str, object]:
    return {"under": [{"layer": other, "rule": rule} for rule in rules]}


def test_rules_that_contradict_each_other_are_named_with_their_layer() -> None:
    (found,) = about(built(WIDE, {**SMALL, **under("under first", "all")}), "rules contradict")
    assert (found.layer, found.severity) == (1, "care")
    assert '"under first" with "layer 1" asks for the opposite of "all"' in found.sentence
    assert found.remedy == {"path": "layers[1].under[0]", "value": None}
    assert not about(built(WIDE, {**SMALL, **under("all")}), "rules contradict")


def test_a_pattern_that_does_not_come_out_even_is_told_with_its_place() -> None:
    (found,) = about(built(KIKU, {**BAND, "where": "line 1", **under("pattern OUUUU")}), "rule left open")
    assert (found.layer, found.severity) == (1, "care")
    assert "do not come out even" in found.sentence
    assert found.address is not None


def test_an_order_that_spares_the_needle_is_offered() -> None:
    (found,) = about(built(WIDE, {**SMALL, **under("all")}), "needle under")
    assert (
        "leaves none at all for the needle: rows 1 to 4 of layer 2 at N, then rows 1 to 6 of layer 1" in found.sentence
    )


def test_a_weave_that_no_order_spares_names_the_ring() -> None:
    (found,) = about(built({**BANDS, **under("woven bands")}, division="C4"), "needle under")
    assert "which must lie below" in found.sentence
    assert found.sentence.count("row 1 of layer 1 at") + found.sentence.count("row 2 of layer 1 at") == 4
    assert found.severity == "note"


def test_interlocked_motifs_must_lie_both_ways() -> None:
    squares = {**SQUARE, "where": "all centres", "params": {"corners": 4, "at": "40 mm"}, **under("interlocked")}
    (found,) = about(built(squares, division="C8"), "needle under")
    assert "in one place and above it in another. The order you have is as good as any." in found.sentence


def test_rings_that_hold_are_told_from_rings_that_do_not() -> None:
    squares = {**SQUARE, "where": "all centres", **under("interlocked")}
    (held,) = about(built({**squares, "params": {"corners": 4, "at": "40 mm"}}, division="C8"), "rings")
    assert (held.severity, "all 6 rings hold each other" in held.sentence) == ("note", True)
    (apart,) = about(built({**squares, "params": {"corners": 4, "at": "20 mm"}}, division="C8"), "rings")
    assert (apart.severity, "nothing holds" in apart.sentence) == ("care", True)


def test_three_woven_bands_hold_though_no_two_do() -> None:
    (found,) = about(built({**BANDS, "rows": "1 navy", **under("woven bands")}, division="C4"), "rings")
    assert "as in Borromean rings" in found.sentence


def test_a_ring_that_lies_loose_is_named() -> None:
    pair = {**SQUARE, "where": ["N", "centre 2"], "params": {"corners": 4, "at": "40 mm"}, **under("interlocked")}
    small = {**SQUARE, "where": "S", "params": {"corners": 4, "at": "8 mm"}, **under("interlocked")}
    found = about(built(pair, small, division="C8"), "rings")
    loose, held = sorted(found, key=lambda finding: finding.severity)
    assert "all 2 rings hold each other" in held.sentence
    assert (loose.severity, loose.layer, loose.address) == ("care", 1, "S")
    assert loose.sentence.endswith("of 3 rings, 2 hold each other. The one at S lies loose.")


def test_motifs_meant_to_interlock_do_not_collide() -> None:
    squares = {**SQUARE, "where": "all centres", "params": {"corners": 4, "at": "40 mm"}}
    assert list(collisions(built(squares, division="C8")))
    assert not list(collisions(built({**squares, **under("interlocked")}, division="C8")))


def test_plain_work_says_nothing() -> None:
    made = built(KIKU, BAND)
    assert not [
        finding for kind in ("rules contradict", "rule left open", "needle under") for finding in about(made, kind)
    ]
