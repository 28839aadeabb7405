"""Her sittings from a table: what was done in each, and how long it took.

In: the bytes of a CSV file.  Out: ``Sitting``s, the oldest first; ``DesignError`` names the line.

Columns in any order: piece, date, hours or minutes, then amounts: base (balls: that of a ball 25 cm round), or core
(balls), yarn and wrap (metres); pins, marking (metres), tacks (crossings), bites, turning (metres turned), laying
(metres), under (passes), starts.  Or a column design with a design's file, and part with the percentage of
the whole ball that was done (100 where it is empty): then the amounts are the design's own.
"""

import math
from collections.abc import Callable, Mapping
from datetime import date

from polestitch.costing.sitting import KINDS, Sitting
from polestitch.document.tabletext import table_lines
from polestitch.errors import DesignError
from polestitch.winding.plan import DIP_MM
from polestitch.workup import base_for

WHOLE = ("piece", "date", "hours", "minutes", "design", "part")
BASE = "base"  # a column for all of a base, for who weighed and measured nothing of it
COLUMNS = (*WHOLE, BASE, *KINDS)
MOST_HOURS, MOST_AMOUNT = 1000.0, 100_000.0
USUAL_AROUND_MM = 250.0  # the median of 31 published balls
Work = Mapping[str, float]


def sittings_of(content: bytes, name: str, work_of: Callable[[str, str], Work] | None = None) -> tuple[Sitting, ...]:
    """All lines as sittings; ``work_of`` gives a design's amounts by its name and the place it is named at."""
    lines = table_lines(content, name)
    if len(lines) < 2:
        raise DesignError(name, f"has no sittings; the first line names the columns: {', '.join(COLUMNS)}")
    heads = [cell.lower() for cell in lines[0][1]]
    _refuse_odd_heads(heads, f"{name}, line {lines[0][0]}")
    read = []
    for number, cells in lines[1:]:
        where = f"{name}, line {number}"
        if len(cells) > len(heads) and any(cells[len(heads) :]):
            raise DesignError(where, f"has {len(cells)} cells under {len(heads)} columns; is a separator too many?")
        read.append(_read(dict(zip(heads, cells, strict=False)), where, work_of))
    dated = all(day is not None for day, _ in read)
    return tuple(one for _, one in (sorted(read, key=lambda pair: str(pair[0])) if dated else read))


def _refuse_odd_heads(heads: list[str], where: str) -> None:
    if len(set(heads)) < len(heads):
        twice = next(head for head in heads if heads.count(head) > 1)
        raise DesignError(where, f'the column "{twice[:40]}" stands twice; keep one of the two')
    unknown = [head for head in heads if head not in COLUMNS]
    if unknown:
        raise DesignError(where, f'"{unknown[0][:40]}" is no column of sittings; write {", ".join(COLUMNS)}')
    if "hours" not in heads and "minutes" not in heads:
        raise DesignError(where, 'there is no column "hours" or "minutes"; add the one you log')


def _read(told: dict[str, str], where: str, work_of: Callable[[str, str], Work] | None) -> tuple[date | None, Sitting]:
    work = {kind: _number(told[kind], f"{where}, {kind}", MOST_AMOUNT) for kind in KINDS if told.get(kind)}
    if told.get(BASE):
        work = _with_base(work, _number(told[BASE], f"{where}, {BASE}", MOST_AMOUNT))
    if told.get("design"):
        if work:
            raise DesignError(where, "gives a design and amounts as well; leave one of them empty")
        work = _of_design(told, where, work_of)
    if not sum(work.values()):
        raise DesignError(where, f"says nothing of what was done; fill in one of {', '.join(KINDS)}, or design")
    return _day(told.get("date", ""), where), Sitting(told.get("piece", ""), _hours(told, where), work)


def _with_base(work: Work, balls: float) -> dict[str, float]:
    """So many whole bases of a ball 25 cm round, beside the core, yarn and thread that have columns of their own."""
    usual = base_for(USUAL_AROUND_MM, DIP_MM)
    base = {"core": balls, "yarn": balls * usual.yarn_m, "wrap": balls * usual.thread_m}
    return {**work, **{kind: work.get(kind, 0.0) + amount for kind, amount in base.items()}}


def _of_design(told: dict[str, str], where: str, work_of: Callable[[str, str], Work] | None) -> dict[str, float]:
    if work_of is None:
        raise DesignError(where, "names a design, which cannot be looked up here; write the amounts themselves")
    part = _number((told.get("part") or "100").rstrip(" %"), f"{where}, part", 100.0)
    return {kind: amount * part / 100 for kind, amount in work_of(told["design"], f"{where}, design").items()}


def _hours(told: dict[str, str], where: str) -> float:
    hours, minutes = told.get("hours", ""), told.get("minutes", "")
    if not hours and not minutes:
        raise DesignError(where, "says no time; write hours such as 1.5 or 1:30, or minutes such as 90")
    whole = 0.0
    if hours:
        first, _, last = hours.partition(":")
        whole = _number(first, f"{where}, hours", MOST_HOURS)
        whole += _number(last, f"{where}, hours", 60) / 60 if last else 0.0
    if minutes:
        whole += _number(minutes, f"{where}, minutes", 60 * MOST_HOURS) / 60
    if whole <= 0:
        raise DesignError(where, "took no time at all; write hours such as 1.5 or 1:30, or minutes such as 90")
    return whole


def _number(text: str, where: str, most: float) -> float:
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        number = math.nan
    if not 0 <= number <= most:
        raise DesignError(where, f'"{text[:40]}" is no amount; write a number from 0 to {most:g}')
    return number


def _day(text: str, where: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise DesignError(f"{where}, date", f'"{text[:40]}" is no date; write it like 2026-11-30') from None
