"""Unpacks a workbook's parts under limits, counting what really comes out: a directory can lie."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Callable

from pipeline.files.limits import LARGEST_MEMBER, LARGEST_RATIO, LARGEST_TOTAL, MOST_MEMBERS, SMALL

HEADER = 30  # bytes of a member's own header before its name


class TooLarge(Exception):
    """The archive passes a limit, so that nothing of it was opened."""


class Damaged(Exception):
    """The archive cannot be unpacked."""


def directory(data: bytes) -> list[zipfile.ZipInfo]:
    """The members that an archive lists, with `/` between folders."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError, EOFError, OSError) as fault:
        raise Damaged from fault
    for member in members:
        member.filename = member.filename.replace("\\", "/")
    return members


def unpacked(data: bytes, members: list[zipfile.ZipInfo], is_wanted: Callable[[str], bool]) -> dict[str, bytes]:
    """The wanted parts by name; every part is unpacked once, to count it, before anybody else opens it."""
    _hold_against_limits(members, len(data))
    parts: dict[str, bytes] = {}
    for member in members:
        part = _part(data, member)
        if is_wanted(member.filename):
            parts[member.filename] = part
    return parts


def _hold_against_limits(members: list[zipfile.ZipInfo], packed: int) -> None:
    total = sum(member.file_size for member in members)
    if len(members) > MOST_MEMBERS or total > LARGEST_TOTAL or total > max(SMALL, LARGEST_RATIO * packed):
        raise TooLarge
    for member in members:
        if member.file_size > max(SMALL, LARGEST_RATIO * member.compress_size):
            raise TooLarge
        if member.file_size > LARGEST_MEMBER:
            raise TooLarge


def _part(data: bytes, member: zipfile.ZipInfo) -> bytes:
    start = member.header_offset + HEADER
    lengths = data[start - 4 : start]
    if len(lengths) < 4:
        raise Damaged
    start += int.from_bytes(lengths[:2], "little") + int.from_bytes(lengths[2:], "little")
    packed = data[start : start + member.compress_size]
    if member.compress_type == zipfile.ZIP_STORED:
        part = packed
    elif member.compress_type == zipfile.ZIP_DEFLATED:
        part = _inflated(packed, member.file_size)
    else:
        raise Damaged  # no spreadsheet program packs in another way
    if len(part) != member.file_size or zlib.crc32(part) != member.CRC:
        raise Damaged
    return part


def _inflated(packed: bytes, size: int) -> bytes:
    stream = zlib.decompressobj(-zlib.MAX_WBITS)
    try:
        part = stream.decompress(packed, size + 1)  # one byte more than listed shows the lie
    except zlib.error as fault:
        raise Damaged from fault
    if len(part) > size:
        raise TooLarge
    return part
