"""What her own balls say of how densely things pack.

In: a table of what she wound: before, after, how much.  Out: densities narrowed by it, and how sure they are.

A density is taken as log-normal: the range of the estimate is two standard deviations each way, a reading is as
sure as tape and scales are, and both are weighed by their certainty (the product of two normal laws).
"""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import pstdev

from polestitch.document.lengths import MM, Length
from polestitch.document.tabletext import table_lines
from polestitch.errors import DesignError
from polestitch.winding.materials import CORES, WRAPS, Range
from polestitch.winding.plan import shell_cm3

TAPE_MM, SCALES_G = 1.0, 1.0  # standard deviations of her tape and kitchen scales: common practice, no source
# Two balls of one material differ by at least this share, however well they are measured: our choice.
BALL_TO_BALL = 0.08
# Lighter than foam or denser than solid cotton (1.54 g/cm³, from memory) is a slip of the pen.
LIGHTEST, DENSEST = 0.004, 1.6
HEADS = ("material", "before", "after", "grams", "metres")


@dataclass(frozen=True)
class Entry:
    """One wrap she measured; either ``grams`` or ``metres``."""

    material: str
    before_mm: float
    after_mm: float
    grams: float

    @property
    def density(self) -> float:
        """Grams a cubic centimetre."""
        return self.grams / shell_cm3(self.before_mm, self.after_mm)

    @property
    def doubt(self) -> float:
        """Standard deviation of the density's logarithm: tape at both ends, scales, and one ball unlike another."""
        volume = shell_cm3(self.before_mm, self.after_mm)
        step = math.hypot(
            shell_cm3(self.before_mm, self.after_mm + TAPE_MM) - volume,
            shell_cm3(self.before_mm + TAPE_MM, self.after_mm) - volume,
        )
        return math.sqrt((step / volume) ** 2 + (SCALES_G / self.grams) ** 2 + BALL_TO_BALL**2)


@dataclass(frozen=True)
class Learned:
    """What her own balls say of one material."""

    density: Range
    guess: Range  # the estimate without her
    entries: int

    @property
    def unsure_percent(self) -> float:
        """Half the width of the range, in percent of its middle."""
        return _half_width(self.density)

    @property
    def guess_percent(self) -> float:
        """The same without her balls."""
        return _half_width(self.guess)

    @property
    def said(self) -> str:
        """How sure it is now, for the maker."""
        balls = f"{self.entries} of your balls" if self.entries > 1 else "One of your balls"
        speaks = "speak" if self.entries > 1 else "speaks"
        return (
            f"{balls} {speaks} here: weights are sure to {self.unsure_percent:.0f} %, without them to "
            f"{self.guess_percent:.0f} %."
        )


def _half_width(density: Range) -> float:
    return 100 * (math.sqrt(density.high / density.low) - 1)


def learned(entries: Sequence[Entry]) -> dict[str, Learned]:
    """Densities of every material there are entries of."""
    names = dict.fromkeys(entry.material for entry in entries)
    return {name: _narrowed(name, [entry for entry in entries if entry.material == name]) for name in names}


def _narrowed(name: str, entries: Sequence[Entry]) -> Learned:
    known = CORES[name].density if name in CORES else WRAPS[name].density
    middle, spread = math.log(known.likely), math.log(known.high / known.low) / 4
    logs = [math.log(entry.density) for entry in entries]
    # Entries that scatter more than they should are believed less.
    scatter = pstdev(logs) if len(logs) > 2 else 0.0
    weights = [max(entry.doubt, scatter) ** -2 for entry in entries]
    sure = spread**-2 + sum(weights)
    mean = (middle * spread**-2 + sum(w * x for w, x in zip(weights, logs, strict=True))) / sure
    reach = 2 / math.sqrt(sure)
    density = Range(math.exp(mean - reach), math.exp(mean), math.exp(mean + reach))
    return Learned(density, known, len(entries))


