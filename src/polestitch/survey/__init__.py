"""The pin survey: measured pin-to-pin distances adjusted on the sphere, and which pins to move where."""

from polestitch.survey.field import Measured
from polestitch.survey.readings import Reading, readings_of
from polestitch.survey.survey import Care, Survey, survey

__all__ = ["Care", "Measured", "Reading", "Survey", "readings_of", "survey"]
