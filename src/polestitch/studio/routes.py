"""Every address of the studio in one list."""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Response

from polestitch.studio import messages as say
from polestitch.studio import messages_chair
from polestitch.studio.addresses import bench, chair, drawer, lan, plans, shelf

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
    ("POST", "/spots", bench.spots, 200),
    ("POST", "/crossing", bench.crossing, 200),
    ("POST", "/look", bench.look, 200),
    ("GET", "/techniques", bench.techniques, 200),
    ("GET", "/families", bench.families, 200),
    ("GET", "/families/{name}/picture.png", bench.family_picture, 200),
    ("POST", "/another-size", bench.another_size, 200),
    ("POST", "/fit", bench.fit, 200),
    ("GET", "/divisions", bench.divisions, 200),
    ("GET", "/divisions/{name}", bench.division, 200),
    ("POST", "/jobs", bench.begin_job, 201),
    ("GET", "/jobs/{name}", bench.job, 200),
    ("DELETE", "/jobs/{name}", bench.stop_job, 200),
    ("GET", "/jobs/{name}/file", bench.job_file, 200),
    ("POST", "/palette", bench.palette, 200),
    ("POST", "/plans", plans.begin_plans, 201),
    ("POST", "/plans/parts", plans.plan_parts, 200),
    ("POST", "/plans/applied", plans.plan_applied, 200),
    ("POST", "/shades", plans.shades, 200),
    ("GET", "/threads", drawer.threads, 200),
    ("POST", "/threads", drawer.add_thread, 201),
    ("GET", "/threads.csv", drawer.threads_file, 200),
    ("POST", "/threads/csv", drawer.take_threads, 200),
    ("GET", "/threads/nearest", drawer.near_threads, 200),
    ("GET", "/threads/needed", drawer.needed, 200),
    ("PUT", "/threads/{id}", drawer.change_thread, 200),
    ("PATCH", "/threads/{id}", drawer.put_thread_away, 200),
    ("POST", "/threads/{id}/move", drawer.move_thread, 200),
    ("GET", "/pieces", chair.piece_list, 200),
    ("POST", "/pieces", chair.begin_piece, 201),
    ("GET", "/pieces/{id}", chair.piece, 200),
    ("PATCH", "/pieces/{id}", chair.change_piece, 200),
    ("GET", "/pieces/{id}/steps", chair.hand_steps, 200),
    ("GET", "/pieces/{id}/scene", chair.piece_scene, 200),
    ("GET", "/pieces/{id}/events", chair.event_list, 200),
    ("POST", "/pieces/{id}/events", chair.tell_events, 200),
    ("GET", "/pieces/{id}/time", chair.piece_time, 200),
    ("POST", "/pieces/{id}/photos", chair.add_photo, 201),
    ("GET", "/pieces/{id}/photos/{photo}", chair.photo_file, 200),
    ("POST", "/pieces/{id}/replan", chair.plan_piece_anew, 200),
    ("GET", "/lan", lan.lan, 200),
    ("POST", "/lan/pair", lan.pair, 200),
    ("DELETE", "/lan/devices/{id}", lan.forget_device, 204),
    ("GET", "/lan/authority.crt", lan.authority, 200),
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
    bench.family_picture: {"content": {"image/png": {}}},
    bench.job_file: {"content": {"*/*": {}}},
    lan.forget_device: {},
    lan.authority: {"content": {"application/x-x509-ca-cert": {}}},
    drawer.threads_file: {"content": {"text/csv": {}}},
    chair.hand_steps: {"model": messages_chair.HandSteps},
    chair.piece_scene: {"content": {bench.BYTES: {}}},
    chair.photo_file: {"content": {"image/jpeg": {}}},
}
REFUSALS: dict[int | str, dict[str, Any]] = {
    404: {"model": say.Wrong, "description": "There is no such thing"},
    409: {"model": say.Wrong, "description": "Something newer has come meanwhile"},
    413: {"model": say.Wrong, "description": "Too large"},
    422: {"model": say.Wrong, "description": "What is wrong where"},
    429: {"model": say.Wrong, "description": "Too many tries"},
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