def entries_of(content: bytes, name: str) -> tuple[Entry, ...]:
    """A CSV table with the columns material, before, after, and grams or metres."""
    lines = table_lines(content, name)
    if len(lines) < 2:
        raise DesignError(name, f"has no entries; the first line names the columns: {', '.join(HEADS)}")
    columns = [_head(cell) for cell in lines[0][1]]
    lacking = [head for head in HEADS[:3] if head not in dict(columns)]
    if lacking:
        raise DesignError(f"{name}, line 1", f'has no column called "{lacking[0]}"; write {", ".join(HEADS)}')
    told = ((_cells(columns, cells), f"{name}, line {line}") for line, cells in lines[1:])
    return tuple(entry_of(each, where) for each, where in told)


def _head(cell: str) -> tuple[str, str]:
    """A column's word and the unit beside it: ``("before", "cm")`` of ``Before (cm)``."""
    found = re.fullmatch(r"([^(\[]*?)\s*[(\[]\s*([^)\]]*?)\s*[)\]]", cell)
    word, unit = (found[1], found[2]) if found else (cell, "")
    return word.strip().lower(), unit.lower()


def _cells(columns: Sequence[tuple[str, str]], cells: Sequence[str]) -> dict[str, str]:
    """A line by its columns; a bare number takes the unit that stands over it."""
    told = {}
    for (word, unit), cell in zip(columns, cells, strict=False):
        lacks = unit in MM and unit not in ("mm", "m") and cell and cell[-1].isdigit()
        told[word] = f"{cell} {unit}" if lacks else cell
    return told


def entry_of(told: Mapping[str, str], where: str) -> Entry:
    """One wrap or core as she wrote it; ``DesignError`` says which cell cannot be right."""
    material = " ".join(told.get("material", "").lower().split())
    if material not in CORES and material not in WRAPS:
        known = ", ".join([*CORES, *WRAPS])
        raise DesignError(where, f'"{material[:40]}" is not known here; take one of {known}')
    before = _mm(told.get("before", ""), f"{where}, before") if material in WRAPS else 0.0
    after = _mm(told.get("after", ""), f"{where}, after")
    if after <= before + TAPE_MM:
        raise DesignError(where, f"the ball was {before:g} mm round before and {after:g} mm after; after must be more")
    tex = WRAPS[material].tex if material in WRAPS else None
    if told.get("grams"):
        return _sound(Entry(material, before, after, _number(told["grams"], f"{where}, grams")), where)
    if told.get("metres") and tex is not None:
        return _sound(Entry(material, before, after, _number(told["metres"], f"{where}, metres") * tex / 1000), where)
    raise DesignError(where, "says neither grams nor metres; weigh what you wound, or the ball before and after")


def _sound(entry: Entry, where: str) -> Entry:
    """``DesignError`` for what nothing weighs: a misread tape or scale would spoil every later plan."""
    if not LIGHTEST <= entry.density <= DENSEST:
        raise DesignError(
            where,
            f"{entry.grams:g} g between {entry.before_mm:g} and {entry.after_mm:g} mm round is {entry.density:.3f} g a "
            f"cubic centimetre; {entry.material} never is, so measure or weigh again",
        )
    return entry


def _mm(text: str, where: str) -> float:
    if not text.strip():
        raise DesignError(where, "is empty; write how far it is round the ball there, like 182 mm or 18.2 cm")
    plain = text.replace(",", ".")
    try:
        mm = float(plain) if plain.replace(".", "", 1).isdecimal() else Length(plain).mm
    except ValueError:
        mm = None
    if mm is None or not 10 <= mm <= 3000:
        raise DesignError(where, f'"{text[:40]}" is no circumference; write it like 182 mm or 18.2 cm')
    return mm


def _number(text: str, where: str) -> float:
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        number = math.nan
    if not 0 < number < 100_000:
        raise DesignError(where, f'"{text[:40]}" is no amount; write a number such as 42')
    return number
