"""Reading only the relevant parts of a page finds the same as parsing the whole page."""

import pytest

from builder.policy import read_page, read_whole

SNIPPETS = [
    "<p>words</p>",
    "<script>a()</script><SCRIPT>b()</SCRIPT >",
    "<script type='module'>a('</p>')</script>",
    '<script type="application/json">{"on": "x"}</script>',
    '<script src="a.js"></script>',
    '<script title=">">a()</script>',
    "<script\n>a()\n</script>",
    "<!-- <script>a()</script> -->",
    "<script>a()",
    '<script title="x>a()</script>',
    '<a title=">" onclick="a()">',
    "<a/onclick=a()>",
    '<a href="x"onclick="a()">',
    "<a data-onclick=1 content=2 data-style=3>",
    "<p>font = x, only = y</p>",
    "<p STYLE='color: red'>",
    '<p style = "x">',
    "<style>p {}</style>",
    '<img alt=">" src="https://example.org/a.png">',
    '<IMG SRC="//example.org/a.png">',
    '<img src="//example.org/a.png',
    "<link rel=stylesheet href=//example.org/a.css>",
    '<link rel="canonical" href="https://example.org/">',
    '<object data="//example.org/a"></object><embed src="//example.org/b">',
    "<?php ?><![CDATA[ <script>a()</script> ]]>",
    "<title><script>a()</script></title>",
    "<textarea><img src=//example.org/></textarea>",
]


@pytest.mark.parametrize("snippet", SNIPPETS)
def test_partial_and_whole_reading_agree(snippet):
    page = (
        f"<!doctype html><html><head><meta charset='utf-8'></head><body>\n{snippet}\n<img src='a.png'>\n</body></html>"
    ).encode()
    whole = read_whole(page)
    found = read_page(page)
    assert found.forbidden == whole.forbidden
    # An extra script in the policy does no harm; a missing one would break a page.
    assert set(whole.scripts) <= set(found.scripts)
