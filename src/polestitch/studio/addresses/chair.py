"""Addresses of the chair: pieces, their steps, what was done, time, photos, planning anew."""

import json
from typing import Annotated, Any

from fastapi import File, Path, Query, Response, UploadFile

from polestitch.chair.fold import folded
from polestitch.errors import DesignError
from polestitch.picture.photograph import made_anew
from polestitch.store import designs, pieces
from polestitch.studio import messages_chair as say
from polestitch.studio import planning
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.messages import picture_address
from polestitch.studio.replanning import replanned
from polestitch.studio.studio import Here, Studio

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]


def _state(here: Studio, piece: str) -> tuple[dict[str, Any], int]:
    told, last = pieces.events(here.store, piece)
    return folded(told), last


def _card(here: Studio, piece: pieces.Piece, state: dict[str, Any]) -> say.PieceCard:
    steps = piece.told["steps"]
    return say.PieceCard(
        id=piece.id,
        name=piece.name,
        design=piece.design,
        revision=piece.revision,
        around_mm=piece.told["around_mm"],
        picture=picture_address(piece.design, piece.revision, piece.document),
        steps=steps,
        done=sum(min(end, steps) - start for start, end in state["done"] if start < steps),
        hours=round(planning.logged_hours(state), 3),
        last=piece.changed,
        away=piece.away,
    )


def piece_list(here: Here) -> say.Pieces:
    """Every piece in work."""
    found = pieces.pieces(here.store)
    return say.Pieces(pieces=tuple(_card(here, piece, _state(here, piece.id)[0]) for piece in found))


async def begin_piece(here: Here, wanted: say.NewPiece) -> say.OpenedPiece:
    """A ball to stitch, planned for her own base."""
    card, raw = await documented(designs.document, here.store, wanted.design, wanted.revision)
    text = designs.document_text(_on_her_ball(raw, wanted))
    plan = await here.bench.answer(planning.planned, text, wanted.revision or card.revision)
    made = await documented(pieces.add_piece, here.store, wanted.name, wanted.design, plan)
    return await documented(piece, here, made.id)


def _on_her_ball(raw: dict[str, Any], wanted: say.NewPiece) -> dict[str, Any]:
    ball = raw.get("ball")
    if not isinstance(ball, dict):
        raise DesignError("ball", "this design has no ball yet; give it one on the bench")
    if wanted.around is not None:
        ball = {**{key: value for key, value in ball.items() if key != "measured"}, "around": wanted.around}
    if wanted.measured is not None and (wanted.measured.pole_to_pole or wanted.measured.obi):
        ball = {**ball, "measured": {k: list(v) for k, v in wanted.measured.model_dump().items() if v}}
    return {**raw, "ball": ball}


def piece(here: Here, id: Id) -> say.OpenedPiece:
    """A piece to go on with."""
    found = pieces.piece(here.store, id)
    state, last = _state(here, id)
    told = found.told
    used = planning.uses_of(told, pieces.part(here.store, id, "sizes") or b"", state)
    threads = (say.PieceThread(**thread, used_mm=round(used[thread["name"]], 1)) for thread in told["threads"])
    return say.OpenedPiece(
        piece=_card(here, found, state),
        revision=found.revision,
        counts=say.Counts(steps=told["steps"], layers=told["layers"]),
        threads=tuple(threads),
        state=say.PieceState.model_validate(state),
        events_after=last,
    )


def change_piece(here: Here, id: Id, change: say.Away) -> say.PieceCard:
    """Put away, or brought back."""
    return _card(here, pieces.put_piece_away(here.store, id, change.away), _state(here, id)[0])


