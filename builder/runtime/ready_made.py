# Appended to Python's dataclasses.py (see pack.py). A dataclass generates text and compiles it whenever its module is
# imported, which takes longer than the rest of the import. For our modules, pack.py compiles these texts in advance.
import builtins
import zlib


def exec(text: str, globals: "dict[str, object]", locals: "dict[str, object]") -> None:
    """Execute a text as dataclasses do, or its code if pack.py has compiled it."""
    ready = dict(globals.get("__ready_made__", ()))  # type: ignore[call-overload]  # pairs, by pack.py
    builtins.exec(ready.get(zlib.crc32(text.encode()), text), globals, locals)
