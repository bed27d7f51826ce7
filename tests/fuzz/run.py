"""Asks thousands of odd requests and reports each that ended in a fault, took too long or used too much memory.

    python -m tests.fuzz.run --seed 1 --first 0 --count 20000 [--minutes 2.5]
    python -m tests.fuzz.run --seed 1 --first 4711 --count 1 --show

The second prints one request and its answer. The last line is the summary as JSON; ``next`` is the number to continue
with.
The exit code is 1 if anything was found. Times are processor times, so that other work on the machine matters little.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from unicodedata import category

from calculators.answer import answer
from tests.fuzz.requests import Request, request

MOST_S, MOST_MB = 5.0, 900.0
#: A longer sentence quotes something that was not shortened.
LONGEST_SENTENCE = 2000
#: Unicode categories of characters that break a line, change its direction, or are invisible.
UNREAD = {"Cc", "Cf", "Cs", "Zl", "Zp"}
OUTCOMES = {"answer": {"result", "problems"}, "restate": {"restated", "problems"}, "inspect": {"inspected"}}


def main(arguments: Sequence[str] | None = None) -> int:
    """Ask, and return 1 where anything was found."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.fuzz.run", description="Ask the calculators what nobody would."
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=20_000)
    parser.add_argument(
        "--minutes", type=float, default=float("inf"), help="stop after so many, with what was asked so far"
    )
    parser.add_argument("--show", action="store_true", help="say what was asked and answered")
    parsed = parser.parse_args(arguments)
    outcomes, found, slowest, ends, number = (
        Counter(),
        [],
        (0.0, 0),
        time.monotonic() + 60 * parsed.minutes,
        parsed.first,
    )
    while number < parsed.first + parsed.count and time.monotonic() < ends:
        asked_for = request(parsed.seed, number)
        print(f"asking {number}", file=sys.stderr, flush=True)
        outcome, wrong, took = tried(asked_for, show=parsed.show)
        outcomes[outcome] += 1
        slowest = max(slowest, (took, number))
        wrong += [f"{memory_mb():.0f} MB"] if memory_mb() > MOST_MB else []
        for each in wrong:
            found.append({"number": number, "calculator": asked_for.calculator, "what": each})
            print(json.dumps(found[-1]), flush=True)
        number += 1
        if memory_mb() > MOST_MB:
            break
    summary = {
        "asked": number - parsed.first,
        "next": number,
        "outcomes": outcomes,
        "found": len(found),
        "slowest_s": round(slowest[0], 2),
        "slowest": slowest[1],
        "memory_mb": round(memory_mb()),
    }
    print(json.dumps(summary))
    return 1 if found else 0


def tried(asked_for: Request, *, show: bool = False) -> tuple[str, list[str], float]:
    """Ask; return the outcome, what is wrong with it, and the seconds that it took."""
    before = time.process_time()
    steps = list(answer(asked_for.envelope, [bytearray(each) for each in asked_for.buffers]))
    took = time.process_time() - before
    text, buffers = steps[-1]
    if show:
        print(asked_for.envelope[:5000], asked_for.buffers, text[:5000], sep="\n\n")
    reply = json.loads(text)
    wrong = [f"took {took:.1f} s"] if took > MOST_S else []
    do = json.loads(asked_for.envelope)["do"]
    if reply["outcome"] not in OUTCOMES[do]:
        wrong.append(f"{reply['outcome']}: {reply.get('text')} {' '.join(reply.get('trace', '').split()[-40:])}")
    for each, _buffers in steps:
        try:
            each.encode()
        except UnicodeEncodeError as trouble:
            wrong.append(f"cannot be sent: {trouble}")
    wrong += [unsound for each in reply.get("problems", ()) if (unsound := _unsound(each))]
    wrong += [
        f"a file without bytes: {each['name']!r}" for each in reply.get("files", ()) if not buffers[each["buffer"]]
    ]
    return reply["outcome"], wrong, took


def _unsound(problem: dict[str, Any]) -> str | None:
    """Return what is unreadable in the sentences of a problem; None if all is well."""
    text = f"{problem['text']} {problem['hint']}"
    if not problem["text"] or len(text) > LONGEST_SENTENCE:
        return f"a sentence of {len(text)} characters: {text[:100]!r}"
    unread = [character for character in text if category(character) in UNREAD]
    return f"{unread[0]!r} in the sentence {text[:200]!r}" if unread else None


def memory_mb() -> float:
    """Return the peak memory of this process, in MB."""
    # Not the maximum from getrusage, which includes the parent process before exec.
    (line,) = (each for each in Path("/proc/self/status").read_text().splitlines() if each.startswith("VmHWM"))
    return int(line.split()[1]) / 1024


if __name__ == "__main__":
    sys.exit(main())
