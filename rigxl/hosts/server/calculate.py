"""POST /calculate: a batch of calls worked out, one answer a call, in order."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from functools import lru_cache
from typing import Any, TypeVar

import msgspec
from anyio import CapacityLimiter
from anyio.to_thread import run_sync
from starlette.types import Receive, Scope, Send

from rigxl.functions.columns import Refused, answer
from rigxl.hosts.server.exchange import reply, whole
from rigxl.hosts.server.limits import ServerLimits
from rigxl.hosts.server.log import fault
from rigxl.hosts.server.refusal import Failure, Problem, busy, too_much
from rigxl.hosts.server.wire import Batch, Call, Misshapen, read, read_plain, read_with_care

FEW_BYTES, FEW_CELLS = 65_536, 500
"""Up to here a batch is sooner done than handed to a thread."""
BETWEEN_LOOKS = 250
"""Calls between two looks at the clock."""
REMEMBERED = 16_384
"""Plain calls whose answers are kept: a sheet that is worked out again sends the same calls again."""

DONE = TypeVar("DONE")

_encode = msgspec.json.encode


class Calculation:
    """Works out batches of calls, within the limits."""

    def __init__(self, limits: ServerLimits) -> None:
        self.limits = limits
        self.threads = CapacityLimiter(os.cpu_count() or 1)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One batch."""
        body = await whole(receive)
        batch = read(body) if len(body) <= FEW_BYTES else await self._beside(read, body)
        answers = await self._worked(batch)
        if answers is None:
            batch = await self._beside(read_with_care, body)
            answers = await self._worked(batch)
        assert answers is not None
        scope["counts"] |= {
            "calls": len(batch.calls),
            "cells": batch.cells,
            "refused": answers.count(b'{"error":{"code":'),  # in a text its quotes would be escaped
        }
        await reply(send, answers)

    async def _worked(self, batch: Batch) -> bytes | None:
        """The answers; None for a batch that was not so plain as it looked."""
        _within(self.limits, batch)
        few = batch.cells <= FEW_CELLS
        return work(batch, self.limits) if few else await self._beside(work, batch, self.limits)

    async def _beside(self, function: Callable[..., DONE], *arguments: Any) -> DONE:
        """Done in a thread, of which there are as many as processors; the others wait their turn."""
        return await run_sync(function, *arguments, limiter=self.threads)


def _within(limits: ServerLimits, batch: Batch) -> None:
    """Refuse a batch that is too large."""
    if len(batch.calls) > limits.batch_calls:
        raise too_much(
            f"the batch has {len(batch.calls):,} calls; at most {limits.batch_calls:,} are taken",
            "batch_calls",
        )
    if batch.cells > limits.batch_cells:
        raise too_much(
            f"the batch has {batch.cells:,} cells; at most {limits.batch_cells:,} are taken", "batch_cells"
        )


def work(batch: Batch, limits: ServerLimits) -> bytes | None:
    """The answers, as the body to send; None for a batch that was not so plain as it looked.

    Raises:
        RefusalError: It takes too long; nothing is answered then.
    """
    deadline = time.monotonic() + limits.batch_seconds
    answers: list[bytes] = []
    for at in range(0, len(batch.calls), BETWEEN_LOOKS):
        if time.monotonic() > deadline:
            raise busy(f"the batch was not worked out within {limits.batch_seconds:g} s", "batch_seconds")
        calls = batch.calls[at : at + BETWEEN_LOOKS]
        if not batch.plain:
            answers += map(_answered, calls)
            continue
        try:
            answers += [_remembered(bytes(call)) for call in calls]
        except Exception:  # a call that is not plain, or a fault of ours: neither is remembered
            return None
    return b'{"answers":[' + b",".join(answers) + b"]}"


@lru_cache(REMEMBERED)
def _remembered(call: bytes) -> bytes:
    plain = read_plain(call)
    return encoded(answer(plain.function, plain.arguments))


def _answered(call: Call | Misshapen) -> bytes:
    if isinstance(call, Misshapen):
        return encoded(Refused("VALUE", call.sentence))
    try:
        return encoded(answer(call.function, call.arguments))
    except UnicodeEncodeError:
        return encoded(Refused("VALUE", "a text holds half a character (a lone surrogate)"))
    except Exception as error:  # a fault of ours fails its own call and no other
        fault(error)
        return encoded(Refused("VALUE", "a fault in rigxl itself; its place is in the log of the server"))


def encoded(found: Any) -> bytes:
    """An answer in JSON: a value, an error, or rows of such."""
    if isinstance(found, Refused):
        return _encode(_failure(found))
    if isinstance(found, list):
        return _encode({"values": [[_cell(cell) for cell in row] for row in found]})
    return _encode({"value": found})


def _cell(cell: Any) -> Any:
    return _failure(cell) if isinstance(cell, Refused) else cell


def _failure(refused: Refused) -> Failure:
    return Failure(Problem(refused.code, refused.sentence))
