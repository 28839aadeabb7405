"""What the base costs by its winding plan and the packs she buys.

In: a plan's grams and metres; packs.  Out: a ``Sum`` for each material, and what has no price.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from polestitch.costing.costs import BaseCosts, BasePack
from polestitch.costing.sums import Sum, paid
from polestitch.errors import DesignError
from polestitch.winding import Range, winding
from polestitch.winding.parts import made_of


@dataclass(frozen=True)
class Part:
    """One material of the base; ``sum`` is None where no pack tells its price."""

    name: str
    amount: str
    sum: Sum | None


def base_parts(base: BaseCosts, around_mm: float) -> tuple[Part, ...]:
    """Core and wraps of a ball so large; ``DesignError`` where no such base can be wound."""
    core_mm = None if base.core_around is None else base.core_around.mm
    try:
        plan = winding(around_mm, made_of(base.core, core_mm))
    except DesignError as error:
        raise DesignError(f"base.{error.where}", error.what) from None
    packs = {pack.name.casefold(): pack for pack in base.packs}
    wound: list[tuple[str, Range, Range | None]] = [(plan.core.name, plan.core_grams, None)]
    wound += [(stop.material.name, stop.grams, stop.metres) for stop in plan.stops]
    _refuse_strangers(base, [name for name, *_ in wound])
    return tuple(_parts(wound, packs))


def _refuse_strangers(base: BaseCosts, names: list[str]) -> None:
    for k, pack in enumerate(base.packs):
        if pack.name.casefold() not in names:
            raise DesignError(f"base.packs[{k}].name", f'"{pack.name}" is not in this base; it has {", ".join(names)}')


def _parts(wound: list[tuple[str, Range, Range | None]], packs: dict[str, BasePack]) -> Iterator[Part]:
    for name, grams, metres in wound:
        pack = packs.get(name)
        amount, each, unit = (grams, pack.grams if pack else None, "g")
        if pack is not None and pack.metres is not None:
            if metres is None:
                raise DesignError("base.packs", f"{name} is told by weight; give grams in its pack, not metres")
            amount, each, unit = metres, pack.metres, "m"
        told = f"{amount.low:.0f}–{amount.high:.0f} {unit}"
        yield Part(name, told, None if pack is None or each is None else _sum(pack, amount, each))


def _sum(pack: BasePack, amount: Range, each: float) -> Sum:
    """The pack's price shared out."""
    shares = (Decimal(f"{end:.3f}") / Decimal(repr(each)) for end in amount)
    return Sum(*(paid(pack.price.amount * share, pack.price.currency) for share in shares))
