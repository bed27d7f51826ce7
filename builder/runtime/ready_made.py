# Packed at the end of Python's dataclasses.py (see pack.py): a dataclass is made of text that is compiled each time its
# module is imported, which takes longer than the rest of the import. Of our modules those texts are compiled when they
# are packed.
import builtins
import zlib


def exec(text: str, globals: "dict[str, object]", locals: "dict[str, object]") -> None:
    """Run a text as dataclasses do, compiled beforehand where it is of our modules."""
    ready = dict(globals.get("__ready_made__", ()))  # type: ignore[call-overload]  # pairs, by pack.py
    builtins.exec(ready.get(zlib.crc32(text.encode()), text), globals, locals)
