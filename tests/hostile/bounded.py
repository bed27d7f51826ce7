"""python -m tests.hostile.bounded FOLDER: reads the files of a folder with each reader, within their time and memory.

Each reader has a process of its own, which is forked, since the imports of all of them take longer than most files. It
prints one line of JSON before each file and one after. A file that takes several times as long ends its process
(SIGPROF counts its own time, so other work on the machine changes little); its last line then names the file. The
last line about a reader says how its process ended.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import sys
import time
import traceback
from pathlib import Path

from calculators.cache import PICTURES
from calculators.files.header import read_header
from calculators.files.picture import MOST_PIXELS, MOST_SIDE_PX
from tests.hostile.readers import READERS, Reader
from tests.hostile.seeds import seeds

#: Seconds of the process's own time for a file, and for each pixel that may be decoded.
BASE_S, PIXEL_S = 2.0, 0.4e-6
#: Seconds that a usual machine of 2025 takes to add a million squares; a slower machine gets proportionally more time.
USUAL_S = 0.06
#: Bytes for a file: a base, a multiple of its length, and so many for each pixel that was decoded.
BASE_BYTES, TIMES_FILE, PIXEL_BYTES = 64 << 20, 8, 24
#: The most memory of the machine in any case.
MOST_BYTES = 6 << 30


def main(folder: Path) -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    for reader in READERS:
        for kind, data in seeds().items():  # Do not charge first-use imports to a file.
            reader.read(f"warm.{kind}", data)
    for reader in READERS:
        process = os.fork()
        if not process:
            _read_all(folder, reader)
            os._exit(0)
        status = os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])
        print(json.dumps({"ended": status, "reader": reader.name}), flush=True)


def _read_all(folder: Path, reader: Reader) -> None:
    PICTURES.clear()  # Some of the files are seeds by another name.
    for number, name in enumerate(json.loads((folder / "names.json").read_text("utf-8"))):
        if not reader.takes(number, name):
            continue
        data = (folder / str(number)).read_bytes()
        print(json.dumps({"begin": name, "reader": reader.name}), flush=True)
        print(json.dumps(measured(reader, name, data)), flush=True)


def measured(reader: Reader, name: str, data: bytes) -> dict[str, object]:
    """Return the result of reading, and the shares of its time and memory limits that it used (1 is the limit)."""
    pixels = claimed_pixels(data) if reader.decodes else 0
    limit_s = BASE_S + PIXEL_S * pixels
    Path("/proc/self/clear_refs").write_text("5")
    before, started = memory("VmRSS"), time.process_time()
    signal.setitimer(signal.ITIMER_PROF, 9 * limit_s)
    text, fault = None, None
    try:
        text = reader.read(name, data)
    except BaseException:
        fault = traceback.format_exc()
    signal.setitimer(signal.ITIMER_PROF, 0)
    took_s, took = time.process_time() - started, memory("VmHWM") - before
    if took_s > limit_s:
        limit_s *= max(1.0, squares_s() / USUAL_S)
    # A refused file was not decoded, so the size in its header earns no allowance.
    most = BASE_BYTES + TIMES_FILE * len(data) + PIXEL_BYTES * (0 if text else pixels)
    return {
        "name": name,
        "reader": reader.name,
        "text": text,
        "fault": fault,
        "time": took_s / limit_s,
        "memory": took / most,
        "took_s": took_s,
        "took_bytes": took,
    }


def squares_s() -> float:
    """Return the seconds that this machine takes now to add up a million squares."""
    started = time.process_time()
    sum(number * number for number in range(1_000_000))
    return time.process_time() - started


def claimed_pixels(data: bytes) -> int:
    try:
        header = read_header(data)
    except ValueError:
        return 0
    width, height = header.width_px or 0, header.height_px or 0
    return width * height if max(width, height) <= MOST_SIDE_PX and width * height <= MOST_PIXELS else 0


def memory(which: str) -> int:
    """Return bytes of this process: VmRSS now, or VmHWM at most since clear_refs."""
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith(which):
            return int(line.split()[1]) * 1024
    raise LookupError(which)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
