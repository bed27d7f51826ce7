"""Well-made files with bytes changed, cut out, doubled and spliced: read, or refused in words that name the file."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.hostile.readers import READERS
from tests.hostile.seeds import seeds

pytestmark = pytest.mark.slow

#: Values that fields of files break on.
TELLING = (
    b"\0",
    b"\xff",
    b"\x7f",
    b"\x80",
    b"\1",
    b"\0\0\0\0",
    b"\xff\xff\xff\xff",
    b"\x7f\xff\xff\xff",
    b"\xff\xd8",
    b"<",
    b">",
)


@st.composite
def mutated(draw) -> tuple[str, bytes]:
    """A file name and a seed that was changed in up to six places, most of them near its beginning."""
    kind = draw(st.sampled_from(sorted(seeds())))
    data = bytearray(seeds()[kind])
    for _change in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, min(len(data), draw(st.sampled_from([40, 400, 1 << 20])))))
        match draw(st.sampled_from(["flip", "put", "cut", "end", "double", "splice"])):
            case "flip" if at < len(data):
                data[at] ^= draw(st.integers(1, 255))
            case "put":
                value = draw(st.sampled_from(TELLING) | st.binary(min_size=1, max_size=8))
                data[at : at + len(value)] = value
            case "cut":
                del data[at : at + draw(st.integers(1, 64))]
            case "end":
                del data[at:]
            case "double":
                data[at:at] = data[at : at + draw(st.integers(1, 200))] * draw(st.integers(1, 30))
            case "splice":
                other = seeds()[draw(st.sampled_from(sorted(seeds())))]
                start = draw(st.integers(0, len(other)))
                data[at : at + draw(st.integers(0, 64))] = other[start : start + draw(st.integers(1, 400))]
    return f"mutated.{kind}", bytes(data)


@settings(max_examples=300, deadline=2000, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(mutated())
def test_every_mutated_file_is_read_or_refused(file):
    name, data = file
    for reader in READERS:
        if reader.works_long:
            continue
        text = reader.read(name, data)
        assert text is None or name in text
