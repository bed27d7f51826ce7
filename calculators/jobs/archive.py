"""A job as one file: a ZIP archive, with the same bytes whenever the same job is saved.

::

    job.json         the job in the present format, JSON in UTF-8, names of each object in the order of the declarations
    measured.json    what its pictures hold, by hash; missing where nothing has been measured
    files/HASH       each file that the job uses, under the SHA-256 of its bytes, in the order of the hashes

Entries are stored, not packed, and bear the date 1980-01-01, so that no clock and no version of a packer shows in the
bytes. Packed entries (deflate) are read as well, since an archive may have been packed again. Nothing else is read: no
other names, no comment, no encryption, no archive of more than 4 GB.
"""

from __future__ import annotations

import io
import json
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, TypeVar

from calculators import messages
from calculators.declare import Problem, Refused
from calculators.jobs import sentences
from calculators.jobs.facts import Facts, facts_as_json, read_facts
from calculators.jobs.migrate import opened
from calculators.jobs.model import Job, files_of, plain

JOB, MEASURED, FILES = "job.json", "measured.json", "files/"
MEGABYTE = 1024 * 1024
#: Bytes of the archive and of all that is in it; bytes and values of one JSON text; entries, and bytes of their list.
MOST_BYTES, MOST_JSON, MOST_VALUES = 512 * MEGABYTE, 8 * MEGABYTE, 600_000
#: Unpacked bytes beyond these and so many times the archive are those of a bomb: pictures are packed already.
SPARE_BYTES, TIMES_PACKED = 24 * MEGABYTE, 8
MOST_ENTRIES, MOST_LIST = 5_000, 1_000_000
_EPOCH = (1980, 1, 1, 0, 0, 0)
_ENTRY = re.compile(r"job\.json|measured\.json|files/[0-9a-f]{64}")
#: The end of an archive without a comment (APPNOTE.TXT of the ZIP format, 4.3.16), and what precedes it in a large one.
_END = struct.Struct("<4s4H2LH")
_LARGE = b"PK\x06\x07"
_Read = TypeVar("_Read")
#: What the library raises for an archive that is not whole.
_DAMAGED = (
    zipfile.BadZipFile,
    EOFError,
    OSError,
    NotImplementedError,
    RuntimeError,
    OverflowError,
    ValueError,
    struct.error,
    zlib.error,
)


@dataclass(frozen=True)
class Saved:
    """A job with the bytes of its files and what has been measured of its pictures, both by hash."""

    job: Job
    files: Mapping[str, bytes]
    measured: Mapping[str, Facts]


def saved_bytes(saved: Saved) -> bytes:
    """Return the archive of a job. Raises Refused where the bytes of a file are missing."""
    used = files_of(saved.job)
    problems = [
        Problem(f"{FILES}{hash}", sentences.NO_SUCH_FILE.format(name=file.name))
        for hash, file in used.items()
        if hash not in saved.files
    ]
    if problems:
        raise Refused(*problems)
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_STORED) as archive:
        _write(archive, JOB, _json(plain(saved.job)))
        measured = {hash: facts for hash, facts in saved.measured.items() if hash in used}
        if measured:
            _write(archive, MEASURED, _json(facts_as_json(measured)))
        for hash in sorted(used):
            _write(archive, f"{FILES}{hash}", saved.files[hash])
    return made.getvalue()


def read_saved(data: bytes, name: str) -> Saved:
    """Return the job in an archive called ``name``, in bounded time and memory.

    Raises Refused, with a sentence that names the file, where it is damaged, cut short, newer or hostile.
    """
    name = messages.display_name(name)
    entries = _unpacked(data, name)
    if JOB not in entries:
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name=name), sentences.NOT_A_JOB_HINT))
    stored = parsed_json(entries[JOB], name)
    facts = _measured(entries, name)
    job = _named(lambda: opened(stored, lambda hash: facts[hash].share if hash in facts else None), name)
    files = {}
    for hash, file in files_of(job).items():
        found = entries.get(f"{FILES}{hash}")
        if found is None:
            raise Refused(Problem(f"{FILES}{hash}", f"{name}: {sentences.NO_SUCH_FILE.format(name=file.name)}"))
        if sha256(found).hexdigest() != hash:
            text = sentences.WRONG_HASH.format(name=name, entry=messages.display_name(file.name))
            raise Refused(Problem(f"{FILES}{hash}", text, sentences.CUT_SHORT_HINT))
        files[hash] = found
    return Saved(job, files, {hash: each for hash, each in facts.items() if hash in files})


def _unpacked(data: bytes, name: str) -> dict[str, bytes]:
    """Return the bytes of every entry of an archive by name. Raises Refused."""
    if len(data) > MOST_BYTES:
        raise _too_big(name)
    if not data.startswith(b"PK\x03\x04"):
        raise Refused(Problem("", sentences.NOT_A_JOB.format(name=name), sentences.NOT_A_JOB_HINT))
    _check_end(data, name)
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            entries = _entries(archive, name, len(data))
            return {entry.filename: _bytes_of(archive, entry, name) for entry in entries}
    except Refused:
        raise
    except _DAMAGED:
        raise Refused(Problem("", sentences.CUT_SHORT.format(name=name), sentences.CUT_SHORT_HINT)) from None


