"""A ball told without its colours, so that every student chooses her own.

In: a ``WorkUp``.  Out: ``Told`` with "colour A, colour B …" for threads, and which letter is what.
"""

import re
from dataclasses import dataclass, replace

from polestitch.checks import Finding
from polestitch.document.colours import Colour
from polestitch.document.design import Design, Layer, Thread
from polestitch.sheets.told import Told
from polestitch.steps import instructions
from polestitch.workup import WorkUp

EMPTY = Colour("#ffffff")
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
ABOUT_COLOUR = ("low contrast",)


@dataclass(frozen=True)
class Blank:
    """One colour to choose: what papers call it, and the thread the design has in its place."""

    called: str
    thread: Thread
    index: int


@dataclass(frozen=True, eq=False)
class Blanked:
    """The ball without its colours."""

    told: Told
    blanks: tuple[Blank, ...]


def blanked(work: WorkUp) -> Blanked:
    """The same build and words under other names of threads; stitches and distances stay what they are."""
    design = work.build.design
    blanks = tuple(Blank(_called(k), thread, k) for k, thread in enumerate(design.threads))
    build = replace(work.build, design=_renamed(design, blanks))
    text = instructions(build, work.pins, work.way)
    findings = tuple(_finding(one, blanks) for one in work.findings if one.kind not in ABOUT_COLOUR)
    return Blanked(Told(build, work.estimate, findings, text, work.pins, work.way, doubt=work.doubt), blanks)


def _called(number: int) -> str:
    """From colour A to colour Z, then colour A2 and so on."""
    again, letter = divmod(number, len(LETTERS))
    return f"colour {LETTERS[letter]}{again + 1 if again else ''}"


def _renamed(design: Design, blanks: tuple[Blank, ...]) -> Design:
    """Threads, marking and layers under their new names."""
    threads = tuple(one.thread.model_copy(update={"name": one.called, "colour": EMPTY}) for one in blanks)
    marking = design.marking.model_copy(update={"thread": without_colours(design.marking.thread or "", blanks) or None})
    layers = tuple(_layer(layer, blanks) for layer in design.layers)
    return design.model_copy(update={"threads": threads, "marking": marking, "layers": layers})


def _layer(layer: Layer, blanks: tuple[Blank, ...]) -> Layer:
    under = tuple(one.model_copy(update={"layer": without_colours(one.layer, blanks)}) for one in layer.under)
    crossings = tuple(one.model_copy(update={"other": without_colours(one.other, blanks)}) for one in layer.crossings)
    words = {name: without_colours(getattr(layer, name), blanks) for name in ("name", "notes")}
    return layer.model_copy(update={**words, "under": under, "crossings": crossings})


def _finding(finding: Finding, blanks: tuple[Blank, ...]) -> Finding:
    return replace(finding, sentence=without_colours(finding.sentence, blanks))


def without_colours(text: str, blanks: tuple[Blank, ...]) -> str:
    """``text`` with the names of threads, as whole words, in their blanks' names."""
    by_name = {one.thread.name.casefold(): one.called for one in blanks}
    longest = sorted(map(re.escape, by_name), key=len, reverse=True)
    pattern = re.compile(rf"(?<!\w)({'|'.join(longest)})(?!\w)", re.IGNORECASE)
    return pattern.sub(lambda found: by_name[found[0].casefold()], text)
