"""Multi-face divisions: counts, names, construction and evenness against published and general sources."""

import math
import re

import numpy as np
import pytest
import trimesh
from scipy.spatial import ConvexHull, cKDTree

from polestitch.ball.ball import Ball
from polestitch.document.design import Design
from polestitch.errors import DesignError
from polestitch.marking.divisions import marked
from polestitch.marking.evenness import evenness, evenness_said, faces_said
from polestitch.marking.families import PER_T, SIDES, Family, counts, family, forms
from polestitch.marking.marking import Marking
from polestitch.marking.parts import equal_parts
from polestitch.pipeline import build
from polestitch.sphere.arcs import arc_angle

BALL = Ball(300.0)


def face_centres(marking: Marking) -> np.ndarray:
    """(n, 3) centres of all faces."""
    assert marking.net is not None
    return np.array([face.at for face in marking.net.faces])


# Triangulation numbers and vertex counts: Goldberg 1937, Caspar and Klug 1962 (from memory), and the T table at
# primidi.com/capsid/triangulation_number.
PUBLISHED = {12: (1, 0), 32: (1, 1), 42: (2, 0), 72: (2, 1), 92: (3, 0), 122: (2, 2), 132: (3, 1), 162: (4, 0)}
PUBLISHED |= {192: (3, 2), 212: (4, 1), 252: (5, 0), 272: (3, 3), 282: (4, 2), 362: (6, 0), 642: (8, 0)}


@pytest.mark.parametrize(("faces", "form"), PUBLISHED.items())
def test_counts_name_the_published_forms(faces: int, form: tuple[int, int]) -> None:
    assert forms(10, faces) == (form,)
    assert family(str(faces)) == family(f"C10/{faces}") == Family(10, *form)


def test_counts_are_those_of_the_published_tables() -> None:
    # 54 and 100 values up to 650 vertices, recomputed from the same rule by another program.
    assert len(counts(8, 650)) == 54
    assert len(counts(6, 650)) == 100
    assert counts(8, 200) == (6, 14, 18, 30, 38, 50, 54, 66, 78, 86, 102, 110, 114, 126, 146, 150, 158, 174, 194, 198)
    assert counts(10, 260) == (12, 32, 42, 72, 92, 122, 132, 162, 192, 212, 252)


@pytest.mark.parametrize("base", [10, 8, 6, 4])
@pytest.mark.parametrize("h", range(1, 8))
def test_every_form_has_the_faces_and_corners_of_its_formula(base: int, h: int) -> None:
    """Euler's formula with three faces at a corner: 2 N - 4 corners."""
    for k in range(h + 1):
        for form in {(h, k), (k, h)} - {(0, h)}:
            one = Family(base, *form)
            centres, corners, meeting = equal_parts(one)
            sides = np.bincount(np.bincount(meeting.ravel()), minlength=7)
            few = {10: 12, 8: 6, 6: 4, 4: 6}[base]
            assert (len(centres), len(corners)) == (one.faces, 2 * one.faces - 4)
            assert one.faces == PER_T[base] * one.t + 2
            assert sides[SIDES[base]] == few
            assert sides[6] == one.faces - few


@pytest.mark.parametrize(("halvings", "faces"), [(0, 12), (1, 42), (2, 162), (3, 642)])
def test_class_one_counts_are_those_of_a_general_icosphere(halvings: int, faces: int) -> None:
    sphere = trimesh.creation.icosphere(subdivisions=halvings)
    marking = marked(f"C10/{faces}")
    assert marking.net is not None
    assert len(sphere.vertices) == len(marking.net.faces) == faces
    assert len(sphere.faces) == len(marking.net.corners)
    assert len(sphere.edges_unique) == len(marking.net.sides)


@pytest.mark.parametrize("word", ["42", "C10/72", "C10/122", "C8/30", "C8/18", "C6/20"])
def test_neighbours_are_those_of_the_convex_hull(word: str) -> None:
    """scipy's hull of the face centres joins the same pairs as the sides do."""
    marking = marked(word)
    assert marking.net is not None
    hull = ConvexHull(face_centres(marking)).simplices
    joined = {tuple(sorted(pair)) for row in hull.tolist() for pair in zip(row, row[1:] + row[:1], strict=True)}
    assert joined == {tuple(sorted(pair)) for pair in marking.net.parts.tolist()}


@pytest.mark.parametrize("form", [(2, 1), (3, 1), (5, 3)])
@pytest.mark.parametrize("base", [10, 8, 6])
def test_a_chiral_pair_is_a_mirror_image_and_no_turn_of_itself(base: int, form: tuple[int, int]) -> None:
    h, k = form
    right, left = (equal_parts(Family(base, *hk))[1] for hk in ((h, k), (k, h)))
    flip = np.array([1.0, -1.0, 1.0])  # line 1 lies in the plane y = 0
    apart, _ = cKDTree(left).query(right * flip)
    assert apart.max() < 1e-12
    itself, _ = cKDTree(right).query(right * flip)
    assert itself.max() > 0.01