def _named(read: Callable[[], _Read], name: str) -> _Read:
    """Return what ``read`` returns; its problems name the file."""
    try:
        return read()
    except Refused as refused:
        raise Refused(*(Problem(each.field, f"{name}: {each.text}", each.hint) for each in refused.problems)) from None


def _check_end(data: bytes, name: str) -> None:
    """Check that the list of entries is of bounded length before anything reads it."""
    damaged = Refused(Problem("", sentences.CUT_SHORT.format(name=name), sentences.CUT_SHORT_HINT))
    if len(data) < _END.size or data[-_END.size : -_END.size + 4] != b"PK\x05\x06":
        raise damaged
    _mark, _disk, _of, _here, count, size, _at, comment = _END.unpack(data[-_END.size :])
    if comment or data[-_END.size - 20 : -_END.size - 16] == _LARGE:
        raise damaged
    if count > MOST_ENTRIES or size > MOST_LIST:
        raise _too_big(name)


def _entries(archive: zipfile.ZipFile, name: str, packed_bytes: int) -> list[zipfile.ZipInfo]:
    """Return the entries, none of them strange, together within the limit."""
    entries: dict[str, zipfile.ZipInfo] = {}
    for each in archive.infolist():
        shown = messages.display_name(each.orig_filename)
        text = ""
        if each.orig_filename == FILES and not each.file_size:
            continue
        if not _ENTRY.fullmatch(each.orig_filename):
            text = sentences.ODD_ENTRY
        elif each.filename in entries:
            text = sentences.ENTRY_TWICE
        elif each.flag_bits & 0x1 or each.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            text = sentences.PACKED_ODDLY
        if text:
            raise Refused(Problem("", text.format(name=name, entry=shown), sentences.CUT_SHORT_HINT))
        entries[each.filename] = each
    if sum(each.file_size for each in entries.values()) > min(MOST_BYTES, SPARE_BYTES + TIMES_PACKED * packed_bytes):
        raise _too_big(name)
    return [*entries.values()]


def _bytes_of(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, name: str) -> bytes:
    """Return an entry as unpacked, as long as it claims to be."""
    if entry.filename in (JOB, MEASURED) and entry.file_size > MOST_JSON:
        raise _too_big(name)
    with archive.open(entry) as file:
        data = file.read(entry.file_size + 1)
    if len(data) != entry.file_size:
        raise EOFError
    return data


def _measured(entries: Mapping[str, bytes], name: str) -> dict[str, Facts]:
    if MEASURED not in entries:
        return {}
    data = parsed_json(entries[MEASURED], name, MEASURED)
    return _named(lambda: read_facts(data), name)


def parsed_json(data: bytes, name: str, part: str = JOB) -> Any:
    """Return the JSON in ``data``, a ``part`` of the file called ``name``.

    Raises Refused for what two readers could understand differently, or not at all.
    """
    if len(data) > MOST_JSON or sum(data.count(each) for each in (b"{", b"[", b",")) > MOST_VALUES:
        raise _too_big(name)
    try:
        text = data.decode("utf-8")
        found = json.loads(text, object_pairs_hook=_once, parse_constant=_finite, parse_float=_finite)
        if "\\u" in text:
            json.dumps(found, ensure_ascii=False).encode("utf-8")
    except RecursionError:
        raise _not_json(name, part, sentences.TOO_DEEP) from None
    except UnicodeEncodeError:
        raise _not_json(name, part, sentences.ODD_TEXT) from None
    except _Ambiguous as trouble:
        raise _not_json(name, part, str(trouble)) from None
    except ValueError:
        raise _not_json(name, part, sentences.CUT_SHORT_HINT) from None
    return found


class _Ambiguous(ValueError):
    """JSON that the standard leaves open."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        seen: set[str] = set()
        twice = next(name for name, _value in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]  # adds as it looks
        raise _Ambiguous(sentences.NAMED_TWICE.format(key=messages.quoted(twice)))
    return found


def _finite(text: str) -> float:
    number = float(text)
    if number - number != 0:
        raise _Ambiguous(sentences.NOT_FINITE)
    return number


def _not_json(name: str, part: str, why: str) -> Refused:
    return Refused(Problem(part, sentences.NOT_JSON.format(part=part, name=name), why))


def _too_big(name: str) -> Refused:
    most = {"most": MOST_BYTES // MEGABYTE, "most_json": MOST_JSON // MEGABYTE}
    return Refused(Problem("", sentences.TOO_BIG.format(name=name), sentences.TOO_BIG_HINT.format(**most)))


def _json(data: Any) -> bytes:
    return f"{json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1)}\n".encode()


def _write(archive: zipfile.ZipFile, name: str, data: bytes) -> None:
    entry = zipfile.ZipInfo(name, _EPOCH)
    entry.create_system = 3  # otherwise the bytes would differ between systems
    entry.external_attr = 0o644 << 16
    archive.writestr(entry, data)
