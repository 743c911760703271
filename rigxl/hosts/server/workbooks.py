"""POST /workbooks: a workbook in; its findings, its marked copy, or both out.

The workbook is read in a child process with limits on memory and time, in a folder of its own that is removed
whatever happens. What comes out is what the Accept header asks for first: the findings as JSON unless it says
otherwise, the marked copy by the media type of a workbook, both as multipart/form-data, which a page takes
apart with ``response.formData()``.
"""

from __future__ import annotations

import re
import secrets
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple
from urllib.parse import quote

import msgspec
from anyio.to_thread import run_sync
from starlette.datastructures import QueryParams, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from rigxl.errors import InputError
from rigxl.hosts.server.checking import Done, Order, check
from rigxl.hosts.server.refusal import RefusalError, busy
from rigxl.hosts.server.settings import Settings
from rigxl.workbook.sandbox import apart

JSON, BOTH = "application/json", "multipart/form-data"
WORKBOOK = {
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".xltx": "application/vnd.openxmlformats-officedocument.spreadsheetml.template",
    ".xlsm": "application/vnd.ms-excel.sheet.macroEnabled.12",
    ".xltm": "application/vnd.ms-excel.template.macroEnabled.12",
}
QUERY = ("name", "criteria", "set", "sheet")
_NOT_IN_A_NAME = re.compile(r"[^\w .,()&+-]")


class Sent(NamedTuple):
    """A file that was sent."""

    name: str
    content: bytes

    def put(self, folder: Path) -> Path:
        """Write it into a folder of its own."""
        folder.mkdir()
        path = folder / self.name
        path.write_bytes(self.content)
        return path


class Workbooks:
    """Takes workbooks, a few at once."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.at_once = 0

    async def post(self, request: Request) -> Response:
        """Check one workbook."""
        wanted = _wanted(request.headers.get("accept", JSON))
        most = self.settings.limits.workbooks
        if self.at_once >= most:
            raise busy(f"{most} workbooks are being checked", "workbooks")
        self.at_once += 1
        try:
            workbook, ratings = await _sent(request)
            answer, done = await run_sync(self._checked, workbook, ratings, request.query_params, wanted)
        finally:
            self.at_once -= 1
        request.scope["counts"] |= {"workbooks": 1, "rows": done.rows}
        return answer

    def _checked(
        self, workbook: Sent, ratings: Sent | None, query: QueryParams, wanted: str
    ) -> tuple[Response, Done]:
        reading = self.settings.reading
        with TemporaryDirectory(prefix="rigxl-", ignore_cleanup_errors=True) as folder:
            order = Order(
                workbook.put(Path(folder) / "workbook"),
                criteria=query.get("criteria"),
                overrides=dict(map(_setting, query.getlist("set"))),
                sheets=tuple(query.getlist("sheet")),
                ratings=ratings.put(Path(folder) / "ratings") if ratings else None,
                mark=wanted != JSON,
                limits=reading,
            )
            done = apart(check, reading.seconds, reading.memory_bytes, order)
            return _answer(done, wanted), done


def _wanted(accept: str) -> str:
    """The first form in an Accept header that we have."""
    for one in accept.split(","):
        media = one.partition(";")[0].strip()
        if media in ("*/*", "application/*"):
            return JSON
        if media in (JSON, BOTH, *WORKBOOK.values()):
            return media
    raise RefusalError(
        406,
        "no-such-form",
        f"the answer is {JSON} (the findings), {WORKBOOK['.xlsx']} (the marked copy) or {BOTH} (both)",
    )


async def _sent(request: Request) -> tuple[Sent, Sent | None]:
    """The workbook and ratings: the body is the workbook, or a form with ``file`` and perhaps ``ratings``."""
    for key in request.query_params:
        if key not in QUERY:
            raise RefusalError(422, "unknown-option", f"the options in the address are {', '.join(QUERY)}")
    name = request.query_params.get("name", "")
    if not request.headers.get("content-type", "").startswith(BOTH):
        return _filled(name, await request.body()), None
    try:
        async with request.form(max_files=2, max_fields=0) as form:
            file, ratings = form.get("file"), form.get("ratings")
            if not isinstance(file, UploadFile):
                raise RefusalError(422, "no-workbook", "the form has no file named 'file'")
            workbook = _filled(name or file.filename or "", await file.read())
            if not isinstance(ratings, UploadFile):
                return workbook, None
            return workbook, _filled(ratings.filename or "", await ratings.read())
    except HTTPException:
        raise RefusalError(
            400, "not-a-form", "the form cannot be read; its files are 'file', the workbook, and 'ratings'"
        ) from None


def _filled(name: str, content: bytes) -> Sent:
    if not content:
        raise RefusalError(422, "no-workbook", "the file that was sent is empty; a workbook is needed")
    return Sent(_file_name(name), content)


def _file_name(given: str) -> str:
    """A name a file can have anywhere, from one that somebody sent.

    >>> _file_name("../lifts/Hall 3.xlsx"), _file_name("C:\\\\jobs\\\\a*b.xlsx"), _file_name("..")
    ('Hall 3.xlsx', 'a_b.xlsx', 'workbook')
    """
    last = re.split(r"[/\\\\]", given)[-1]
    return _NOT_IN_A_NAME.sub("_", last).strip(" .")[-100:] or "workbook"


def _setting(text: str) -> tuple[str, str]:
    name, equals, value = text.partition("=")
    if not equals:
        raise InputError("a setting is NAME=VALUE, as in ?set=margin=0.3")
    return name.strip(), value.strip()


def _answer(done: Done, wanted: str) -> Response:
    findings = msgspec.json.encode(done.findings, enc_hook=str)
    if wanted == JSON:
        return Response(findings, media_type=JSON)
    if wanted == BOTH:
        return _form(findings, done.marked)
    if done.marked is None:
        assert done.refused is not None
        raise done.refused
    return Response(
        done.marked.read_bytes(),
        media_type=WORKBOOK[done.marked.suffix],
        headers={"Content-Disposition": f"attachment; filename*=UTF-8''{quote(done.marked.name)}"},
    )


def _form(findings: bytes, marked: Path | None) -> Response:
    """The findings and, where there is one, the marked copy, as the two parts of a form."""
    line = secrets.token_hex(16)
    about = f'form-data; name="findings"\r\nContent-Type: {JSON}'
    body = f"--{line}\r\nContent-Disposition: {about}\r\n\r\n".encode() + findings
    if marked:
        about = (
            f'form-data; name="marked"; filename="{marked.name}"\r\nContent-Type: {WORKBOOK[marked.suffix]}'
        )
        body += f"\r\n--{line}\r\nContent-Disposition: {about}\r\n\r\n".encode() + marked.read_bytes()
    return Response(body + f"\r\n--{line}--\r\n".encode(), media_type=f"{BOTH}; boundary={line}")
