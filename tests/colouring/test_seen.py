"""What eyes make of two threads, against published values and an independent library."""

import numpy as np
import pytest
from coloraide import Color

from polestitch.colouring.seen import SIGHTS, alike, contrast, difference, grey, said, seen_by
from polestitch.colouring.shades import grade, ramp
from polestitch.errors import DesignError

# Expected answers of the full-strength matrices, computed with numpy from the published table.
MACHADO = {
    "#ff0000": ("#6d5f00", "#a39000", "#ff000f"),
    "#00ff00": ("#ffe500", "#efd63a", "#00f7d9"),
    "#0000ff": ("#0059ff", "#003dfb", "#006b96"),
    "#ff8000": ("#a69100", "#c4ae00", "#ff626d"),
    "#808080": ("#808080", "#808080", "#808080"),
}


@pytest.mark.parametrize("colour", MACHADO)
def test_sights_are_those_of_machado(colour: str) -> None:
    """Machado, Oliveira and Fernandes 2009, severity 1; coloraide has the same matrices from its own copy."""
    for sight, wanted in zip(SIGHTS, MACHADO[colour], strict=True):
        assert seen_by(colour, sight) == wanted
        library = Color(colour).filter(sight, method="machado").clip().to_string(hex=True)
        assert difference(seen_by(colour, sight), library) < 0.6  # eight bits
    assert seen_by(colour, "everyone") == colour


def test_greys_stay_grey() -> None:
    for matrix in SIGHTS.values():
        assert np.sum(matrix, axis=1) == pytest.approx(np.ones(3), abs=2e-6)


@pytest.mark.parametrize(
    ("colour", "ratio"), [("#000000", 21), ("#777777", 4.4781), ("#949494", 3.0335), ("#0000ff", 8.5925)]
)
def test_contrast_is_that_of_wcag(colour: str, ratio: float) -> None:
    """Web Content Accessibility Guidelines 2.2, relative luminance; against white."""
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=1e-3)


def test_red_and_green_of_one_lightness_are_told_with_their_source() -> None:
    found = alike([(("moss", "#6d7a2f"), ("rust", "#9c6a2a")), (("navy", "#1d2b5a"), ("snow", "#f5f3ec"))])
    assert {each.sight for each in found} >= {"protan"}
    assert "everyone" not in {each.sight for each in found}
    (sentence,) = said(found)
    assert sentence.startswith("moss and rust look nearly alike to many")
    assert "Birch 2012" in sentence
    assert "everyone" in said(alike([(("a", "#336699"), ("b", "#3a6b9c"))]))[0]


def test_threads_that_only_colour_parts_are_told() -> None:
    (sentence,) = grey([(("rust", "#b5472b"), ("teal", "#3f7a5c")), (("navy", "#1d2b5a"), ("snow", "#f5f3ec"))])
    assert sentence.startswith("rust and teal are equally light")


def _oklab(colour: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """OKLab by the matrices of its author's article (B. Ottosson 2020, from memory)."""
    value = np.array([int(colour[k : k + 2], 16) for k in (1, 3, 5)]) / 255
    light = np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)
    lms = np.array([[0.4122214708, 0.5363325363, 0.0514459929], [0.2119034982, 0.6806995451, 0.1073969566],
                    [0.0883024619, 0.2817188376, 0.6299787005]]) @ light  # fmt: skip
    return np.array([[0.2104542553, 0.7936177850, -0.0040720468], [1.9779984951, -2.4285922050, 0.4505937099],
                     [0.0259040371, 0.7827717662, -0.8086757660]]) @ np.cbrt(lms)  # fmt: skip


def test_shades_are_even_in_oklab() -> None:
    found = [shade.colour for shade in grade("#1d2b5a", "#f4f1ea", 7)]
    assert (found[0], found[-1]) == ("#1d2b5a", "#f4f1ea")
    steps = np.diff([_oklab(colour) for colour in found], axis=0)
    assert np.abs(steps - steps.mean(axis=0)).max() < 0.006  # eight bits


def test_a_ramp_goes_evenly_from_dark_to_light_in_one_hue() -> None:
    lab = np.array([_oklab(shade.colour) for shade in ramp("#2f7f86", 6)])
    assert np.diff(lab[:, 0]) == pytest.approx(np.full(5, 0.14), abs=0.02)
    inner = lab[1:5]
    hue = np.degrees(np.arctan2(inner[:, 2], inner[:, 1]))
    assert np.ptp(hue) < 6


def test_the_nearest_thread_is_that_of_least_difference() -> None:
    owned = [("1", "navy", "#1d2b5a"), ("2", "mist", "#8fa9c4"), ("3", "snow", "#f4f1ea")]
    found = grade("#1d2b5a", "#f4f1ea", 5, owned)
    for shade in found:
        off = {name: Color(shade.colour).delta_e(colour, method="2000") for _, name, colour in owned}
        assert shade.nearest is not None
        assert shade.nearest[1] == min(off, key=lambda name: off[name])
        assert shade.off == pytest.approx(min(off.values()))
    with pytest.raises(DesignError, match="2 to 24"):
        grade("#000000", "#ffffff", 1)