def hand_steps(
    here: Here,
    id: Id,
    start: Annotated[int, Query(alias="from", ge=0, le=10**7)] = 0,
    count: Annotated[int, Query(ge=1, le=1000)] = 200,
) -> Response:
    """Some of the steps."""
    found = pieces.piece(here.store, id)
    last = min(start + count, found.told["steps"])
    pages = range(start // planning.PAGE, -(-last // planning.PAGE)) if start < last else range(0)
    data = [pieces.part(here.store, id, f"steps {page}") or b"" for page in pages]
    body = planning.steps_json([page for page in data if page], start, count, start // planning.PAGE)
    return Response(body, media_type="application/json")


def piece_scene(here: Here, id: Id) -> Response:
    """The ball as it will be, on the wire."""
    data = pieces.part(here.store, id, "scene")
    return Response(planning.opened(data or b""), media_type="application/octet-stream")


def tell_events(here: Here, id: Id, told: say.Events) -> say.Accepted:
    """Keep what a device says was done; twice is once."""
    fresh = [_plain(event) for event in told.events]
    state = folded(pieces.keep_events(here.store, id, fresh))
    found = pieces.piece(here.store, id)
    if fresh:
        used = planning.uses_of(found.told, pieces.part(here.store, id, "sizes") or b"", state)
        pieces.keep_uses(here.store, id, used)
    ids = tuple(event["id"] for event in fresh)
    return say.Accepted(accepted=ids, clock=state["clock"], state=say.PieceState.model_validate(state))


def _plain(event: say.Event) -> dict[str, Any]:
    plain: dict[str, Any] = json.loads(event.model_dump_json(exclude_none=True))
    return {**plain, **({"value": None} if event.kind == "setting" and event.value is None else {})}


def event_list(here: Here, id: Id, after: Annotated[int, Query(ge=0, le=2**53)] = 0) -> say.ToldEvents:
    """What was done since."""
    told, last = pieces.events(here.store, id, after)
    return say.ToldEvents(events=tuple(told), last=last)


def piece_time(here: Here, id: Id) -> say.PieceTime:
    """Sittings, hours so far, hours left."""
    found, (state, _) = pieces.piece(here.store, id), _state(here, id)
    left = planning.time_left(found.told, pieces.part(here.store, id, "sizes") or b"", state)
    span = say.Span(low=round(left.low, 3), likely=round(left.likely, 3), high=round(left.high, 3))
    return say.PieceTime(sittings=tuple(state["sittings"]), hours=round(planning.logged_hours(state), 3), left=span)


async def add_photo(here: Here, id: Id, file: Annotated[UploadFile, File()]) -> say.PhotoName:
    """A photo to pin to a step; made anew from its pixels."""
    data = await whole(file, 30_000_000)
    anew = await here.painters.answer(made_anew, data)
    return say.PhotoName(photo=await documented(pieces.add_photo, here.store, id, anew))


def photo_file(here: Here, id: Id, photo: Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]) -> Response:
    """A photo."""
    data = pieces.photo(here.store, id, photo)
    return Response(data, media_type="image/jpeg", headers={"cache-control": "private, max-age=31536000, immutable"})


async def plan_piece_anew(here: Here, id: Id, wanted: say.Replan) -> say.Replanned:
    """What going on by another version changes; with ``apply`` it is done."""
    found = await documented(pieces.piece, here.store, id)
    _, raw = await documented(designs.document, here.store, found.design, wanted.revision)
    old = await documented(pieces.piece_text, here.store, id)
    state, _ = await documented(_state, here, id)
    plan, words, kept = await here.bench.answer(replanned, old, raw, wanted.revision, state)
    if wanted.apply:
        await documented(_go_on, here, found, plan, (kept, state))
    return say.Replanned(words=tuple(words), kept=kept, new=plan.told["steps"] - kept)


def _go_on(here: Studio, found: pieces.Piece, plan: pieces.Planned, known: tuple[int, dict[str, Any]]) -> None:
    from uuid import uuid4

    kept, state = known
    pieces.replan(here.store, found.id, plan)
    event = {"id": uuid4().hex, "device": "studio", "seq": 0, "clock": state["clock"] + 1, "kind": "replan"}
    event |= {"at": here.store.stamp(), "revision": plan.revision, "kept": kept}
    after = folded(pieces.keep_events(here.store, found.id, [event]))
    pieces.keep_uses(here.store, found.id, planning.uses_of(dict(plan.told), plan.parts["sizes"], after))
