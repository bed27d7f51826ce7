"""Measure the calculators on web pictures: python -m tests.corpus.measure_web [--half test] [--limit 200]

Prints every bound beside what was reached, and writes the same to data/web-pictures.json, which the page on what
pictures hold shows; with --keep-page it does not write. Measurements are stored under build/corpus, so a stopped run
goes on where it was; after a change of a calculator or of the corpus, it measures them again.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import sys
import time
from collections.abc import Sequence
from itertools import groupby
from multiprocessing import get_context
from pathlib import Path

from tests.corpus.bounds import Record, detail_by_way, figures, in_words
from tests.corpus.judging import judged
from tests.corpus.package_drawings import PACKAGES, is_installed
from tests.corpus.web_design import Case, sampled
from tests.corpus.web_pictures import every_case

ROOT = Path(__file__).resolve().parents[2]
KEPT = ROOT / "build" / "corpus"
#: The data of the page.
TOLD = ROOT / "data" / "web-pictures.json"
PROCESSES = 2
#: Modules of the corpus that do not affect records: they count records, test, or measure something else.
_APART = (
    "bounds.py",
    "measure_web.py",
    "conftest.py",
    "test_",
    "measure_detail.py",
    "measure_underlay.py",
    "white_pictures.py",
)


def measured(cases: Sequence[Case], file: Path | None = None) -> list[Record]:
    """Return the records of ``cases``, or of some after an interruption.

    With a ``file`` those in it are not measured again, and new ones are added to it.
    """
    wanted = {case.id for case in cases}
    records = {each["id"]: each for each in _stored(file) if each["id"] in wanted}
    left = [case for case in cases if case.id not in records]
    begun, done = time.monotonic(), 0
    try:
        with get_context("spawn").Pool(PROCESSES) as pool:
            for found in pool.imap_unordered(_all_judged, groups(left)):
                records |= {each["id"]: each for each in found}
                done += len(found)
                _keep(file, found)
                print(
                    f"\r{done} of {len(left)} pictures, {time.monotonic() - begun:.0f} s",
                    end="",
                    file=sys.stderr,
                    flush=True,
                )
    except KeyboardInterrupt:
        print("\nStopped; the same command goes on from here.", end="", file=sys.stderr)
    print(file=sys.stderr)
    return [records[case.id] for case in cases if case.id in records]


def groups(cases: Sequence[Case]) -> list[list[Case]]:
    """Return the cases by drawing: one drawing's go to one process, which works out the truth of it once.

    Drawings come in the order of a hash, so that a run which is stopped has some of every kind.
    """

    def order(case: Case) -> tuple[bytes, str]:
        return hashlib.sha256(case.drawing.encode()).digest(), case.drawing

    return [list(group) for _drawing, group in groupby(sorted(cases, key=order), key=order)]


def _all_judged(cases: Sequence[Case]) -> list[Record]:
    return [judged(case) for case in cases]


def _stored(file: Path | None) -> list[Record]:
    if file is None or not file.exists():
        return []
    # A stopped run may leave half a line.
    return [json.loads(line) for line in file.read_text().splitlines() if line.startswith("{") and line.endswith("}")]


def _keep(file: Path | None, found: Sequence[Record]) -> None:
    if file is None:
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("a") as into:
        # A line that was cut short ends here.
        into.write("\n" * (into.tell() > 0))
        into.writelines(json.dumps(each) + "\n" for each in found)


def fingerprint() -> str:
    """Return a hash of everything that affects the records."""
    corpus = [each for each in Path(__file__).parent.glob("*") if each.is_file() and not each.name.startswith(_APART)]
    files = sorted([*(ROOT / "calculators").rglob("*.py"), *corpus])
    return hashlib.sha256(b"".join(each.read_bytes() for each in files)).hexdigest()[:12]


def page_of(records: Sequence[Record], half: str, in_all: int, absent: Sequence[str], day: str) -> Record:
    """Return the page's data about a run over ``records``, out of ``in_all`` pictures of that half."""
    return {
        "measured": day,
        "half": half,
        "pictures": len(records),
        "in_all": in_all,
        "without": list(absent),
        "figures": figures(records),
        "detail_by_way": detail_by_way(records),
    }


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--half", choices=("tuning", "test"), default="tuning")
    asked.add_argument("--limit", type=int, default=0, help="so many of the pictures, drawn by a hash")
    asked.add_argument("--keep-page", action="store_true", help="leave what the page shows as it is")
    arguments = asked.parse_args()
    cases = [case for case in every_case() if case.half == arguments.half]
    chosen = sampled(cases, arguments.limit) if arguments.limit else cases
    absent = [package for package in PACKAGES if not is_installed(package)]
    records = measured(chosen, KEPT / f"records-{fingerprint()}.jsonl")
    print(f"-- {arguments.half} half: {len(records)} measured of {len(chosen)} asked for and {len(cases)} in all")
    if absent:
        print(f"-- without {', '.join(absent)}, not installed")
    print(in_words(records))
    if records and not arguments.keep_page:
        page = page_of(records, arguments.half, len(cases), absent, time.strftime("%Y-%m-%d"))
        TOLD.write_text(json.dumps(page, indent=1, ensure_ascii=False) + "\n", "utf-8")
        print(f"-- written to {TOLD.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
