"""Scripts in node answer by lines of JSON, and their own words come back when they fail."""

from __future__ import annotations

import pytest

from builder import node
from builder.node import Conversation, RuntimeFault, run_script
from tests.tools import needs

pytestmark = needs("node", "nodejs")

ECHO = """
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
const { greeting } = JSON.parse(readFileSync(process.argv[2], "utf8"));
for await (const line of createInterface({ input: process.stdin })) {
  const { say } = JSON.parse(line);
  if (say === "nothing") throw new Error("there is nothing to say");
  console.log(JSON.stringify({ greeting, say }));
}
"""


@pytest.fixture
def scripts(tmp_path, monkeypatch):
    monkeypatch.setattr(node, "SCRIPTS", tmp_path)
    (tmp_path / "echo.mjs").write_text(ECHO)
    return tmp_path


def test_a_conversation_answers_each_request(scripts, tmp_path):
    with Conversation("echo.mjs", tmp_path, {"greeting": "é"}) as echo:
        assert [echo.ask({"say": say}) for say in ("one", "two\nlines")] == [
            {"greeting": "é", "say": "one"},
            {"greeting": "é", "say": "two\nlines"},
        ]
        running = echo._process
    assert running.returncode == 0


def test_a_failed_conversation_reports_the_script_s_own_words(scripts, tmp_path):
    with Conversation("echo.mjs", tmp_path, {"greeting": ""}) as echo:
        with pytest.raises(RuntimeFault, match=r"echo\.mjs failed:\n[^$]*there is nothing to say"):
            echo.ask({"say": "nothing"})
        with pytest.raises(RuntimeFault, match="there is nothing to say"):
            echo.ask({"say": "more"})


def test_nothing_starts_before_the_first_request(scripts, tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", "")
    with Conversation("echo.mjs", tmp_path, {}) as echo:
        pass
    with pytest.raises(RuntimeFault, match="node is not on PATH"), echo:
        echo.ask({"say": "one"})


def test_a_failed_script_reports_its_own_words(scripts, tmp_path):
    (tmp_path / "fails.mjs").write_text("throw new Error('it cannot be done')")
    with pytest.raises(RuntimeFault, match="it cannot be done"):
        run_script("fails.mjs", tmp_path, {})
