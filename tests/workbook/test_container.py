"""The container, with Python's own zipfile as the oracle."""

from __future__ import annotations

import io
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigxl.errors import WorkbookError
from rigxl.workbook import container


def _made(contents: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w", method) as file:
        for name, content in contents.items():
            file.writestr(name, content)
    return sink.getvalue()


def _written(data: bytes, changed: dict[str, bytes], added: dict[str, bytes]) -> bytes:
    sink = io.BytesIO()
    container.write_container(
        sink,
        data,
        container.read_directory(data, 1000),
        {name: container.pack([content]) for name, content in changed.items()},
        {name: container.pack([content]) for name, content in added.items()},
    )
    return sink.getvalue()


@settings(deadline=None, max_examples=50)
@given(
    st.dictionaries(
        st.text("abcé/", min_size=1, max_size=8), st.binary(max_size=300), min_size=1, max_size=5
    ),
    st.binary(max_size=300),
    st.sampled_from([zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED]),
)
def test_round_trip(contents: dict[str, bytes], new: bytes, method: int) -> None:
    """What zipfile writes we read; what we write zipfile reads, unchanged, changed and added alike."""
    data = _made(contents, method)
    entries = container.read_directory(data, 1000)
    assert {entry.name: container.unpack(data, entry) for entry in entries} == contents
    first = next(iter(contents))
    with zipfile.ZipFile(io.BytesIO(_written(data, {first: new}, {"added.xml": new}))) as file:
        assert file.testzip() is None
        assert {name: file.read(name) for name in file.namelist()} == contents | {
            first: new,
            "added.xml": new,
        }


def test_untouched_entries_keep_every_byte_that_says_what_they_are() -> None:
    """Compressed bytes, checksum, date, name, attributes and comments stay."""
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w") as file:
        info = zipfile.ZipInfo("a.xml", (2001, 2, 3, 4, 5, 6))
        info.compress_type, info.external_attr, info.comment = zipfile.ZIP_DEFLATED, 0o600 << 16, b"why"
        file.writestr(info, b"a" * 1000)
        file.writestr("b.xml", b"b")
        file.comment = b"made by hand"
    before = sink.getvalue()
    after = _written(before, {"b.xml": b"new"}, {})
    with zipfile.ZipFile(io.BytesIO(before)) as old, zipfile.ZipFile(io.BytesIO(after)) as new:
        assert new.comment == b"made by hand"
        for field in ("date_time", "CRC", "compress_size", "external_attr", "comment", "create_version"):
            assert getattr(old.getinfo("a.xml"), field) == getattr(new.getinfo("a.xml"), field)
    (entry, _), (same, _) = container.read_directory(before, 9), container.read_directory(after, 9)
    assert before[entry.data : entry.data + entry.packed] == after[same.data : same.data + same.packed]


class _Unseekable(io.RawIOBase):
    """A sink that cannot go back, so that sizes come behind the data."""

    def __init__(self) -> None:
        self.data = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: bytes) -> int:  # type: ignore[override]
        self.data += data
        return len(data)


def test_sizes_behind_the_data_and_long_sizes() -> None:
    """Streaming writers put sizes behind the data; some always use the 64-bit fields."""
    sink = _Unseekable()
    with (
        zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED) as file,
        file.open("a.xml", "w", force_zip64=True) as part,
    ):
        part.write(b"content" * 99)
    data = bytes(sink.data)
    (entry,) = container.read_directory(data, 9)
    assert entry.flags & container.SIZES_BEHIND
    assert container.unpack(data, entry) == b"content" * 99
    with zipfile.ZipFile(io.BytesIO(_written(data, {}, {"b": b"b"}))) as file:
        assert file.testzip() is None
        assert file.read("a.xml") == b"content" * 99


def test_large_content_is_one_stream() -> None:
    """Stretches packed apart make one stream that any program unpacks."""
    pieces = [bytes([at % 251]) * 700_001 for at in range(9)]
    sink = io.BytesIO()
    packed = container.pack(pieces, about=6_300_009)
    container.write_container(sink, b"", [], {}, {"large.xml": packed})
    with zipfile.ZipFile(sink) as file:
        assert file.read("large.xml") == b"".join(pieces)


@pytest.mark.parametrize("cut", [0, 10, 40, -1, -30])
def test_cut_short(cut: int) -> None:
    """A file cut anywhere is refused with one sentence."""
    data = _made({"a.xml": b"x" * 500})[:cut]
    with pytest.raises(WorkbookError) as refusal:
        container.read_directory(data, 9)
    assert refusal.value.code == "damaged"


@settings(deadline=None, max_examples=300)
@given(st.data())
def test_flipped_bytes_never_crash(data: st.DataObject) -> None:
    """Any byte of a file may be wrong: the answer is the content or a refusal, nothing else."""
    whole = bytearray(_made({"a.xml": b"some content" * 9, "b.xml": b"more"}))
    for _ in range(data.draw(st.integers(1, 3))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    code = ""
    try:
        for entry in container.read_directory(bytes(whole), 9):
            container.unpack(bytes(whole), entry)
    except WorkbookError as refusal:
        code = refusal.code
    assert code in ("", "damaged", "encrypted", "too-many-entries")
