"""Every address of the studio in one list."""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Response

from polestitch.studio import messages as say
from polestitch.studio.addresses import bench, shelf

Route = tuple[str, str, Callable[..., Any], int]
ROUTES: tuple[Route, ...] = (
    ("GET", "/health", bench.health, 200),
    ("GET", "/designs", shelf.cards, 200),
    ("POST", "/designs", shelf.new_design, 201),
    ("POST", "/designs/import", shelf.import_design, 201),
    ("GET", "/designs/{id}", shelf.design, 200),
    ("PUT", "/designs/{id}", shelf.save, 200),
    ("PATCH", "/designs/{id}", shelf.change_card, 200),
    ("GET", "/designs/{id}/revisions", shelf.timeline, 200),
    ("GET", "/designs/{id}/revisions/{revision}", shelf.old_document, 200),
    ("PATCH", "/designs/{id}/revisions/{revision}", shelf.label_revision, 200),
    ("GET", "/designs/{id}/picture.png", shelf.picture, 200),
    ("GET", "/designs/{id}/document.json", shelf.document_file, 200),
    ("GET", "/archive.zip", shelf.archive_file, 200),
    ("POST", "/archive", shelf.take_archive, 200),
    ("GET", "/backups", shelf.backup_list, 200),
    ("POST", "/backups/{name}/restore", shelf.restore, 200),
    ("POST", "/build", bench.build, 200),
    ("POST", "/figures", bench.figures, 200),
    ("POST", "/look", bench.look, 200),
    ("GET", "/techniques", bench.techniques, 200),
    ("GET", "/divisions", bench.divisions, 200),
    ("GET", "/divisions/{name}", bench.division, 200),
    ("POST", "/jobs", bench.begin_job, 201),
    ("GET", "/jobs/{name}", bench.job, 200),
    ("DELETE", "/jobs/{name}", bench.stop_job, 200),
    ("GET", "/jobs/{name}/file", bench.job_file, 200),
    ("POST", "/palette", bench.palette, 200),
)
# What an address answers where its function does not say so by its type.
ANSWERS: dict[Callable[..., Any], dict[str, Any]] = {
    shelf.cards: {"model": say.Shelf},
    shelf.save: {"model": say.SavedRevision},
    shelf.picture: {"content": {"image/png": {}}},
    shelf.document_file: {"content": {"application/json": {}}},
    shelf.archive_file: {"content": {"application/zip": {}}},
    bench.build: {"content": {bench.BYTES: {}}},
    bench.look: {"content": {"image/png": {}}},
    bench.job_file: {"content": {"*/*": {}}},
}
REFUSALS: dict[int | str, dict[str, Any]] = {
    404: {"model": say.Wrong, "description": "There is no such thing"},
    409: {"model": say.Wrong, "description": "Something newer has come meanwhile"},
    413: {"model": say.Wrong, "description": "Too large"},
    422: {"model": say.Wrong, "description": "What is wrong where"},
    507: {"model": say.Wrong, "description": "The disk is full"},
}


def router() -> APIRouter:
    """All of them under ``/api``."""
    found = APIRouter(prefix="/api")
    for method, path, endpoint, status in ROUTES:
        found.add_api_route(path, endpoint, methods=[method], status_code=status, **_told(endpoint, status))
    return found


def _told(endpoint: Callable[..., Any], status: int) -> dict[str, Any]:
    """How OpenAPI tells of an address; its name there is the function's."""
    refusals = dict(REFUSALS)
    if endpoint is shelf.save:
        refusals[409] = {"model": say.Parted, "description": "Kept beside"}
    answer = ANSWERS.get(endpoint)
    if answer is None:
        return {"operation_id": endpoint.__name__, "responses": refusals}
    plain = {"response_class": Response, "response_model": None}
    return {"operation_id": endpoint.__name__, "responses": {status: answer, **refusals}, **plain}
