"""Markup is escaped as Python's own library does it (html.escape)."""

from __future__ import annotations

import html

import pytest
from hypothesis import given
from hypothesis import strategies as drawn

from calculators.markup import escape


@pytest.mark.parametrize("quote", [True, False])
@given(text=drawn.text(alphabet=drawn.sampled_from("&<>\"'; amplt#x27é\n")))
def test_text_is_escaped_like_the_standard_library(text, quote):
    assert escape(text, quote=quote) == html.escape(text, quote=quote)