def test_face_centres_lie_where_c10_has_its_own_points() -> None:
    c10 = marked("C10")
    for word, kinds in {
        "C10/12": ["centre"],
        "C10/32": ["centre", "triangle"],
        "C10/42": ["centre", "diamond"],
    }.items():
        own = np.array([point.at for point in c10.points if point.kind in kinds])
        apart, _ = cKDTree(face_centres(marked(word))).query(own)
        assert apart.max() < 1e-12
    assert all(arc_angle(marked("42").by_name[p.name].at, p.at) < 1e-12 for p in c10.of_kind("centre"))


@pytest.mark.parametrize(
    ("word", "start", "to", "share"),
    [("C10/32", "N", "centre 2", 1 / 3), ("C8/14", "N", "centre 2", 2 / 7), ("C10/42", "N", "face 1", 0.5)],
)
def test_makers_cut_arcs_in_equal_parts(word: str, start: str, to: str, share: float) -> None:
    """Thirds of the side for the 32; 2/7 for the 14 (published, japanesetemari makers); halves of 10-way to 10-way."""
    marking = marked(word)
    far = marked("C10" if word.startswith("C10") else "C8").by_name["centre 2"].at
    gap = float(arc_angle(marking.by_name[start].at, far))
    spots = face_centres(marking) if to.startswith("face") else np.array([c.at for c in marking.of_kind("corner")])
    on = spots[np.abs(spots[:, 1]) < 1e-12]
    assert np.isclose(arc_angle(on, marking.by_name[start].at), share * gap, atol=1e-12).any()


@pytest.mark.parametrize(("word", "gap", "share"), [("C10/32", math.atan(2), 0.316), ("C8/14", math.pi / 2, 0.295)])
def test_equalised_corners_are_the_regular_ones(word: str, gap: float, share: float) -> None:
    """Truncated icosahedron and octahedron; the shares are published to three places."""
    marking = marked(f"{word} equalised")
    assert marking.spokes["N"][0].reach / gap == pytest.approx(share, abs=5e-4)
    assert max(face.uneven_mm for face in evenness(marking, BALL)) < 1e-6


def test_equalised_32_is_the_truncated_icosahedron_of_solid_geometry() -> None:
    """Corner to centre of a pentagon seen from the middle: edge/circumradius 1/2.47801866 (from memory)."""
    radius = math.asin(1 / (2 * math.sin(math.pi / 5)) / 2.47801866)
    assert marked("C10/32 equalised").spokes["N"][0].reach == pytest.approx(radius, abs=1e-8)


@pytest.mark.parametrize("word", ["42", "C10/72", "C10/92", "C10/122", "C8/30", "C8/54"])
def test_equalising_leaves_sides_nearly_equal(word: str) -> None:
    def spread(division: str) -> float:
        told = evenness(marked(division), BALL)
        return max(face.longest_mm for face in told) / min(face.shortest_mm for face in told)

    assert spread(word) > 1.05
    assert spread(f"{word} equalised") < 1.01


# Largest known smallest angle between n points, degrees: Lai, Yue, Hao, Glover and Lu, Computers & Operations
# Research 151 (2023) 106121.
TAMMES = {12: 63.434948822872, 14: 55.670569995663, 32: 37.475213974821, 42: 32.506386349695, 72: 24.926486081034}
TAMMES |= {92: 22.027581467, 122: 19.075939806, 132: 18.384277320, 162: 16.606770297, 192: 15.293846751}


@pytest.mark.parametrize("faces", TAMMES)
def test_faces_are_nearly_as_far_apart_as_points_can_be(faces: int) -> None:
    """No net beats the best known angle; plain flat subdivision keeps 0.83 of it or more, so must the makers' one."""
    at = face_centres(marked("C8/14" if faces == 14 else str(faces)))
    nearest = math.degrees(math.acos(np.sort(at @ at.T, axis=1)[:, -2].max()))
    assert 0.83 < nearest / TAMMES[faces] < 1 + 1e-9


def test_published_edges_of_flat_subdivision_bound_the_makers_42_and_32() -> None:
    """32: both constructions have their centres on fixed points, 37.377368 and 41.810315 degrees apart."""
    net = marked("C10/32").net
    assert net is not None
    at = np.array([face.at for face in net.faces])
    gaps = np.degrees(arc_angle(at[net.parts[:, 0]], at[net.parts[:, 1]]))
    assert gaps.min() == pytest.approx(37.377368, abs=1e-6)
    assert gaps.max() == pytest.approx(41.810315, abs=1e-6)


