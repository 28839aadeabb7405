"""The picture: where the ball lies, what colours it shows, what lies on top."""

import io

import numpy as np
import pytest
from coloraide import Color
from numpy.typing import NDArray
from PIL import Image

from polestitch.document.colours import Colour
from polestitch.errors import DesignError
from polestitch.laying.laid import Laid
from polestitch.laying.top import reversals
from polestitch.picture.render import CENTRE, RADIUS, image, png, png_of
from polestitch.picture.scene import Subject, Yarn
from polestitch.picture.view import View, view_of
from polestitch.sphere.arcs import unit
from tests.laying.hand_laid import Hand

from .subjects import BARE, BLUE, GREEN, NAVY, RED, X, Y, Z, built, plain, ring_of_bands

SIZE = 240
MIDDLE = (round(CENTRE[0] * SIZE), round(CENTRE[1] * SIZE))
A_GLANCE = 20  # Delta E 2000 that light and shade may make of a thread's own colour


def seen(subject: Subject, view: View, size: int = SIZE) -> NDArray[np.uint8]:
    return image(subject, view, size, least=size)


def mean_colour(picture: NDArray[np.uint8], x: int, y: int, reach: int = 4) -> Color:
    patch = picture[y - reach : y + reach + 1, x - reach : x + reach + 1, :3].reshape(-1, 3).mean(0)
    return Color("srgb", list(patch / 255))


def nearest(colour: Color, *names: str) -> str:
    return min(names, key=lambda name: colour.delta_e(Color(name), method="2000"))


def blanket(pitch: float = 0.06) -> Laid:
    """Turns side by side over the middle of the view along x."""
    hand = Hand(pitch)
    for k in range(-6, 7):
        hand.turn(Z, float(np.sin(k * pitch)))
    return hand.laid()


def test_the_ball_has_its_radius_and_place() -> None:
    solid = seen(plain(BARE, RED), view_of(Z))[: MIDDLE[1], :, 3] > 127  # the shadow lies below the middle
    columns, lines = np.flatnonzero(solid.any(0)), np.flatnonzero(solid.any(1))
    assert (columns[-1] - columns[0] + 1) / 2 == pytest.approx(RADIUS * SIZE, abs=1.5)
    assert (columns[-1] + columns[0] + 1) / 2 == pytest.approx(CENTRE[0] * SIZE, abs=1)
    assert lines[0] == pytest.approx((CENTRE[1] - RADIUS) * SIZE, abs=1.5)


def test_a_bare_ball_is_pictured_too() -> None:
    bare = seen(plain(Hand().laid(), RED), view_of(Z))
    assert mean_colour(bare, *MIDDLE, 10).delta_e(Color(NAVY), method="2000") < A_GLANCE


@pytest.mark.slow
def test_thread_stands_up_over_the_outline() -> None:
    bare, laid = (seen(plain(laid, RED), view_of(X)) for laid in (BARE, blanket(0.05)))
    left = round((CENTRE[0] - RADIUS) * SIZE)
    line = MIDDLE[1]
    assert laid[line, left - 2 : left + 2, 3].sum() > bare[line, left - 2 : left + 2, 3].sum()


@pytest.mark.parametrize("colour", ["#a93d29", "#2b4c7e", "#e8c15a", "#f4efe2", "#23262d"])
def test_thread_shows_near_its_own_colour(colour: str) -> None:
    picture = seen(plain(blanket(), colour, ground="#808080"), view_of(X))
    shown = mean_colour(picture, MIDDLE[0] - 15, MIDDLE[1], 8)
    assert shown.delta_e(Color(colour), method="2000") < A_GLANCE


def test_the_ground_shows_near_its_own_colour_but_not_flat() -> None:
    picture = seen(plain(BARE, RED), view_of(Z))
    shown = mean_colour(picture, *MIDDLE, 10)
    assert shown.delta_e(Color(NAVY), method="2000") < A_GLANCE
    patch = picture[MIDDLE[1] - 10 : MIDDLE[1] + 10, MIDDLE[0] - 10 : MIDDLE[0] + 10, :3]
    assert len(np.unique(patch.reshape(-1, 3), axis=0)) > 50


def test_light_falls_from_the_upper_left() -> None:
    picture = seen(plain(BARE, RED, ground="#9a9a9a"), view_of(Z)).astype(int)
    off = round(0.6 * RADIUS * SIZE)
    upper_left = picture[MIDDLE[1] - off, MIDDLE[0] - off, :3].sum()
    lower_right = picture[MIDDLE[1] + off, MIDDLE[0] + off, :3].sum()
    assert upper_left > 1.5 * lower_right


