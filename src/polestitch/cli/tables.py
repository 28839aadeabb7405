"""Tables a maker reads, made from the same plain data that ``--json`` prints.

In: dicts of ``summary`` and ``listing``.  Out: rich renderables.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from math import dist
from pathlib import Path
from typing import Any

from rich import box
from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from polestitch.document.ranges import Range
from polestitch.document.said import Units, in_short, near_length, near_range, set_length

Parts = Iterator[RenderableType]
# A finding has a mark and a word as well as a colour.
MARKS = {"stop": ("✕", "bold red"), "care": ("!", "yellow"), "note": ("·", "dim")}
LAYER_HEADS = ("#", "layer", "technique", ">motifs", ">rows", ">by hand", ">bites", ">thread laid", "runs until")
THREAD_HEADS = ("thread", ">laid", ">with bites and ends", ">by hand", ">lengths", ">skeins to take")
LEG_HEADS = ("thread", ">legs", ">thread laid")
BY_HAND = (
    "By hand: where four of five hands end, by published work, or by your own measures where the design holds them. "
    "Without any, thread is drawn as close as a gauge packs it. Skeins to take are enough for nine in ten."
)
MEANING = {"stop": "change", "care": "decide", "note": "know"}


def table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A table without boxes; a head that begins with ">" stands over figures, set flush right."""
    made = Table(title=title or None, title_justify="left", title_style="bold", box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        made.add_column(Text(head.lstrip(">")), justify="right" if head.startswith(">") else "left", overflow="fold")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made


def heading(title: str, *facts: str) -> Text:
    """A title, and facts about it on the line below."""
    return Text.assemble("\n", (title, "bold blue"), "\n", (" · ".join(facts), "dim"), "\n")


def work_tables(name: str, work: Mapping[str, Any], units: Units) -> Parts:
    """Everything about one design."""
    ball, marking = work["ball"], work["marking"]
    yield heading(
        name,
        f"{near_length(ball['around_mm'], units)} round",
        f"{marking['division']}, {_count(marking['points'], 'point')}",
        f"marking thread at least {near_length(marking['thread_mm'], units)}",
    )
    yield table("Layers, in stitching order", LAYER_HEADS, _layers(work["layers"], units))
    yield table("Thread", THREAD_HEADS, _threads(work["threads"], units))
    yield Text("".join(_odds(work["threads"], units)) + f"{BY_HAND}\n")
    yield _facts(work)
    yield from _findings(work["findings"])


def _layers(layers: Sequence[Mapping[str, Any]], units: Units) -> Iterator[Sequence[str]]:
    for number, layer in enumerate(layers, 1):
        counts = [str(layer["motifs"]), str(layer["rows"]), _span(layer["rows_range"]), str(layer["bites"])]
        laid = near_length(sum(layer["laid_mm"].values()), units)
        yield (str(number), layer["name"], layer["technique"], *counts, laid, layer.get("reaches") or "")


def _threads(threads: Sequence[Mapping[str, Any]], units: Units) -> Iterator[Sequence[str]]:
    for thread in threads:
        laid, total = (near_length(thread[key], units) for key in ("laid_mm", "total_mm"))
        low, high = (near_length(thread["total_range"][end], units) for end in ("low", "high"))
        take = thread["skeins_take"]
        yield (
            thread["id"], laid, total, f"{low} to {high}", str(thread["lengths"]), "" if take is None else str(take)
        )  # fmt: skip


def _odds(threads: Sequence[Mapping[str, Any]], units: Units) -> Iterator[str]:
    """Threads of which fewer skeins might do, a sentence each."""
    for thread in threads:
        if "would do" in (thread["skeins_said"] or ""):
            yield f"{thread['id']}: {near_range(Range(**thread['total_range']), units)}: {thread['skeins_said']}.\n"


def _span(rows: Mapping[str, float]) -> str:
    """``"7 to 9"``; nothing where the document counts the rows."""
    low, likely, high = (rows[key] for key in ("low", "likely", "high"))
    return "" if low == high else f"{likely:g} ({low:g} to {high:g})"


def _facts(work: Mapping[str, Any]) -> Text:
    facts = [
        hours_said(work["hours"]),
        f"{_count(work['crossings'], 'crossing')}",
        f"{100 * work['cover']:.0f} % of the ground covered",
        f"at most {_count(work['buildup_max'], 'thread')} on one spot",
        *_symmetries(work["symmetry"]),
    ]
    return Text("\n".join(facts) + "\n")


def _symmetries(kinds: Mapping[str, Any]) -> Iterator[str]:
    """In words and in Conway's notation; colours apart where they make a difference."""
    plain, colours = kinds["plain"], kinds["colours"]
    yield f"{plain['sentence'].rstrip('.')} ({plain['orbifold']})"
    if colours["orbifold"] != plain["orbifold"]:
        yield f"with its colours: {colours['sentence'].rstrip('.').removeprefix('The ball ')} ({colours['orbifold']})"


def hours_said(hours: Mapping[str, float]) -> str:
    """Hours of work as a range."""
    low, likely, high = (_hours(hours[key]) for key in ("low", "likely", "high"))
    return f"{low} to {high} hours of work, likely {likely}"


def _hours(hours: float) -> str:
    """Whole hours from five up, quarters below: nobody knows it better."""
    return f"{hours:.0f}" if hours >= 5 else f"{max(1, round(4 * hours)) / 4:g}"


def check_tables(name: str, findings: Sequence[Mapping[str, Any]]) -> Parts:
    """What to change, to decide and to know."""
    yield heading(name, _count(len(findings), "finding"))
    yield from _findings(findings)


def _findings(findings: Sequence[Mapping[str, Any]]) -> Parts:
    if not findings:
        yield Text("Nothing stands in the way: every check is content.", "green")
        return
    grid = Table(title="Before you stitch", title_justify="left", title_style="bold", box=None, pad_edge=False)
    grid.add_column()
    grid.add_column()
    grid.add_column(overflow="fold")
    for finding in findings:
        mark, style = MARKS[finding["severity"]]
        grid.add_row(Text(mark, style), Text(MEANING[finding["severity"]], style), Text(finding["sentence"]))
    yield grid


def thread_tables(name: str, thread: Mapping[str, Any], units: Units) -> Parts:
    """How many legs of each thread lie on the ball, and how long they are together."""
    legs, bites = thread["legs"], thread["bites"]
    yield heading(name, _count(len(legs), "leg"), _count(len(bites), "bite"))
    yield table("Thread as it lies", LEG_HEADS, _thread_rows(legs, thread["ball"]["radius_mm"], units))
    yield Text("With --json every leg is told as points on the ball.", "dim")


def _thread_rows(legs: Sequence[Mapping[str, Any]], radius_mm: float, units: Units) -> Iterator[Sequence[str]]:
    for name in dict.fromkeys(leg["thread"] for leg in legs):
        own = [leg for leg in legs if leg["thread"] == name]
        mm = radius_mm * sum(dist(*ends) for leg in own for ends in pairwise(leg["points"]))
        yield (name, str(len(own)), near_length(mm, units))


def marking_tables(marking: Mapping[str, Any]) -> Parts:
    """Pins in order with their distances, and the thread's way."""
    half = f" and {_count(marking['half_circles'], 'half circle')}" if marking["half_circles"] else ""
    yield heading(
        f"{marking['division']} on a ball {near_length(marking['around_mm'])} round",
        _count(len(marking["points"]), "point"),
        _count(marking["circles"], "circle") + half,
        marking.get("faces_said") or _count(marking["triangles"], "equal face"),
    )
    if "evenness_said" in marking:
        yield Text(f"{marking['evenness_said']}\n")
    heads = (">#", "pin", "measured from", "should come out equal")
    yield table("Pins, in this order", heads, _pins(marking["pins"]))
    route = marking["route"]
    usual = "" if marking["division"].startswith("S") else _thread(route["traditional"])
    told = f" Centre by centre, as the booklet tells it: {usual}." if usual else ""
    yield Text(f"Marking thread: {_thread(route)}, ends included.{told}")
    yield Text(f"Tack the points in this order: {in_short(route['tack'])}.\n")


def _thread(way: Mapping[str, Any]) -> str:
    return f"{near_length(way['mm'])} in {_count(way['pieces'], 'piece')}"


def _pins(pins: Sequence[Mapping[str, Any]]) -> Iterator[Sequence[str]]:
    for number, pin in enumerate(pins, 1):
        measured = "\n".join(_distance(distance) for distance in pin["from"])
        checks = ", ".join(f"{check['mm']:.1f} mm from {check['point']}" for check in pin["check"])
        yield (str(number), pin["point"], measured or "anywhere", checks)


def _distance(distance: Mapping[str, Any]) -> str:
    rule = f"; rule of thumb {distance['rule_mm']:.1f} mm" if "rule_mm" in distance else ""
    return f"{set_length(distance['mm'])} from {distance['point']}{rule}"


def technique_tables(techniques: Sequence[Mapping[str, Any]]) -> Parts:
    """Each technique with what it can be asked for."""
    from polestitch.cli.listing import PLACES

    for technique in techniques:
        yield Text.assemble("\n", (technique["name"], "bold blue"), f"  {technique['is']}")
        yield Text(f"Worked {PLACES[technique['place']]}.", "dim")
        rows = [(param["name"], _shown(param["default"]), _meaning(param)) for param in technique["params"]]
        if rows:
            yield table("", ("param", "if you say nothing", "what it is"), rows)


def _shown(value: Any) -> str:
    words = {True: "yes", False: "no"}
    return words[value] if isinstance(value, bool) else "" if value is None else str(value)


def _meaning(param: Mapping[str, Any]) -> str:
    choices = f" ({', '.join(map(str, param['enum']))})" if "enum" in param else ""
    low, high = param.get("minimum"), param.get("maximum")
    limits = f" ({low:g} to {high:g})" if low is not None and high is not None else ""
    return f"{param['is']}{choices}{limits}"


def family_tables(families: Sequence[Mapping[str, Any]]) -> Parts:
    """Families of patterns, one table a kind."""
    heads = ("family", "title", "division", "how hard", "techniques")
    for kind, of_kind in groupby(families, key=lambda family: family["kind"]):
        listed = table(kind.capitalize(), heads, (_family(family) for family in of_kind))
        listed.columns[0].no_wrap = True  # a name is there to be typed
        yield listed
    yield Text("polestitch new FAMILY --around 30cm -o my.json begins a design from one.\n", "dim")


def _family(family: Mapping[str, Any]) -> Sequence[str]:
    title = f"{family['title']} ({family['term']})" if family["term"] else family["title"]
    return (
        family["name"],
        title,
        ", ".join(family["divisions"]),
        family["difficulty_said"],
        ", ".join(family["techniques"]),
    )


def division_tables(divisions: Sequence[Mapping[str, Any]]) -> Parts:
    """What each division puts on the ball."""
    heads = ("division", ">points", "of them", ">circles", ">parts")
    yield table("Divisions", heads, (_division(division) for division in divisions))
    yield Text("Simple divisions go from S2 to S64, odd ones too; +obi adds the equator.", "dim")
    yield Text("Faces are named by their count, up to 1,002; perfect or equalised may follow.\n", "dim")


def _division(division: Mapping[str, Any]) -> Sequence[str]:
    ways = ", ".join(f"{count} of {number} ways" for number, count in division["ways"].items())
    half = f"{division['half_circles']} halves" if division["half_circles"] else "none"
    circles = division["circles"] or half
    return (division["name"], str(division["points"]), ways, str(circles), str(division["triangles"]))


def demo_tables(summaries: Sequence[Mapping[str, Any]], out: Path) -> Parts:
    """One line a design, and where its files are."""
    heads = ("design", "division", ">round", ">layers", ">thread", "hours of work", ">to decide", "files")
    yield heading("Worked up", f"{_count(len(summaries), 'design')} in {out}/")
    yield table("", heads, (_summary(told) for told in summaries))
    yield Text("For each: -booklet.pdf, -strip.pdf (print both at 100 %), .png and .svg.\n", "dim")


def _summary(told: Mapping[str, Any]) -> Sequence[str]:
    work, hours = told["work"], told["work"]["hours"]
    thread = near_length(sum(thread["total_mm"] for thread in work["threads"]))
    open_ = sum(finding["severity"] != "note" for finding in work["findings"])
    facts = (work["marking"]["division"], near_length(work["ball"]["around_mm"]), str(len(work["layers"])), thread)
    return (told["name"], *facts, f"{_hours(hours['low'])} to {_hours(hours['high'])}", str(open_), told["file"])


def _count(number: int, thing: str) -> str:
    return f"{number:,} {thing}" if number == 1 else f"{number:,} {thing}s"
