"""Schemathesis over the whole OpenAPI description, against the real server: no error, and no answer not described."""

import subprocess
import sys
from collections.abc import Iterator
from typing import Any

import httpx2
import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis import Case
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from polestitch.studio.routes import ROUTES, router

pytestmark = pytest.mark.slow
CHECKS = [not_a_server_error, content_type_conformance, response_schema_conformance, status_code_conformance]
DESCRIBED = FastAPI(title="Polestitch studio")
DESCRIBED.include_router(router())
SCHEMA = schemathesis.openapi.from_dict(DESCRIBED.openapi())
# A name that may hold slashes is ":path" to the router, and a plain name in the description.
ADDRESSES = [(method, f"/api{path}".replace(":path}", "}")) for method, path, _, _ in ROUTES]


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    command = "from polestitch.cli import main; main()"
    folder = tmp_path_factory.mktemp("openapi")
    line = [sys.executable, "-c", command, "studio", "--data", str(folder), "--no-browser"]
    with subprocess.Popen(line, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        yield process.stdout.readline().removeprefix("The studio is open at ").strip().rstrip("/")
        process.terminate()


@pytest.fixture(scope="module")
def design(server: str) -> str:
    """One that is on the shelf, so that not every address answers "no such design"."""
    return str(httpx2.get(f"{server}/api/designs").json()["cards"][0]["id"])


@pytest.mark.parametrize(("method", "path"), ADDRESSES, ids=[f"{method} {path}" for method, path in ADDRESSES])
def test_no_question_makes_the_server_stumble(server: str, design: str, method: str, path: str) -> None:
    @settings(
        max_examples=15,
        deadline=None,
        derandomize=True,
        database=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=SCHEMA[path][method].as_strategy(), real=st.booleans())
    def asked(case: Case[Any], real: bool) -> None:
        if real and "id" in case.path_parameters:
            case.path_parameters["id"] = design
        answer = case.call(base_url=server)
        case.validate_response(answer, checks=CHECKS)

    asked()


def test_every_address_is_described() -> None:
    paths = DESCRIBED.openapi()["paths"]
    assert {(method.upper(), path) for path, methods in paths.items() for method in methods} == set(ADDRESSES)
