"""The sum of products, which Python's library has since 3.12."""

import sys

if sys.version_info >= (3, 12):
    from math import sumprod
else:
    from collections.abc import Iterable
    from math import fsum
    from operator import mul

    def sumprod(first: Iterable[float], second: Iterable[float], /) -> float:
        """Return the sum of the products of two sequences of one length, rounded once a product and once at the end."""
        return fsum(map(mul, first, second))
