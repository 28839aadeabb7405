"""Findings of small balls, by kind, and what becomes of them when their remedy is followed."""

import json
import re
from typing import Any

from polestitch.checks import Finding, findings
from polestitch.document.design import Design
from polestitch.pipeline import Build, build
from tests.builds import built, document, estimated


def of_kind(made: Build, kind: str) -> list[Finding]:
    """All findings of one kind."""
    return [finding for finding in findings(made, estimated(made).needed_mm) if finding.kind == kind]


def kinds(made: Build) -> set[str]:
    """Kinds of all findings."""
    return {finding.kind for finding in findings(made, estimated(made).needed_mm)}


def one_of(made: Build, kind: str) -> Finding:
    """The only finding of that kind."""
    (finding,) = of_kind(made, kind)
    return finding


def cured(finding: Finding, *layers: dict[str, Any], **rest: Any) -> Build:
    """The same ball with the finding's remedy followed."""
    text = json.loads(json.dumps(document(*layers, **rest)))
    assert finding.remedy is not None
    *path, last = re.findall(r"\w+", finding.remedy["path"])
    spot = text
    for part in path:
        spot = spot[int(part)] if part.isdigit() else spot.setdefault(part, {})
    spot[int(last) if last.isdigit() else last] = finding.remedy["value"]
    return build(Design.model_validate(text))


__all__ = ["built", "cured", "kinds", "of_kind", "one_of"]
