"""Tubes: closed round their thread, on the ball, facing outward."""

import numpy as np
import pytest
import trimesh

from polestitch.pipeline import Build, build
from polestitch.scene.scene import lift
from polestitch.scene.tubes import SIDES, Tubes, tubes
from tests.scene.samples import SAMPLE


@pytest.fixture(scope="module")
def made() -> Build:
    return build(SAMPLE)


@pytest.fixture(scope="module")
def shaped(made: Build) -> tuple[Tubes, ...]:
    return tubes(made.laid, lift(made))


def test_there_is_one_part_for_each_thread_that_is_used(made: Build, shaped: tuple[Tubes, ...]) -> None:
    assert [part.thread for part in shaped] == sorted(set(made.laid.row_thread.tolist()))


def test_no_thread_sinks_into_the_ball_or_floats(made: Build, shaped: tuple[Tubes, ...]) -> None:
    widest = float(made.laid.row_pitch.max())
    for part in shaped:
        away = np.linalg.norm(part.corners, axis=1) - 1
        assert away.min() > -widest / 50  # a six-sided tube on a chord of four degrees
        assert away.max() < 4 * widest


def test_triangles_face_the_way_their_normals_point(shaped: tuple[Tubes, ...]) -> None:
    # trimesh works out face normals from the order of the corners.
    for part in shaped:
        loaded = trimesh.Trimesh(part.corners, part.triangles, process=False)
        meant = part.normals[part.triangles].mean(axis=1)
        assert (np.einsum("ij,ij->i", loaded.face_normals, meant) > 0).all()


def test_tubes_hold_as_much_thread_as_was_laid(made: Build, shaped: tuple[Tubes, ...]) -> None:
    laid = made.laid
    half = laid.row_pitch[laid.arc_row] / 2
    for part in shaped:
        mine = laid.row_thread[laid.arc_row] == part.thread
        skin = (laid.length * half)[mine].sum() * 2 * SIDES * np.sin(np.pi / SIDES)
        area = trimesh.Trimesh(part.corners, part.triangles, process=False).area
        assert area == pytest.approx(skin, rel=0.08)  # lying higher makes a thread longer
