"""What a sitting is: how much of each kind of work was done in it, and how long it took.

In: nothing.  Out: ``Sitting``, amounts of work and the hours expected of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from polestitch.estimate.hours import PER, Hours

KINDS = tuple(PER)
# A longer or shorter sitting says that a clock was left running, or that steps were ticked off afterwards.
WILDEST = 6.0


@dataclass(frozen=True)
class Sitting:
    """One sitting: ``work`` is amounts by kind, in the units of ``estimate.hours.PER`` (bites, metres, pins …).

    ``piece`` is any word that tells one ball from another.
    """

    piece: str
    hours: float
    work: Mapping[str, float]

    @property
    def expected(self) -> float:
        """Hours the estimate would take for it."""
        return sum(expected_hours(self.work).values())

    @property
    def believable(self) -> bool:
        """Whether its hours can be those of its work."""
        return self.hours > 0 and self.expected > 0 and 1 / WILDEST <= self.hours / self.expected <= WILDEST


def expected_hours(work: Mapping[str, float]) -> dict[str, float]:
    """The estimate's likely hours by kind."""
    return {kind: amount * PER[kind].likely / 3600 for kind, amount in work.items() if amount > 0}


def work_in(hours: Hours) -> dict[str, float]:
    """Amounts by kind of an estimate's hours."""
    kinds = {each.label: kind for kind, each in PER.items()}
    return {kinds[part.label]: part.amount for part in hours.parts}
