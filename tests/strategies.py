"""Hypothesis strategies for documents: lengths, threads, layers and whole designs.

Every design drawn here passes ``codec.read``; its techniques and addresses need not exist.
"""

from typing import Any

from hypothesis import strategies as st

from polestitch.document.colours import Colour
from polestitch.document.design import (
    BallSpec,
    Design,
    Layer,
    Maker,
    MarkingSpec,
    Measured,
    Support,
    Thread,
    Under,
)
from polestitch.document.lengths import Length
from polestitch.document.rows import NAME_ENDS
from polestitch.document.threads import SIZES

ORIGINS = ("centre", "edge", "obi", "line")
# No surrogates (no file can keep them) and no control characters (nobody can type them).
LETTERS = st.characters(exclude_categories=("Cs", "Cc"))
WORDS = st.text(LETTERS, min_size=1, max_size=20)


def lengths(least_mm: float = 0.1, most_mm: float = 500.0) -> st.SearchStrategy[Length]:
    """Plain lengths between two sizes, in any unit a maker may write."""
    return st.one_of(
        st.integers(int(least_mm * 100) + 1, int(most_mm * 100)).map(lambda n: Length(f"{n / 100} mm")),
        st.integers(int(least_mm * 10) + 1, int(most_mm * 10)).map(lambda n: Length(f"{n / 100}cm")),
        st.integers(int(least_mm / 25.4 * 64) + 1, int(most_mm / 25.4 * 64)).map(lambda n: Length(f"{n}/64 in")),
    )


def placed_lengths() -> st.SearchStrategy[Length]:
    """Lengths and fractions that name where they count from."""
    fractions = st.tuples(st.integers(1, 9), st.integers(1, 9)).map(lambda pair: f"{pair[0]}/{pair[1]}")
    amounts = st.one_of(fractions, lengths().map(str))
    return st.tuples(amounts, st.sampled_from(ORIGINS)).map(lambda pair: Length(f"{pair[0]} from {pair[1]}"))


def colours() -> st.SearchStrategy[Colour]:
    """Three or six hexadecimal digits, either case."""
    return st.from_regex(r"#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})", fullmatch=True).map(Colour)


def thread_names() -> st.SearchStrategy[str]:
    """Names a row list can hold: single spaces, none of the signs that end a name."""
    letters = st.characters(exclude_categories=("Cs", "Cc"), exclude_characters=NAME_ENDS)
    return st.text(letters, min_size=1, max_size=20).map(lambda text: " ".join(text.split())).filter(bool)


def threads(name: str) -> st.SearchStrategy[Thread]:
    """One thread of that name, of a known size or measured."""
    return st.builds(
        Thread,
        name=st.just(name),
        colour=colours(),
        fibre=WORDS,
        size=st.sampled_from([*SIZES, "tex 27", "Nm 30/2", "Ne 5/2", "40 den"]),
        rows_per_cm=st.none() | st.floats(0.5, 100),
        tex=st.none() | st.floats(1, 5000),
        metallic=st.booleans(),
        skein=st.none() | lengths(2, 100_000),
        have=st.none() | lengths(0.1, 100_000),
        meant=meant(["low contrast"]),
    )


def meant(kinds: list[str]) -> st.SearchStrategy[dict[str, str]]:
    """Some kinds of findings with the reason why each is meant."""
    return st.dictionaries(st.sampled_from(kinds), st.text(LETTERS, min_size=10, max_size=40), max_size=2)


def row_texts(names: list[str]) -> st.SearchStrategy[str]:
    """Row lists of the given threads: plain, repeated, or until something."""
    runs = st.tuples(st.integers(1, 9), st.sampled_from(names)).map(lambda run: f"{run[0]} {run[1]}")
    lists = st.lists(runs, min_size=1, max_size=4).map(", ".join)
    repeats = st.tuples(st.integers(1, 9), lists).map(lambda part: f"{part[0]} x ({part[1]})")
    targets = st.sampled_from(["obi", "edge", "neighbours", "triangle 3", "5 mm from obi", "1/3 from edge"])
    untils = st.tuples(targets, lists).map(lambda part: f"until {part[0]}: {part[1]}")
    return st.one_of(lists, repeats, untils)


