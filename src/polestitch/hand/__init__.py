"""Her hand: how wide thread lies, how far she steps at a point, how she bites, and how sure that is."""

from polestitch.hand.hand import Hand, Known, hand_of, pitch_of
from polestitch.hand.learning import Evidence, learned, measures_of
from polestitch.hand.sampler import Sampled, sampled
from polestitch.hand.told import hand_json

__all__ = [
    "Evidence",
    "Hand",
    "Known",
    "Sampled",
    "hand_json",
    "hand_of",
    "learned",
    "measures_of",
    "pitch_of",
    "sampled",
]
