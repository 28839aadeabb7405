"""All checks in one place: what is looked at, and in which order findings are told.

In: a build, and the thread each colour needs.  Out: findings, the gravest first.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from polestitch.checks.base import close_pins, out_of_round, wide_bite
from polestitch.checks.finding import Finding, Made
from polestitch.checks.held import slipping_turns
from polestitch.checks.neighbours import bald_gaps, collisions
from polestitch.checks.reach import blunt_tips, crowded_centres, overruns, partial_paths
from polestitch.checks.rows import build_up, rows_on_rows
from polestitch.checks.threads import faint_threads, guessed_widths, short_threads
from polestitch.checks.uneven import uneven_rows
from polestitch.checks.weave import contradictions, lost_choices, needle_work, open_rules, rings

Check = Callable[[Made], Iterator[Finding]]
CHECKS: tuple[Check, ...] = (
    overruns,
    uneven_rows,
    collisions,
    bald_gaps,
    partial_paths,
    crowded_centres,
    blunt_tips,
    build_up,
    rows_on_rows,
    slipping_turns,
    contradictions,
    open_rules,
    lost_choices,
    needle_work,
    rings,
    faint_threads,
    guessed_widths,
    out_of_round,
    wide_bite,
    close_pins,
)
# The fact a finding's sentence begins with, as far as its first colon or stop outside a name.
FACT = re.compile(r'(?:"[^"]*"|[^"])*?(?=[:.] )')
GRAVITY = {"stop": 0, "care": 1, "note": 2}


def findings(made: Made, needed_mm: Mapping[str, float]) -> tuple[Finding, ...]:
    """Everything worth knowing before the first stitch; no fact is told twice."""
    found = [*short_threads(made, needed_mm), *(finding for check in CHECKS for finding in check(made))]
    over = {finding.layer for finding in found if finding.kind == "overrun"}
    told = [finding for finding in found if not (finding.kind == "motifs collide" and finding.layer in over)]
    return by_gravity([_as_meant(made, one) for one in told])


def by_gravity(told: Iterable[Finding]) -> tuple[Finding, ...]:
    """What stops the work first, what is only good to know last."""
    return tuple(sorted(told, key=lambda finding: GRAVITY[finding.severity]))


def _as_meant(made: Made, finding: Finding) -> Finding:
    """What the design says is meant, as a note of the fact and the reason; what must be changed stays as it is."""
    reason, fact = _reason(made, finding), FACT.match(finding.sentence)
    if reason is None or fact is None or finding.severity == "stop":
        return finding
    return replace(finding, severity="note", sentence=f"{fact[0]}. It is meant: {reason}", remedy=None)


def _reason(made: Made, finding: Finding) -> str | None:
    """Why the finding's own layer, or its thread where it is of no layer, is as it is."""
    if finding.layer is not None:
        layer = made.design.layers[finding.layer]
        return next((why for kind, why in layer.meant.items() if kind == finding.kind), None)
    threads = (thread for thread in made.design.threads if thread.name == finding.address)
    return next((why for thread in threads for kind, why in thread.meant.items() if kind == finding.kind), None)