def json_values() -> st.SearchStrategy[Any]:
    """Whatever JSON can say."""
    text = st.text(LETTERS, max_size=10)
    scalars = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | text
    return st.recursive(
        scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(text, inner, max_size=3), max_leaves=6
    )


def params() -> st.SearchStrategy[dict[str, Any]]:
    """Raw params: any JSON object."""
    return st.dictionaries(WORDS, json_values(), max_size=3)


def balls() -> st.SearchStrategy[BallSpec]:
    """Wound balls, measured or not."""
    around = lengths(31, 2900)
    measured = st.builds(
        Measured, pole_to_pole=st.lists(around, max_size=3).map(tuple), obi=st.lists(around, max_size=2).map(tuple)
    )
    return st.builds(BallSpec, around=around, measured=measured, colour=colours())


def makers() -> st.SearchStrategy[Maker]:
    """Hands and habits."""
    return st.builds(
        Maker,
        hand=st.sampled_from(["right", "left"]),
        units=st.sampled_from(["mm", "in"]),
        friction=st.floats(0.05, 2),
        working_length=lengths(50, 5000),
        stretch=lengths(0.5, 10),
        bite=lengths(0.5, 10),
    )


@st.composite
def markings(draw: st.DrawFn, names: list[str]) -> MarkingSpec:
    """A division, its thread and some support lines."""
    lines = draw(st.lists(WORDS, max_size=2, unique=True))
    support = tuple(
        draw(
            st.builds(
                Support,
                name=st.just(line),
                around=st.just("N"),
                at=placed_lengths(),
                corners=st.none() | st.integers(3, 64),
                removed=st.booleans(),
            )
        )
        for line in lines
    )
    division = draw(st.sampled_from(["S2", "S8", "S12+obi", "C4", "C6", "C8", "C10"]))
    return MarkingSpec(division=division, thread=draw(st.none() | st.sampled_from(names)), support=support)


@st.composite
def layers(draw: st.DrawFn, name: str, names: list[str], earlier: list[str]) -> Layer:
    """One layer of the given threads, perhaps under some of the earlier layers."""
    rules = st.sampled_from(["all", "under first", "over first"])
    under = [st.builds(Under, layer=st.sampled_from(earlier), rule=rules)] if earlier else []
    return draw(
        st.builds(
            Layer,
            name=st.just(name),
            technique=WORDS,
            where=WORDS | st.lists(WORDS, min_size=1, max_size=3).map(tuple),
            rows=row_texts(names),
            start=st.sampled_from(["line 1", "line 2"]),
            direction=st.sampled_from(["right", "left"]),
            combine=st.sampled_from(["overlapped", "layered"]),
            together=st.none() | WORDS,
            under=st.just(()) | st.tuples(*under),
            params=params(),
            meant=meant(["overrun", "mid-span gap"]),
            notes=st.text(LETTERS, max_size=40),
        )
    )


@st.composite
def designs(draw: st.DrawFn) -> Design:
    """A whole document that reads without a finding."""
    names = draw(st.lists(thread_names(), min_size=1, max_size=3, unique=True))
    titles = draw(st.lists(WORDS, max_size=3, unique=True))
    return Design(
        name=draw(WORDS),
        level=draw(st.sampled_from(["beginner", "accomplished beginner", "intermediate", "advanced"])),
        ball=draw(balls()),
        maker=draw(makers()),
        threads=tuple(draw(threads(name)) for name in names),
        marking=draw(markings(names)),
        layers=tuple(draw(layers(title, names, titles[:k])) for k, title in enumerate(titles)),
        notes=draw(st.text(LETTERS | st.just("\n"), max_size=60)),
    )
