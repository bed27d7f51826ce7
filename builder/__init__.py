"""Makes the site from content, data and calculators."""

# Keep this file to syntax of any Python 3, so that an older version prints our message instead of a syntax error.
import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever calls it may have an older one
    sys.exit(
        "The builder needs Python 3.11 or newer, and this is {}.{}. `make check` finds a newer one and sets up .venv; "
        "afterwards call .venv/bin/python -m builder".format(*sys.version_info[:2])
    )
