"""The sentences: one package exports the names of all its modules, so names must be unique."""

import ast
from collections import Counter

from tests.conftest import ROOT


def test_message_names_are_unique():
    taken = Counter(
        name.id
        for path in (ROOT / "calculators" / "messages").glob("*.py")
        for node in ast.parse(path.read_text("utf-8")).body
        if isinstance(node, ast.Assign)
        for target in node.targets
        for name in ast.walk(target)
        if isinstance(name, ast.Name)
    )
    assert [name for name, count in taken.items() if count > 1] == []
