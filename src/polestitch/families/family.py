"""The families of traditional patterns, each a starter design in a file of its own.

In: a family's name, her ball and a division.  Out: ``Family`` records, starter documents, and for the studio's shelf
``families_json()``: dicts with ``name``, ``title``, ``term`` (or None), ``kind``, ``sentence``, ``difficulty``
(1 to 5), ``difficulty_said``, ``divisions``, ``techniques`` and ``sources``.
"""

import json
from copy import deepcopy
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from polestitch.document.design import Name, Record
from polestitch.document.jsontext import json_object
from polestitch.document.limits import around_mm as mm_of
from polestitch.document.said import listed
from polestitch.document.sentences import design_error
from polestitch.errors import DesignError

Kind = Literal["flowers", "stars", "polygons", "spindles", "bands and weaves", "whole ball", "faces"]
KINDS: tuple[Kind, ...] = ("flowers", "stars", "polygons", "spindles", "bands and weaves", "whole ball", "faces")
DIFFICULTY = ("a first ball", "easy", "takes care", "for practised hands", "for patient experts")
Sentence = Annotated[str, Field(min_length=20, max_length=400)]
Patch = dict[str, dict[str, Any]]
_PATTERNS = files("polestitch.families") / "patterns"


class Family(Record):
    """One traditional family as its file tells it."""

    title: Annotated[Name, Field(description="What makers call it in English")]
    term: Annotated[Name | None, Field(description="The trade's Japanese term, if it has one")] = None
    kind: Annotated[Kind, Field(description="On which shelf it lies")]
    sentence: Annotated[Sentence, Field(description="What one sees and how it is made")]
    look: Annotated[Sentence, Field(description="What a finished one looks like, for whoever checks the picture")]
    difficulty: Annotated[int, Field(ge=1, le=5, description="From a first ball to one for experts")]
    why: Annotated[str, Field(min_length=5, max_length=200, description="Why it is that difficult")]
    divisions: Annotated[tuple[str, ...], Field(min_length=1, description="It works on these; the first is its own")]
    sources: Annotated[tuple[str, ...], Field(description="Addresses of published patterns and lessons")]
    from_source: Annotated[Sentence, Field(description="Which numbers are the source's, and which are ours")]
    facing: Annotated[str, Field(max_length=60, description="Which spot its picture looks at")]
    by_division: Annotated[
        dict[str, Patch],
        Field(default_factory=dict, description="What changes in which layer (by its index) on another division"),
    ]
    design: Annotated[dict[str, Any], Field(description="The starter design for a ball of about 25 cm")]

    @property
    def techniques(self) -> tuple[str, ...]:
        """Techniques of its layers, in stitching order."""
        return tuple(dict.fromkeys(layer["technique"] for layer in self.design["layers"]))

    @property
    def difficulty_said(self) -> str:
        """Its difficulty in words."""
        return DIFFICULTY[self.difficulty - 1]

    @property
    def full_title(self) -> str:
        """Title, and the term where there is one."""
        return self.title if self.term is None else f"{self.title} ({self.term})"


@cache
def family_names() -> tuple[str, ...]:
    """Every family's name in alphabetical order."""
    return tuple(sorted(file.name.removesuffix(".json") for file in _PATTERNS.iterdir() if file.name.endswith(".json")))


@cache
def family(name: str) -> Family:
    """The family called ``name``; ``DesignError`` with the nearest names where there is none."""
    if name not in family_names():
        raise DesignError("FAMILY", _unknown(name))
    return family_of((_PATTERNS / f"{name}.json").read_text(encoding="utf-8"), name)


def family_of(text: str, source: str) -> Family:
    """The family that a file's ``text`` tells; ``DesignError`` at the first thing that is not right."""
    raw = json_object(text, source)
    try:
        return Family.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, Family, source) from None


def _unknown(name: str) -> str:
    """The nearest by name, title or term; of several with one title or term the easiest comes first."""
    called: dict[str, list[str]] = {}
    for known, told in families().items():
        for word in filter(None, (known, told.title.lower(), told.term)):
            called.setdefault(word, []).append(known)
    near = [known for word in get_close_matches(name[:60].lower(), called, n=3, cutoff=0.6) for known in called[word]]
    hint = (
        f"did you mean {' or '.join(list(dict.fromkeys(near))[:3])}?" if near else "polestitch families lists them all"
    )
    return f'"{name[:60]}" is no family of patterns; {hint}'


def _families() -> tuple[tuple[str, Family], ...]:
    return tuple((name, family(name)) for name in family_names())


def families(kind: str | None = None) -> dict[str, Family]:
    """Families by name, shelf by shelf and the easier first; ``DesignError`` for a kind that is none."""
    if kind is not None and kind not in KINDS:
        near = get_close_matches(kind[:60].lower(), KINDS, n=1, cutoff=0.5)
        hint = f'did you mean "{near[0]}"?' if near else f"there are {listed(KINDS)}"
        raise DesignError("--kind", f'"{kind[:60]}" is no kind of pattern; {hint}')
    found = [(name, told) for name, told in _families() if kind in (None, told.kind)]
    return dict(sorted(found, key=lambda one: (KINDS.index(one[1].kind), one[1].difficulty, one[1].title)))


def families_json(kind: str | None = None) -> list[dict[str, Any]]:
    """Plain data of every family, for ``--json`` and for the studio's shelf."""
    return [_plain(name, told) for name, told in families(kind).items()]


def _plain(name: str, told: Family) -> dict[str, Any]:
    said = {key: getattr(told, key) for key in ("title", "term", "kind", "sentence", "difficulty", "difficulty_said")}
    lists = {key: list(getattr(told, key)) for key in ("divisions", "techniques", "sources")}
    return {"name": name, **said, **lists}


def starter(name: str, around_mm: float | None = None, division: str | None = None) -> dict[str, Any]:
    """A fresh design of the family ``name``, planned for a ball ``around_mm`` and for ``division``.

    None: as the family's file has it.  ``DesignError`` for a division or a size it does not work on.
    """
    told = family(name)
    design = _on_division(told, name, division or told.divisions[0])
    return design if around_mm is None else _on_ball(design, around_mm)


def _on_division(told: Family, name: str, division: str) -> dict[str, Any]:
    if division not in told.divisions and f"{division}+obi" in told.divisions:
        division = f"{division}+obi"  # the family needs the equator that she left unsaid
    if division not in told.divisions:
        raise DesignError("--division", f"{name} works on {listed(told.divisions)}; {division[:40]} is none of these")
    design = deepcopy(told.design)
    design["marking"]["division"] = division
    for index, patch in told.by_division.get(division, {}).items():
        layer = design["layers"][int(index)]
        params = {**layer.get("params", {}), **patch.get("params", {})}
        layer.update({**deepcopy(patch), "params": params})
    return design


def _on_ball(design: dict[str, Any], around_mm: float) -> dict[str, Any]:
    """``design`` re-planned: its millimetres and rows follow the ball, its look stays."""
    from polestitch.fitting import replanned

    mm_of(f"{around_mm / 10:g} cm", "--around")
    return replanned(design, around_mm).document
