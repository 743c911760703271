"""What goes over the wire: the shape of calls, and how a batch of them is read.

Most batches hold nothing but plain calls on single cells; they are cut into calls, each known again by its
bytes. Where anything is unusual, a range, a cell in error, a key given twice, the whole is read with care. In
both ways one bad call never fails the others.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Annotated, Any, NamedTuple

import msgspec
from msgspec import Meta

from rigxl.errors import CellError, InputError
from rigxl.hosts.server.refusal import RefusalError

Text = Annotated[str, Meta(max_length=1000)]
Short = Annotated[str, Meta(max_length=64)]
MOST_PLAIN = 1000
"""Bytes of a call that is remembered."""
Whole = Annotated[int, Meta(ge=-(2**53), le=2**53)]
BATCH = '{"calls": [{"function": "NAME", "arguments": [...]}, ...]}'
ARGUMENT = 'a number, text, true or false, null, rows of such as [[1, 2], [3, 4]], or {"error": "#DIV/0!"}'


class CellInError(msgspec.Struct, forbid_unknown_fields=True):
    """A cell that shows an error."""

    error: Text


Single = None | bool | int | float | Text | CellInError


class Call(msgspec.Struct, forbid_unknown_fields=True):
    """A function and its arguments in order; null leaves one out, [[...], ...] is a range of cells."""

    function: Text
    arguments: list[Single | list[list[Single]]]

    @property
    def cells(self) -> int:
        """How many cells its ranges have, or its answer if that has more."""
        ranges = [value for value in self.arguments if isinstance(value, list)]
        tall = max((len(rows) for rows in ranges), default=1)
        wide = max((len(row) for rows in ranges for row in rows), default=1)
        given = sum(len(row) for rows in ranges for row in rows)
        return max(given, tall * wide)


class Misshapen(NamedTuple):
    """What stands in place of a call and is none; the sentence says why."""

    sentence: str
    cells: int = 1


class PlainCall(msgspec.Struct, forbid_unknown_fields=True, gc=False):
    """A call whose arguments are single cells with short values."""

    function: Short
    arguments: Annotated[tuple[bool | Whole | float | Short | None, ...], Meta(max_length=32)]


class PlainBatch(msgspec.Struct, forbid_unknown_fields=True):
    """A batch of such calls, each still in JSON."""

    calls: list[msgspec.Raw]


class Batch(NamedTuple):
    """A batch, cut or read."""

    calls: Sequence[Any]
    """In JSON each where it is plain, else ``Call`` or ``Misshapen``."""
    plain: bool
    cells: int


class Twice:
    """An object in which a key is given twice, so that nobody knows which is meant."""


_plain_batch = msgspec.json.Decoder(PlainBatch)
_plain_call = msgspec.json.Decoder(PlainCall)


def read(body: bytes) -> Batch:
    """A batch from its JSON, only cut into calls where it looks plain all through.

    Raises:
        RefusalError: The body is no JSON (400), or not of the shape of a batch (422).
    """
    try:
        calls = _plain_batch.decode(body).calls
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return read_with_care(body)
    # two keys a call and one list: one more is a key given twice, a range, or stands in a text
    if body.count(b":") == 2 * len(calls) + 1 and body.count(b"[") == len(calls) + 1:
        return Batch(calls, True, len(calls))
    return read_with_care(body)


def read_with_care(body: bytes) -> Batch:
    """Any batch from its JSON, each call for itself.

    Raises:
        RefusalError: The body is no JSON (400), or not of the shape of a batch (422).
    """
    tree = _tree(body)
    if not (isinstance(tree, dict) and tree.keys() == {"calls"} and isinstance(tree["calls"], list)):
        raise RefusalError(422, "not-a-batch", f"the body is JSON but no batch of calls, which is {BATCH}")
    calls = [_call(one) for one in tree["calls"]]
    return Batch(calls, False, sum(call.cells for call in calls))


def read_plain(call: bytes) -> PlainCall:
    """A call of a batch that looked plain.

    Raises:
        msgspec.MsgspecError: It is none: too long, of another shape, or with a key given twice. Then nothing
            about its batch is sure, for one call may lack what another has twice.
    """
    if len(call) > MOST_PLAIN or call.count(b":") != 2:
        raise msgspec.ValidationError
    return _plain_call.decode(call)


def _tree(body: bytes) -> Any:
    try:
        return json.loads(
            body.decode("utf-8"), object_pairs_hook=_object, parse_constant=_constant, parse_int=_whole
        )
    except UnicodeDecodeError:
        sentence = "the body is not text in UTF-8; JSON in UTF-8 is needed"
    except RecursionError:
        sentence = f"the body is nested too deep; a batch is {BATCH}"
    except json.JSONDecodeError as error:
        sentence = f"the body is no JSON, from line {error.lineno}, column {error.colno}; a batch is {BATCH}"
    except InputError as error:
        sentence = str(error)
    raise RefusalError(400, "not-json", sentence)


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any] | Twice:
    found = dict(pairs)
    return found if len(found) == len(pairs) else Twice()


def _constant(word: str) -> Any:
    raise InputError(
        f'the body holds {word}, which JSON does not have; send {{"error": "#NUM!"}} in its place'
    )


def _whole(digits: str) -> int | float:
    """A whole number; one beyond all sizes is infinite, which every function refuses."""
    return int(digits) if len(digits) < 300 else float(digits)


def _call(one: Any) -> Call | Misshapen:
    try:
        call = msgspec.convert(one, Call)
    except msgspec.ValidationError as error:
        what = str(error).replace("`Twice`", "`object that gives a key twice`")
        return Misshapen(f"the call cannot be read: {what}; an argument is {ARGUMENT}")
    call.arguments = [_argument(value) for value in call.arguments]
    return call


def _argument(value: Any) -> Any:
    if isinstance(value, list):
        return [[_argument(cell) for cell in row] for row in value]
    return CellError(value.error) if isinstance(value, CellInError) else value
