"""Light on the pieces of a show: how much in all.

In: an ``Exhibition``.  Out: ``Dose``, or nothing where it is not entered.

Exposure is illuminance times time (ERCO, "Illumination of light-sensitive exhibits": 50 lx over 10 h do what 250 lx
over 2 h do).  50 lux for textiles: conservationanswers.net, "What light levels are recommended?"; it is a limit of
comfortable seeing, not a dose that does no harm.
"""

from dataclasses import dataclass

from polestitch.showing.exhibition import Exhibition

TEXTILES_LUX = 50.0


@dataclass(frozen=True)
class Dose:
    """Lux, hours a day, days from opening to closing with both counted, and lux hours in all."""

    lux: float
    hours_a_day: float
    days: int

    @property
    def lux_hours(self) -> float:
        """Lux times hours; closed days are counted too, so this is the most it can be."""
        return self.lux * self.hours_a_day * self.days


def days_open(exhibition: Exhibition) -> int | None:
    """Days from opening to closing, both counted; nothing where one of them is not entered."""
    if exhibition.opens is None or exhibition.closes is None:
        return None
    return (exhibition.closes - exhibition.opens).days + 1


def dose(exhibition: Exhibition) -> Dose | None:
    """What falls on the pieces, as far as lux, hours and days are entered."""
    days = days_open(exhibition)
    if exhibition.lux is None or exhibition.hours_a_day is None or days is None:
        return None
    return Dose(exhibition.lux, exhibition.hours_a_day, days)
