"""What must agree between the parts of a document, as far as that can be said without a ball.

In: a ``Design`` whose parts are right one by one.  Out: nothing, or a ``DesignError`` at the part to change.
Techniques and addresses are not looked at: the document knows neither.
"""

import difflib
from collections.abc import Collection, Sequence

from polestitch.document.design import Design, Layer, Maker, Measures, Thread
from polestitch.document.limits import (
    BITE,
    DIP,
    ENDS,
    HAVE,
    PITCH,
    SKEIN,
    SPREAD,
    STRETCH,
    WORKING_LENGTH,
    around_mm,
    plain_mm,
)
from polestitch.document.rows import NAME_ENDS, row_list
from polestitch.document.threads import pitch_mm
from polestitch.errors import DesignError


def checked(design: Design) -> Design:
    """``design`` itself, if its parts agree; ``DesignError`` at the first that does not."""
    _check_ball(design)
    _check_maker(design.maker)
    for k, thread in enumerate(design.threads):
        _check_thread(thread, f"threads[{k}]")
    names = _different([thread.name for thread in design.threads], "threads", "thread")
    if design.marking.thread is not None:
        _check_known(design.marking.thread, names, "marking.thread", "thread")
    layers = _different([layer.name for layer in design.layers], "layers", "layer")
    _different([line.name for line in design.marking.support], "marking.support", "support line")
    for k, layer in enumerate(design.layers):
        _check_layer(layer, f"layers[{k}]", names, layers[:k])
    return design


def _check_ball(design: Design) -> None:
    around_mm(design.ball.around, "ball.around")
    for way in ("pole_to_pole", "obi"):
        for k, length in enumerate(getattr(design.ball.measured, way)):
            around_mm(length, f"ball.measured.{way}[{k}]")


def _check_maker(maker: Maker) -> None:
    plain_mm(maker.working_length, "maker.working_length", WORKING_LENGTH)
    plain_mm(maker.stretch, "maker.stretch", STRETCH)
    plain_mm(maker.bite, "maker.bite", BITE)
    plain_mm(maker.dip, "maker.dip", DIP)
    plain_mm(maker.ends, "maker.ends", ENDS)
    if maker.measures is not None:
        _check_measures(maker.measures)


def _check_measures(measures: Measures) -> None:
    plain = {"step": (measures.step, STRETCH), "bite": (measures.bite, BITE), "dip": (measures.dip, DIP)}
    pitches = {f"pitch.{name}": (reading, PITCH) for name, reading in measures.pitch.items()}
    for name, (reading, allowed) in {**plain, **pitches}.items():
        if reading is not None:
            plain_mm(reading.length, f"maker.measures.{name}.length", allowed)
            plain_mm(reading.spread, f"maker.measures.{name}.spread", SPREAD)


def _check_thread(thread: Thread, where: str) -> None:
    """A name that a row list can hold, a size of known width, amounts that are amounts."""
    if thread.name != " ".join(thread.name.split()) or any(end in thread.name for end in NAME_ENDS):
        raise DesignError(
            f"{where}.name",
            f'"{thread.name}" cannot be used in rows; leave out commas, colons, brackets and spaces too many',
        )
    pitch_mm(thread, f"{where}.size")
    if thread.skein is not None:
        plain_mm(thread.skein, f"{where}.skein", SKEIN)
    if thread.have is not None:
        plain_mm(thread.have, f"{where}.have", HAVE)


def _check_layer(layer: Layer, where: str, threads: Sequence[str], earlier: Sequence[str]) -> None:
    try:
        rows = row_list(layer.rows)
    except ValueError as error:
        raise DesignError(f"{where}.rows", str(error)) from None
    for name in dict.fromkeys(rows.threads):
        _check_known(name, threads, f"{where}.rows", "thread")
    if not layer.where:
        raise DesignError(f"{where}.where", 'names no place; write an address such as "N", or "all centres"')
    for k, under in enumerate(layer.under):
        if under.layer != layer.name:
            _check_known(under.layer, earlier, f"{where}.under[{k}].layer", "earlier layer")
    for k, chosen in enumerate(layer.crossings):
        if chosen.other != layer.name:
            _check_known(chosen.other, earlier, f"{where}.crossings[{k}].other", "earlier layer")


def _different(names: Sequence[str], where: str, thing: str) -> Sequence[str]:
    """``names`` themselves, if no two are alike."""
    for k, name in enumerate(names):
        if name in names[:k]:
            raise DesignError(f"{where}[{k}].name", f'"{name}" is the name of another {thing} too; give it a new one')
    return names


def _check_known(name: str, known: Collection[str], where: str, thing: str) -> None:
    if name in known:
        return
    near = difflib.get_close_matches(name, known, n=3, cutoff=0.5)
    if near:
        hint = f"did you mean {' or '.join(near)}?"
    else:
        hint = f"there is {', '.join(list(known)[:12])}" if known else f"there is no {thing}"
    raise DesignError(where, f'"{name[:60]}" is no {thing} of this design; {hint}')
