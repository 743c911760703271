"""How a request is refused: a status, a short stable code for machines, one sentence for people."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from starlette.exceptions import HTTPException

from rigxl.errors import RigxlError, WorkbookError

TELLING = "there is POST /calculate and /workbooks, GET /functions, /openapi.json and /healthz"


class Problem(msgspec.Struct, frozen=True):
    """What is wrong, by code and by sentence."""

    code: str
    sentence: str


class Failure(msgspec.Struct, frozen=True):
    """What stands in place of an answer: to a request, to one call, or in one cell."""

    error: Problem


class RefusalError(Exception):
    """A request that is not served.

    Args:
        status: The HTTP status.
        code: A slug such as ``not-json``.
        sentence: What was found and what would do.
        headers: What else the answer says.
    """

    def __init__(
        self, status: int, code: str, sentence: str, headers: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(sentence)
        self.status = status
        self.failure = Failure(Problem(code, sentence))
        self.headers = {"Content-Type": "application/json", **(headers or {})}

    def body(self) -> bytes:
        """The answer, in JSON."""
        return msgspec.json.encode(self.failure)


def too_much(sentence: str, limit: str) -> RefusalError:
    """413: more was sent than is taken; the sentence is followed by the name of the limit."""
    return RefusalError(413, f"over-{limit.replace('_', '-')}", f"{sentence} (limit {limit})")


def busy(sentence: str, limit: str, status: int = 503) -> RefusalError:
    """503, or 429 where it is the sender who asks too often: come back in a moment."""
    code = f"over-{limit.replace('_', '-')}"
    return RefusalError(
        status, code, f"{sentence} (limit {limit}); try again in a second", {"Retry-After": "1"}
    )


def refusal_of(error: Exception) -> RefusalError:
    """Whatever went wrong as one clear answer; 500 where nobody foresaw it."""
    if isinstance(error, RefusalError):
        return error
    if isinstance(error, WorkbookError):
        return RefusalError(error.status, error.code, str(error))
    if isinstance(error, RigxlError):
        return RefusalError(error.status, "not-understood", str(error))
    if isinstance(error, HTTPException) and error.status_code == 404:
        return RefusalError(404, "not-found", f"nothing is here: {TELLING}")
    if isinstance(error, HTTPException) and error.status_code == 405:
        return RefusalError(405, "no-such-method", f"not by this method: {TELLING}", error.headers)
    return RefusalError(500, "fault", "a fault in rigxl itself; its place is in the log of the server")
