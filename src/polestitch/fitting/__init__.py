"""Making a design fit: the same look on another ball, and rows, starts, threads or sizes that end where she wishes.

In: a whole document as plain JSON data (format 1), as its maker wrote it.  Out: the changed document and sentences.

``fit_answer(document, wish)`` is the front door.  A wish is a dict::

    {"layer": "salt pans",       what is to fit
     "wish": "meet",             "meet", "gap", "reach" or "fill"
     "with": "windmill sails",   for meet and gap: another layer; left out: its own neighbours
     "gap": "2 mm",              for gap
     "at": "5 mm from obi",      for reach: a length from centre, edge, obi or line, or an address
     "change": "rows",           "rows", "stretch", "start", "thread", "pitch" or "around"
     "param": "inner"}           for start, if not the param that moves the motif's end

or ``{"wishes": [wish, wish …]}``, solved together.  The answer::

    {"document": {…},            changed; unchanged where nothing can be done
     "found": [{"layer", "change", "from", "to", "residual_mm", "exact", "sentence", "offers"}, …]}

``residual_mm`` is what is left between the threads' edges beyond what was wished; below 0 they overlap.
``exact`` is true within a tenth of a millimetre; where one wish does not come true, ``offers`` tell what else
makes it so.  ``DesignError`` for a wish that cannot be read or measured.
"""

from typing import TYPE_CHECKING, Any

from polestitch.fitting.replan import Replanned, replanned

if TYPE_CHECKING:
    from polestitch.pipeline import Build

__all__ = ["Replanned", "fit_answer", "replanned", "sizes_if_quick", "sizes_json"]

MOST_QUICK = 4_000  # spans of thread: about as long as the booklet itself takes


def fit_answer(document: dict[str, Any], wish: dict[str, Any]) -> dict[str, Any]:
    """The document changed so that the wish comes true, and what was found."""
    from polestitch.fitting.solve import answered

    return answered(document, wish)


def sizes_json(document: dict[str, Any], measured_mm: float | None = None) -> dict[str, Any]:
    """What changes if the ball comes out up to 4 % smaller or 2 % larger than planned, or as she measured it."""
    from polestitch.fitting.sizes import sizes_table

    return sizes_table(document, measured_mm)


def sizes_if_quick(document: dict[str, Any], made: "Build") -> dict[str, Any] | None:
    """``sizes_json`` for the ball ``made`` stands on; ``None`` where it would take long or the plan cannot be made.

    Every size is a ball built anew, so an all-over ball would keep her waiting for one page.
    """
    from polestitch.errors import DesignError

    if len(made.laid.sweep) > MOST_QUICK:
        return None
    try:
        return sizes_json(document, made.ball.around_mm)
    except DesignError:
        return None
