"""Winding the base on the command line: a plan, what comes of what she has, its sheet, and how round it came out."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import around_mm, design_of, pdf_named, refuse_unwritable, said_of, write_whole
from polestitch.cli.options import AsJson, DesignFile, Output, Paper
from polestitch.cli.printing import print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.document.design import BallSpec
    from polestitch.winding import Learned
    from polestitch.winding.roundness import Shape

Inside = Annotated[
    str,
    typer.Option(
        "--core",
        metavar="PARTS",
        help='What it is made of from the inside out, as "foam" or "hulls 180mm, bell, thick yarn 40 g, sewing '
        'thread 250 m".',
    ),
]
Log = Annotated[
    Path | None,
    typer.Option("--log", metavar="FILE", help="What you wound: material, before, after, grams or metres (CSV)."),
]
Wanted = Annotated[
    str | None,
    typer.Option("--around", metavar="LENGTH", help="Circumference wanted. Without it, what comes of what you have."),
]
ForDesign = Annotated[
    Path | None,
    typer.Option("--for", metavar="DESIGN", help="The design's ball, and how deep its maker's needle goes."),
]
OverPoles = Annotated[
    str | None,
    typer.Option("--over-poles", metavar="LENGTHS", help='Ways round over both poles, as "251mm 248mm 250mm".'),
]
RoundObi = Annotated[
    str | None, typer.Option("--obi", metavar="LENGTHS", help="Ways round the obi, the middle of the ball.")
]
OffBy = Annotated[str, typer.Option("--off-by", metavar="LENGTH", help="How far off one reading usually is.")]
HEADS = ("wrap", ">stop at", ">depth", ">weight", ">length", "")
SPOT_HEADS = ("place", ">radius off", ">give or take", ">add")


def winding(
    around: Wanted = None,
    core: Inside = "hulls",
    for_design: ForDesign = None,
    log: Log = None,
    as_json: AsJson = False,
) -> None:
    """Plan a base: where to stop at each wrap, and how much material it takes.

    With --around or --for the plan ends at that size. Without, give the core's size and every amount, and it tells
    how large a ball comes of what you have.
    """
    from polestitch.winding import outcome, parts_of
    from polestitch.winding import winding as planned
    from polestitch.winding.told import outcome_json, winding_json

    wanted, dip_mm = _ball(around, for_design)
    parts, known = parts_of(core, "--core"), _known(log)
    packed = {name: each.density for name, each in known.items()}
    with said_of("--core"):
        if wanted is None:
            payload = outcome_json(outcome(parts, packed), known, dip_mm)
        else:
            payload = winding_json(planned(wanted, parts, packed, dip_mm), known)
    if as_json:
        print_json(payload)
        return
    _show(payload)


def winding_sheet(
    output: Output, around: Wanted = None, core: Inside = "hulls", log: Log = None, paper: Paper = "a4"
) -> None:
    """Write the winding sheet (PDF): the ball cut through, a paper tape with every stop, and blanks for your log."""
    from polestitch.sheets.sheet import paper_named
    from polestitch.sheets.winding_sheet import winding_sheet as sheet
    from polestitch.winding import outcome, parts_of
    from polestitch.winding import winding as planned

    paper_named(paper)
    refuse_unwritable(pdf_named(output))
    packed = {name: each.density for name, each in _known(log).items()}
    parts = parts_of(core, "--core")
    wanted = None if around is None else around_mm(around)
    with said_of("--core"):
        plan = outcome(parts, packed).plan() if wanted is None else planned(wanted, parts, packed)
    write_whole(output, sheet(plan, paper))


def roundness(
    design: DesignFile,
    over_poles: OverPoles = None,
    obi: RoundObi = None,
    off_by: OffBy = "1mm",
    as_json: AsJson = False,
) -> None:
    """Say how round your ball is, how sure that is, where to wind more, and whether the design bears it.

    Without --over-poles and --obi the readings stand in the design.
    """
    from polestitch.checks.gaps import gaps
    from polestitch.document.design import BallSpec, Measured
    from polestitch.pipeline import build
    from polestitch.winding.round_told import roundness_json

    made, off_by_mm = design_of(design), _off_by_mm(off_by)
    if over_poles is None and obi is None:
        found = _shape(made.ball, off_by_mm)
    else:
        given = Measured(pole_to_pole=_lengths(over_poles, "--over-poles"), obi=_lengths(obi, "--obi"))
        ball = BallSpec(around=made.ball.around, measured=given, colour=made.ball.colour)
        made = made.model_copy(update={"ball": ball})
        with said_of("--over-poles, --obi"):
            found = _shape(ball, off_by_mm)
    told = roundness_json(found, [(gap.layer, gap.place, gap.mm) for gap in gaps(build(made))])
    if as_json:
        print_json(told)
        return
    _show_round(made.name, told)


def _shape(ball: "BallSpec", off_by_mm: float) -> "Shape":
    from polestitch.ball.measured import roundness as measured
    from polestitch.winding.roundness import shape

    return shape(measured(ball), off_by_mm)


def _ball(around: str | None, design: Path | None) -> tuple[float | None, float]:
    """What it shall measure, and how deep the needle goes."""
    from polestitch.winding.plan import DIP_MM

    wanted = None if around is None else around_mm(around)
    if design is None:
        return wanted, DIP_MM
    from polestitch.ball.measured import roundness as measured

    made = design_of(design)
    dip = made.maker.dip.mm
    return wanted or measured(made.ball).planned_mm, DIP_MM if dip is None else dip


def _known(log: Path | None) -> "dict[str, Learned]":
    from polestitch.winding import entries_of, learned

    return {} if log is None else learned(entries_of(log.read_bytes(), str(log)))


def _lengths(text: str | None, option: str) -> tuple[Any, ...]:
    """Lengths with spaces, commas or semicolons between; a bare number is in mm."""
    import re

    from polestitch.document.lengths import Length
    from polestitch.document.limits import around_mm as mm_of

    words = re.findall(r"[\d.]+(?:,\d+)?\s*[a-z]*", text or "")
    if (text or "").strip() and "".join(words).replace(" ", "") != re.sub(r"[\s;]|,(?!\d)", "", text or ""):
        raise DesignError(option, f'"{(text or "")[:40]}" cannot be read; write lengths such as "251mm 248mm"')
    plain = [word.replace(",", ".").strip() for word in words]
    said = [f"{word} mm" if word[-1:].isdigit() else word for word in plain]
    for each in said:
        mm_of(each, option)
    return tuple(map(Length, said))


def _off_by_mm(text: str) -> float:
    from polestitch.document.lengths import Length

    try:
        mm = Length(text).mm
    except ValueError:
        mm = None
    if mm is None or not 0.05 <= mm <= 20:
        raise DesignError("--off-by", f'"{text[:20]}" is not how far off a reading can be; write 0.05 mm to 20 mm')
    return mm


def _show(told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    core, weight, around = told["core"], told["grams"], told["around_mm"]
    facts = (f"core: {core['title']}, {core['around_mm']:.0f} mm round", f"base about {weight['likely']:.0f} g")
    rows = [
        (
            stop["title"],
            f"{_range(stop['between_mm'], 'mm')} round",
            f"{stop['thickness_mm']:.1f} mm",
            _range(stop["grams"], "g") + ENOUGH[stop["enough"] if told["wanted_mm"] else None],
            _range(stop["metres"], "m") if stop["metres"] else "",
            stop["hint"],
        )
        for stop in told["stops"]
    ]
    sounds = [told["noise"]["said"]] if told["noise"] else []
    learnt = [f"{each['name']}: {each['said']}" for each in told["learned"]]
    lines = [core["said"], *sounds, told["bite"]["said"], *told["said"], *learnt, *told["cautions"]]
    show(
        [
            heading(f"A base {_range(around, 'mm')} round", *facts),
            table("Wind, and stop to measure", HEADS, rows),
            *(Text(f"{line}\n") for line in lines),
        ]
    )


ENOUGH = {None: "", "yes": " ● you have it", "perhaps": " ▲ perhaps short", "no": " ■ short"}


def _range(told: dict[str, float], unit: str) -> str:
    low, high = f"{told['low']:.0f}", f"{told['high']:.0f}"
    return f"{low} {unit}" if low == high else f"{low}–{high} {unit}"


def _show_round(name: str, told: dict[str, Any]) -> None:
    from rich.text import Text

    from polestitch.cli.tables import heading, table

    facts = (f"{told['around_mm']:.1f} mm round", f"out of round {told['out_mm']['likely']:.1f} mm")
    spots = [
        (spot["name"], f"{spot['off_mm']:+.1f} mm", f"{2 * spot['doubt_mm']:.1f} mm", f"{spot['add_mm']:.1f} mm")
        for spot in told["spots"]
    ]
    add = told["add"]
    amount = [] if add is None else [f"That is about {_range(add['grams'], 'g')} of {add['material']}."]
    lines = [*told["said"], *amount, told["bears"]["said"]]
    show([heading(name, *facts), table("Radius by place", SPOT_HEADS, spots), *(Text(f"{line}\n") for line in lines)])
