import math
from collections import Counter
from collections.abc import Callable
from itertools import pairwise

import networkx as nx
import pytest

from polestitch.ball.ball import Ball
from polestitch.document.design import Support
from polestitch.marking.divisions import marked
from polestitch.marking.marking import Marking
from polestitch.marking.route import Route, thread_route, traditional_route
from polestitch.marking.support import supported

BALL = Ball(240)
DIVISIONS = ["S2", "S3", "S3+obi", "S8", "S8+obi", "S9+obi", "S64+obi", "C4", "C6", "C8", "C10"]


def graph(division: str) -> nx.MultiGraph:
    """Points and stretches of guideline, from the spokes; a pole-to-pole line of a ball without obi is one edge."""
    marking, edges = marked(division), nx.MultiGraph()
    for name in (point.name for point in marking.points):
        for spoke in marking.spokes[name]:
            end = spoke.end if spoke.end in {p.name for p in marking.points} else "S"
            if name < end:
                edges.add_edge(name, end, mm=BALL.mm(spoke.reach if end == spoke.end else math.pi))
    return edges


def steps(route: Route) -> list[list[frozenset[str]]]:
    return [[frozenset(step) for run in piece.runs for step in pairwise(run.points)] for piece in route.pieces]


@pytest.mark.parametrize("division", DIVISIONS)
@pytest.mark.parametrize("way", [thread_route, traditional_route])
def test_every_stretch_of_guideline_is_laid_exactly_once(division: str, way: Callable[[Marking, Ball], Route]) -> None:
    laid = Counter(step for piece in steps(way(marked(division), BALL)) for step in piece)
    assert laid == Counter(frozenset(edge[:2]) for edge in graph(division).edges)


@pytest.mark.parametrize("division", DIVISIONS)
def test_a_thread_is_never_cut_between_its_runs(division: str) -> None:
    for way in (thread_route, traditional_route):
        for piece in way(marked(division), BALL).pieces:
            for run, after in pairwise(piece.runs):
                assert run.points[-1] == after.points[0]
                assert run.line != after.line or len(run.points) > 1


@pytest.mark.parametrize("division", DIVISIONS)
def test_the_pieces_are_as_few_as_euler_allows_and_no_line_is_doubled(division: str) -> None:
    # A connected graph falls into max(1, odd points / 2) trails: Larson and Odoni, Urban Operations Research, 6.4.2.
    edges = graph(division)
    odd = [name for name, degree in edges.degree if degree % 2]
    route = thread_route(marked(division), BALL)
    assert len(route.pieces) == max(1, len(odd) // 2) == 1
    assert nx.is_eulerian(edges) == (not odd)
    assert nx.has_eulerian_path(edges)
    extra = nx.eulerize(edges).number_of_edges() - edges.number_of_edges()
    # only a tour that came back to its start would have to double lines, one half circle of an odd division
    assert extra == (nx.shortest_path_length(edges, "N", "S") if odd else 0)
    assert route.laid_mm == pytest.approx(sum(mm for *_, mm in edges.edges(data="mm")))


@pytest.mark.parametrize(
    ("division", "circles"), [("S2", 1), ("S8", 4), ("S8+obi", 5), ("C4", 3), ("C6", 6), ("C8", 9), ("C10", 15)]
)
def test_the_thread_laid_is_the_circles_times_the_circumference(division: str, circles: int) -> None:
    route = thread_route(marked(division), BALL, end_mm=30)
    assert route.laid_mm == pytest.approx(circles * 240)
    assert route.mm == pytest.approx(circles * 240 + 60)


def test_an_odd_division_zigzags_between_the_poles() -> None:
    runs = thread_route(marked("S5"), BALL).pieces[0].runs
    assert [run.points for run in runs] == [("N", "S"), ("S", "N")] * 2 + [("N", "S")]
    assert [run.line for run in runs] == [f"line {k}" for k in range(1, 6)]


def test_an_even_division_turns_at_n_only_to_the_next_line_on_the_right() -> None:
    # Common practice: at N turn to the next line to the right, at S pass.
    runs = thread_route(marked("S8"), BALL).pieces[0].runs
    assert [run.line for run in runs] == ["line 1-5", "line 2-6", "line 3-7", "line 4-8"]
    assert [run.points for run in runs] == [("N", "S", "N")] * 4


def test_c10_is_laid_by_tradition_from_five_centres_in_turn() -> None:
    # http://www.temarikai.com/HowToPages/10combinationdivIntro.html: each new pair of pins in turn is taken as poles
    # and what is laid is not laid again: 5 circles, then 4, 3, 2, 1 (15 in all).
    pieces = traditional_route(marked("C10"), BALL).pieces
    assert [round(piece.laid_mm / 240) for piece in pieces] == [5, 4, 3, 2, 1]
    assert [piece.runs[0].points[0] for piece in pieces] == ["N"] + [f"centre {k}" for k in range(2, 6)]


@pytest.mark.parametrize("division", DIVISIONS)
def test_one_piece_takes_no_more_thread_than_tradition(division: str) -> None:
    one, traditional = thread_route(marked(division), BALL), traditional_route(marked(division), BALL)
    assert one.laid_mm == pytest.approx(traditional.laid_mm)
    assert one.mm <= traditional.mm + 1e-9


@pytest.mark.parametrize(("division", "first"), [("C10", "centre"), ("C8", "centre"), ("C6", "centre")])
def test_centres_are_tacked_before_six_way_points_and_four_way_points_last(division: str, first: str) -> None:
    # Published: pentagon centres and 6-way points first (http://www.temarimath.info).
    tacks = thread_route(marked(division), BALL).tacks
    ways = [marked(division).by_name[name].ways for name in tacks]
    assert ways == sorted(ways, reverse=True)
    assert tacks[0] == "N"
    assert tacks[1].startswith(first)


def test_support_lines_are_threads_of_their_own() -> None:
    entries = [
        {"name": "small", "around": "N", "at": "2 cm", "corners": 4},
        {"name": "ring", "around": "S", "at": "2 cm"},
        {"name": "across", "between": ["small 1", "obi 2"]},
    ]
    marking = supported(marked("S8"), tuple(Support.model_validate(entry) for entry in entries), BALL)
    route = thread_route(marking, BALL)
    assert [len(piece.runs) for piece in route.support] == [4, 1, 1]
    assert route.support[1].laid_mm == pytest.approx(240 * math.sin(math.radians(30)))
    plain = thread_route(marked("S8"), BALL)
    assert route.pieces == plain.pieces
    assert route.mm == pytest.approx(plain.mm + sum(piece.mm for piece in route.support))
