"""Tables of a class, made from the same plain data that ``--json`` prints.

In: a dict of ``teaching.told``.  Out: rich renderables.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from rich.console import RenderableType
from rich.text import Text

from polestitch.cli.tables import heading, table
from polestitch.teaching.minutes import time_said

KIT_HEADS = ("bring", ">how many", "how much", "")


def class_tables(told: Mapping[str, Any]) -> Iterator[RenderableType]:
    """What a teacher wants to know first."""
    needed, available = told["minutes"]["needed"], told["minutes"]["available"]
    yield heading(
        told["title"],
        told["design"],
        f"students: {told['students']}, spare kits: {told['spares']}",
        f"{time_said(available)} of stitching",
    )
    yield Text(f"{told['verdict']}\n", "bold")
    for remedy in told["remedies"]:
        yield Text(f"· {remedy['sentence']}")
    yield table("Stages", ("stage", ">quick", ">most", ">slow", ""), (_stage(stage) for stage in told["stages"]))
    yield Text(f"All that is not prepared: {time_said(needed['likely'])} for most.\n", "dim")
    yield table("Sessions", (">#", "what", ">from", ">for"), _sessions(told))
    yield table("Kit", KIT_HEADS, (_kit(line) for line in told["kit"]))
    yield table("Thread to cut", ("for", "thread", "pieces"), _cuts(told["bundles"], told["spares"]))
    yield table("To show once", (">step", "what", "the chair says"), (_moment(one) for one in told["demonstration"]))
    yield Text("\n".join(["Take care", *(f"· {caution}" for caution in told["cautions"])]) + "\n")


def _stage(stage: Mapping[str, Any]) -> Sequence[str]:
    times = [time_said(stage["minutes"][hand]) for hand in ("low", "likely", "high")]
    return (stage["title"], *times, "prepared" if stage["prepared"] else "")


def _sessions(told: Mapping[str, Any]) -> Iterator[Sequence[str]]:
    for number, session in enumerate(told["sessions"], 1):
        yield (str(number), session["title"] or "Welcome and showing", time_said(0), time_said(session["talk"]))
        for bar in session["bars"]:
            yield ("", told["stages"][bar["stage"]]["title"], time_said(bar["start"]), time_said(bar["minutes"]))
        yield ("", session["stop"] or "Done.", "", "")


def _kit(line: Mapping[str, Any]) -> Sequence[str]:
    return (line["what"], "" if line["count"] is None else str(line["count"]), line["amount"], line["note"])


def _cuts(bundles: Sequence[Mapping[str, Any]], spares: int) -> Iterator[Sequence[str]]:
    largest = max(bundles, key=lambda bundle: float(bundle["around_mm"]))
    for bundle in bundles:
        who = ", ".join(str(number) for number in bundle["for"])
        if spares and bundle is largest:
            who += f" and {spares} spare"
        for k, thread in enumerate(bundle["threads"]):
            pieces = ", ".join(f"{cut['count']} × {cut['said']}" for cut in thread["cuts"])
            yield (f"{who}: {bundle['around_mm']:.0f} mm" if k == 0 else "", thread["name"], pieces)


def _moment(moment: Mapping[str, Any]) -> Sequence[str]:
    return (str(moment["step"] + 1), moment["title"], moment["say"])