@pytest.mark.slow
def test_over_and_under_in_a_ring_are_seen_at_each_crossing() -> None:
    laid, met, over = ring_of_bands()
    subject = Subject(laid, (Yarn(RED), Yarn(BLUE), Yarn(GREEN)), NAVY, 240, reversed_at=reversals(met, over))
    # At z the bands about x and y meet and the later, blue, is over; at x green is over blue; at y red over green.
    for facing, colour in ((Z, BLUE), (X, GREEN), (Y, RED)):
        picture = seen(subject, view_of(facing))
        assert nearest(mean_colour(picture, *MIDDLE), RED, BLUE, GREEN, NAVY) == colour


def test_the_upper_thread_darkens_the_lower_beside_it() -> None:
    low = Hand(0.09).turn(Z, -0.09).turn(Z, 0.0).turn(Z, 0.09)
    alone, crossed = (
        seen(plain(laid, "#bbbbbb"), view_of(X)).astype(float) for laid in (low.laid(), low.turn(Y).laid())
    )
    wide = round(0.045 * RADIUS * SIZE)
    lines = slice(MIDDLE[1] - 8, MIDDLE[1] + 9)
    right, left = (slice(MIDDLE[0] + start, MIDDLE[0] + start + 3) for start in (wide + 2, -wide - 4))
    # The window stands to the left, so the shadow falls to the right.
    assert crossed[lines, right, :3].mean() < 0.9 * alone[lines, right, :3].mean()
    assert crossed[lines, left, :3].mean() > 0.9 * alone[lines, left, :3].mean()


def test_marking_lies_under_the_stitching() -> None:
    marking = Hand(0.2).turn(Y).laid()
    subject = Subject(Hand(0.2).turn(Z).laid(), (Yarn(RED),), NAVY, 240, marking, Yarn(BLUE))
    picture = seen(subject, view_of(X))
    assert nearest(mean_colour(picture, *MIDDLE), RED, BLUE) == RED
    above = MIDDLE[1] - round(0.4 * RADIUS * SIZE)
    assert nearest(mean_colour(picture, MIDDLE[0], above), RED, BLUE, NAVY) == BLUE


def test_metallic_thread_glints() -> None:
    def spread(metallic: bool) -> float:
        picture = seen(plain(blanket(), "#b8962e", metallic=metallic), view_of(unit(X + 0.4 * Y)))
        patch = picture[MIDDLE[1] - 8 : MIDDLE[1] + 8, MIDDLE[0] - 60 : MIDDLE[0] + 20, 2]
        return float(np.percentile(patch, 99) / np.median(patch))

    assert spread(metallic=True) > 1.3 * spread(metallic=False)


@pytest.mark.slow
def test_the_same_ball_gives_the_same_bytes() -> None:
    laid, met, over = ring_of_bands()
    subject = Subject(laid, (Yarn(RED), Yarn(BLUE), Yarn(GREEN)), NAVY, 240, reversed_at=reversals(met, over))
    first, second = (png_of(seen(subject, view_of(unit(X + Y)))) for _ in range(2))
    assert first == second


def test_a_small_picture_is_a_large_one_reduced() -> None:
    small = image(plain(BARE, RED), view_of(Z), 60, least=240)
    large = seen(plain(BARE, RED), view_of(Z), 240)
    assert small.shape == (60, 60, 4)
    # Pixels all ball, so that alpha has no part in it.
    quarter = large[100:104, 100:104, :3].reshape(-1, 3).mean(0)
    assert small[25, 25, :3] == pytest.approx(quarter, abs=1)


def test_png_is_on_white_or_clear() -> None:
    picture = seen(plain(BARE, RED), view_of(Z), 120)
    white = Image.open(io.BytesIO(png_of(picture)))
    clear = Image.open(io.BytesIO(png_of(picture, page=None)))
    assert (white.mode, white.size, white.getpixel((0, 0))) == ("RGB", (120, 120), (255, 255, 255))
    assert np.array_equal(np.asarray(clear), picture)


@pytest.mark.slow
def test_a_build_is_pictured_from_an_address() -> None:
    picture = np.asarray(Image.open(io.BytesIO(png(built(), "N", 300))))
    red, green, blue = Colour(BLUE).rgb
    assert picture.shape == (300, 300, 3)
    shown = mean_colour(picture, 150, round(CENTRE[1] * 300), 1)
    assert nearest(shown, RED, f"rgb({red} {green} {blue})", GREEN, NAVY) == f"rgb({red} {green} {blue})"


def test_an_unknown_address_says_what_is_there() -> None:
    with pytest.raises(DesignError) as error:
        png(built(), "obi 99")
    assert error.value.where == "--facing"