def test_words_and_evenness_on_this_ball() -> None:
    marking = marked("42")
    assert marking.net is not None
    assert faces_said(marking.net) == "12 centres in pentagons, 30 hexagons"
    least = evenness(marking, BALL)
    assert len(least) == 42
    said = evenness_said(marking, BALL)
    worst = float(re.findall(r"differ by ([\d.]+) mm", said)[0])
    # legs of halves: 37.38/2 degrees; a side along the leg is as long, one round the pentagon 2 asin(sin r sin 36)
    r = math.radians(37.377368140649696) / 2
    across = 2 * math.asin(math.sin(r) * math.sin(math.radians(36)))
    assert worst == pytest.approx(abs(BALL.mm(across - r)), abs=0.05)
    assert max(face.uneven_mm for face in evenness(marking, Ball(600.0))) == pytest.approx(
        2 * max(face.uneven_mm for face in least)
    )


def test_perfect_gives_every_hexagon_twelve_lines_and_every_pentagon_ten() -> None:
    marking = marked("C10/92 perfect")
    ways = {kind: {p.ways for p in marking.of_kind(kind)} for kind in ("centre", "face", "corner", "middle")}
    assert ways == {"centre": {10}, "face": {12}, "corner": {6}, "middle": {4}}
    legs = [spoke.end.split()[0] for spoke in marking.spokes["face 7"]]
    assert set(legs[::2]) | set(legs[1::2]) == {"corner", "middle"}
    assert len({*legs[::2]}) == len({*legs[1::2]}) == 1
    assert {p.ways for p in marked("C10/92").of_kind("face")} == {6}


def test_lines_of_a_point_run_to_the_right_and_meet_what_they_say() -> None:
    marking = marked("C10/72(1,2) perfect")
    for name in ("N", "face 5", "corner 9", "centre 4", "middle 12"):
        at = marking.by_name[name].at
        spokes = marking.spokes[name]
        ends = [math.cos(s.reach) * at + math.sin(s.reach) * s.direction for s in spokes]
        assert all(np.allclose(end, marking.by_name[s.end].at, atol=1e-12) for end, s in zip(ends, spokes, strict=True))
        turns = [
            math.atan2(float(np.cross(a.direction, b.direction) @ at), float(a.direction @ b.direction)) % (2 * math.pi)
            for a, b in zip(spokes, (*spokes[1:], spokes[0]), strict=True)
        ]
        assert sum(turns) == pytest.approx(2 * math.pi)
        assert [s.number for s in spokes] == list(range(1, len(spokes) + 1))


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("C10/33", r"write C10/32 or C10/42"),
        ("492", r'write "C10/492\(7,0\)" or "C10/492\(5,3\)"'),
        ("C10/72(2,2)", r"\(2,2\) gives 122 faces on C10"),
        ("C8/1030", "too many"),
        ("C10/2", "no even net"),
        ("C10/2(0,0)", "no even net"),
    ],
)
def test_a_count_that_cannot_be_had_is_refused_with_the_nearest(word: str, said: str) -> None:
    with pytest.raises(DesignError, match=said):
        marked(word)


def test_the_name_of_a_marking_marks_it_again() -> None:
    for word in ("42", "c10 / 72 (1,2) Perfect Equalised", "C10/492(7,0)", "C6/8", "42 imperfect"):
        marking = marked(word)
        assert marked(marking.division).division == marking.division
    assert marked("42").division == "C10/42"
    assert marked("C10/72").division == "C10/72(2,1)"


@pytest.mark.parametrize("base", [10, 8, 6, 4])
def test_marked_faces_have_line_1_of_one_sort(base: int) -> None:
    marking = marked(f"C{base}/{counts(base)[4]} perfect")
    for kind in ("centre", "face", "corner"):
        ends = {marking.by_name[marking.spokes[p.name][0].end].kind for p in marking.of_kind(kind)}
        assert len(ends - {"centre"} if kind == "corner" else ends) == 1, kind


def test_a_motif_for_one_face_fits_every_face() -> None:
    """Every face of one kind has as many lines, so one polygon can be worked "all faces"."""
    design = Design.model_validate(
        {
            "format": 1,
            "name": "Harbour net",
            "ball": {"around": "25 cm"},
            "threads": [{"name": "white", "colour": "#ffffff"}],
            "marking": {"division": "42"},
            "layers": [
                {"name": "hexagons", "technique": "polygon", "where": "all faces", "rows": "2 white"}
                | {"params": {"corners": 6, "at": "1/2 from centre"}},
                {"name": "pentagons", "technique": "uwagake", "where": "all centres", "rows": "2 white"},
            ],
        }
    )
    made = build(design)
    assert [sum(motif.layer == k for motif in made.motifs) for k in range(2)] == [30, 12]
