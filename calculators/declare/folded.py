"""What is folded away until a reader opens it."""

from __future__ import annotations

import dataclasses
from typing import Any

__all__ = ["folded"]


def folded(made: Any) -> Any:
    """Return a declared field or result, such as ``number(…)``, as one that is folded away until a reader opens it."""
    ((use, each),) = made.metadata.items()
    default = {} if made.default is dataclasses.MISSING else {"default": made.default}
    return dataclasses.field(metadata={use: dataclasses.replace(each, folded=True)}, **default)
