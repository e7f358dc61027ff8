"""Answers of the workbench: JSON, problems, and reading what a page sends."""

from __future__ import annotations

import asyncio
import json
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from foldproof.errors import InputError, Problem
from foldproof.web.settings import MOST_JSON_BYTES, MOST_UPLOAD_BYTES, MOST_UPLOAD_SECONDS
from foldproof.words.catalogue import ENGLISH, Language

WRONG, NOT_THERE, TOO_LARGE, CLASH, REFUSED, MISDIRECTED = 422, 404, 413, 409, 403, 421
BUSY, GONE, BROKEN = 503, 410, 500


class TooLarge(Exception):
    """More was sent than is read, or it came too slowly."""


def problem(key: str, value: str = "", *, language: Language = ENGLISH) -> Problem:
    """What the workbench itself refuses, in the catalogue's words. ``key`` is its field, or "field/which"."""
    reason, remedy = language.workbench.refusals[key]
    return Problem(field=key.partition("/")[0], value=value[:100], reason=reason, remedy=remedy)


def refused(key: str, value: str = "") -> InputError:
    """The same, to be raised."""
    return InputError((problem(key, value),))


def answer(data: Any, status: int = 200) -> Response:
    """JSON that no page or proxy keeps."""
    return JSONResponse(data, status_code=status, headers={"cache-control": "no-store"})


def bytes_answer(data: bytes, kind: str, *, name: str = "", status: int = 200) -> Response:
    """A file: shown in the page, or kept under ``name`` when there is one."""
    headers = {"cache-control": "no-store"}
    if name:
        headers["content-disposition"] = f'attachment; filename="{name}"'
    return Response(data, status_code=status, media_type=kind, headers=headers)


def problems_answer(problems: tuple[Problem, ...], status: int = WRONG) -> Response:
    """Everything that is wrong, each with its field, value, reason and remedy."""
    told = [
        {"field": each.field, "value": each.value, "reason": each.reason, "remedy": each.remedy} for each in problems
    ]
    return answer({"report": "error", "problems": told}, status)


def wrong_answer(error: InputError) -> Response:
    """An InputError as an answer."""
    return problems_answer(error.problems)


async def body_of(request: Request, most_bytes: int = MOST_UPLOAD_BYTES) -> bytes:
    """The bytes that were sent. Raises TooLarge as soon as there are more than ``most_bytes``."""
    told = request.headers.get("content-length", "")
    if told.isdigit() and int(told) > most_bytes:
        raise TooLarge
    found = bytearray()
    try:
        async with asyncio.timeout(MOST_UPLOAD_SECONDS):
            async for part in request.stream():
                found += part
                if len(found) > most_bytes:
                    raise TooLarge
    except TimeoutError as error:
        raise TooLarge from error
    return bytes(found)


async def json_of(request: Request) -> dict[str, Any]:
    """The JSON object that was sent. Raises InputError when it is none, TooLarge when it is too long."""
    data = await body_of(request, MOST_JSON_BYTES)
    try:
        found = json.loads(data)
        json.dumps(found, ensure_ascii=False).encode()  # half a character cannot be kept
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise refused("request")
    return found
