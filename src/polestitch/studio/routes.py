"""Every address of the studio in one list."""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter, Response

from polestitch.studio import messages as say
from polestitch.studio import messages_chair
from polestitch.studio.addresses import (
    bench,
    chair,
    drawer,
    lan,
    plans,
    price,
    record_lists,
    records,
    shelf,
    shows,
    survey,
    teaching,
    winding,
)

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
    ("POST", "/where", bench.where, 200),
    ("POST", "/crossing", bench.crossing, 200),
    ("POST", "/look", bench.look, 200),
    ("GET", "/techniques", bench.techniques, 200),
    ("GET", "/families", bench.families, 200),
    ("GET", "/families/{name}/picture.png", bench.family_picture, 200),
    ("POST", "/another-size", bench.another_size, 200),
    ("POST", "/fit", bench.fit, 200),
    ("GET", "/divisions", bench.divisions, 200),
    ("GET", "/divisions/{name:path}", bench.division, 200),
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
    ("GET", "/costs", price.her_costs, 200),
    ("PUT", "/costs", price.say_costs, 200),
    ("GET", "/designs/{id}/price", price.time_and_price, 200),
    ("GET", "/designs/{id}/price.pdf", price.price_file, 200),
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
    ("GET", "/records", records.records, 200),
    ("POST", "/records", records.begin_record, 201),
    ("GET", "/records.csv", record_lists.records_file, 200),
    ("POST", "/records/csv", record_lists.take_records, 200),
    ("GET", "/records/{id}", records.record, 200),
    ("PUT", "/records/{id}", records.keep_record, 200),
    ("PATCH", "/records/{id}", records.put_record_away, 200),
    ("GET", "/records/{id}/versions", records.record_versions, 200),
    ("GET", "/records/{id}/picture", records.record_picture, 200),
    ("POST", "/records/{id}/photos", records.add_record_photo, 201),
    ("POST", "/records/{id}/photos/from-chair", records.take_chair_photos, 200),
    ("GET", "/records/{id}/photos/{photo}", records.record_photo, 200),
    ("GET", "/shows", shows.shows, 200),
    ("POST", "/shows", shows.begin_show, 201),
    ("POST", "/shows/demo", shows.open_demo_show, 200),
    ("GET", "/shows/{id}", shows.show, 200),
    ("PUT", "/shows/{id}", shows.keep_show, 200),
    ("PATCH", "/shows/{id}", shows.put_show_away, 200),
    ("GET", "/shows/{id}/versions", shows.show_versions, 200),
    ("GET", "/shows/{id}/check", shows.check_show, 200),
    ("POST", "/shows/{id}/papers", shows.begin_papers, 201),
    ("GET", "/winding/materials", winding.winding_materials, 200),
    ("POST", "/winding", winding.winding_plan, 200),
    ("POST", "/winding/sheet", winding.winding_sheet, 200),
    ("POST", "/roundness", winding.ball_roundness, 200),
    ("GET", "/wound", winding.wound_log, 200),
    ("POST", "/wound", winding.add_wound, 201),
    ("GET", "/wound.csv", winding.wound_file, 200),
    ("POST", "/wound/csv", winding.take_wound, 200),
    ("PATCH", "/wound/{id}", winding.put_wound_away, 200),
    ("GET", "/classes", teaching.class_list, 200),
    ("POST", "/classes", teaching.add_class, 201),
    ("POST", "/classes/demo", teaching.open_demo_class, 200),
    ("GET", "/classes/{id}", teaching.one_class, 200),
    ("PUT", "/classes/{id}", teaching.save_class, 200),
    ("PATCH", "/classes/{id}", teaching.put_class_away, 200),
    ("GET", "/classes/{id}/worked", teaching.class_worked, 200),
    ("POST", "/classes/{id}/papers", teaching.begin_class_paper, 201),
    ("GET", "/lan", lan.lan, 200),
    ("POST", "/lan/pair", lan.pair, 200),
    ("DELETE", "/lan/devices/{id}", lan.forget_device, 204),
    ("GET", "/lan/authority.crt", lan.authority, 200),
    *survey.ROUTES,
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
    winding.winding_sheet: {"content": {"application/pdf": {}}},
    winding.wound_file: {"content": {"text/csv": {}}},
    price.price_file: {"content": {"application/pdf": {}}},
    chair.hand_steps: {"model": messages_chair.HandSteps},
    chair.piece_scene: {"content": {bench.BYTES: {}}},
    chair.photo_file: {"content": {"image/jpeg": {}}},
    record_lists.records_file: {"content": {"text/csv": {}}},
    records.record_picture: {"content": {"image/png": {}, "image/jpeg": {}}},
    records.record_photo: {"content": {"image/jpeg": {}}},
    **survey.ANSWERS,
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
