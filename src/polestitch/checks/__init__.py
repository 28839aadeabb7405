"""What could go wrong on this ball, where, why, and what to do about it."""

from polestitch.checks.finding import Finding, Made, Severity
from polestitch.checks.findings import by_gravity, findings

__all__ = ["Finding", "Made", "Severity", "by_gravity", "findings"]
