"""Running our scripts in node: each is given its task as a JSON file and prints its report as JSON."""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from builder.mistakes import Unable

#: The folder of the scripts.
SCRIPTS = Path(__file__).resolve().parent / "runtime"
#: WebAssembly is compiled once, and not again where it runs often: Python runs for seconds only.
_ONE_COMPILER = "--liftoff-only"
#: But a conversation answers for so long that compiling again pays: 21 s in place of 25 for all calculators.
_BOTH_COMPILERS = "--no-liftoff-only"


class RuntimeFault(Unable):
    """A script of ours failed or cannot run; the text holds its own output."""


def run_script(script: str, scratch: Path, task: Mapping[str, Any]) -> dict[str, Any]:
    """Run a script of builder/runtime and return its report. Raises ``RuntimeFault`` with the script's own words."""
    ran = subprocess.run(_command(script, scratch, task), capture_output=True, text=True, check=False)
    if ran.returncode:
        raise RuntimeFault(f"builder/runtime/{script} failed:\n{ran.stdout}{ran.stderr}")
    report: dict[str, Any] = json.loads(ran.stdout)
    return report


class Conversation:
    """A script of builder/runtime that answers one request after another, a line of JSON each.

    It starts with the first request, and ends with the ``with`` that it is made for.
    """

    def __init__(self, script: str, scratch: Path, task: Mapping[str, Any]) -> None:
        self._script = script
        self._scratch = scratch
        self._task = task
        self._process: subprocess.Popen[str] | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._process and self._process.stdin and self._process.stdout:
            with suppress(BrokenPipeError):  # it has failed, and said so
                self._process.stdin.close()
            self._process.wait()
            self._process.stdout.close()

    def ask(self, request: Mapping[str, Any]) -> Any:
        """Return the answer to a request. Raises ``RuntimeFault`` with the script's own words."""
        words = self._scratch / f"{self._script}.stderr"
        if self._process is None:
            with words.open("w") as errors:
                self._process = subprocess.Popen(
                    _command(self._script, self._scratch, self._task, _BOTH_COMPILERS),
                    stdin=subprocess.PIPE,
                    stdout=subprocess.PIPE,
                    stderr=errors,
                    text=True,
                    encoding="utf-8",
                )
        assert self._process.stdin and self._process.stdout
        try:
            self._process.stdin.write(f"{json.dumps(request)}\n")
            self._process.stdin.flush()
        except BrokenPipeError:
            self._process.wait()
        answer = self._process.stdout.readline()
        if not answer:
            raise RuntimeFault(f"builder/runtime/{self._script} failed:\n{words.read_text('utf-8')}")
        return json.loads(answer)


def node_version() -> str:
    """Return the version of node. Raises ``RuntimeFault`` where there is none."""
    return subprocess.run([_node(), "--version"], capture_output=True, text=True, check=True).stdout.strip()


def _command(script: str, scratch: Path, task: Mapping[str, Any], compilers: str = _ONE_COMPILER) -> list[str]:
    written = scratch / f"{script}.json"
    written.write_text(json.dumps(task), "utf-8")
    return [_node(), compilers, str(SCRIPTS / script), str(written)]


def _node() -> str:
    node = shutil.which("node")
    if node is None:
        raise RuntimeFault("node is not on PATH (run make setup)")
    return node
