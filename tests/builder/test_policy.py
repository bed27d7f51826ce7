"""The content policy: expected hashes and directives come from the specification, not from our code."""

import pytest

from builder.mistakes import Mistakes
from builder.policy import policy, read_page, script_hash, write_policy

PAGE = '<!doctype html><html><head><meta charset="utf-8"><title>T</title></head><body>{}</body></html>'


def site_of(tmp_path, **bodies):
    for name, body in bodies.items():
        (tmp_path / name).mkdir()
        (tmp_path / name / "index.html").write_text(PAGE.format(body), "utf-8")
    return tmp_path


def test_the_hash_is_that_of_the_specification():
    # Content Security Policy Level 3, section 8.4 (usage of hashes): the script doSomething().
    assert script_hash("alert('Hello, world.');") == "'sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng='"


def test_line_endings_are_hashed_as_a_browser_reads_them():
    # HTML, section 13.2.3.5: carriage returns, alone or before a line feed, become line feeds on input.
    assert script_hash("a\r\nb\rc") == script_hash("a\nb\nc")


def test_only_what_runs_is_hashed():
    found = read_page(
        b"<script>one</script><script type=module>two</script><script type='text/javascript'>three</script>"
        b"<script type='application/json'>{}</script><script src='x.js'></script><script type=importmap>four</script>"
    )
    assert found.scripts == ["one", "two", "three", "four"]
    assert found.forbidden == []


def test_script_text_is_hashed_unchanged():
    text = '\n  if (a < b && c) { d("</p>&amp;<b style=x>"); }\n'
    found = read_page(f"<p>&amp;</p><script>{text}</script>".encode())
    assert found.scripts == [text]
    assert found.forbidden == []


def test_the_policy_is_the_decided_one():
    # shared design, "Site generator": the policy under which every part of the site works.
    assert policy([]) == (
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; "
        "font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action "
        "'none'"
    )


def test_one_policy_first_in_every_head(tmp_path):
    site = site_of(tmp_path, a="<script>one</script>", b="<script>two</script>")
    text = write_policy(site)
    assert script_hash("one") in text and script_hash("two") in text
    for name in "ab":
        html = (site / name / "index.html").read_text("utf-8")
        assert f'<head><meta http-equiv="Content-Security-Policy" content="{text}"><meta charset' in html


def test_writing_it_twice_changes_nothing(tmp_path):
    site = site_of(tmp_path, a="<script>one</script>")
    write_policy(site)
    once = (site / "a" / "index.html").read_bytes()
    write_policy(site)
    assert (site / "a" / "index.html").read_bytes() == once


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<p style="color: red">', "a/index.html:1: a style attribute on <p>. The content policy does not allow it"),
        ("<style>p {}</style>", "a/index.html:1: a <style> element. The content policy does not allow it"),
        (
            "\n<a onclick='x()'>",
            "a/index.html:2: an inline handler, onclick, on <a>. The content policy does not allow it",
        ),
        (
            '<img src="//example.org/a.png">',
            (
                "a/index.html:1: <img> loads //example.org/a.png, which is not on this site. "
                "The content policy does not allow it"
            ),
        ),
        (
            '<link rel="preload stylesheet" href="https://example.org/a.css">',
            (
                "a/index.html:1: <link> loads https://example.org/a.css, which is not on this site. "
                "The content policy does not allow it"
            ),
        ),
    ],
)
def test_forbidden_content_stops_the_build(tmp_path, body, message):
    with pytest.raises(Mistakes) as stopped:
        write_policy(site_of(tmp_path, a=body, b="<p>"))
    assert stopped.value.texts == [message]


@pytest.mark.parametrize(
    "body",
    ['<link rel="canonical" href="https://example.org/">', '<a href="https://example.org/">', '<img src="a.png">'],
)
def test_links_that_load_nothing_may_be_external(tmp_path, body):
    assert write_policy(site_of(tmp_path, a=body)) == policy([])


def test_the_encoding_stays_within_the_first_bytes(tmp_path):
    # HTML, section 4.2.5.4: the element with the encoding lies wholly within the first 1024 bytes.
    site = site_of(tmp_path, a="".join(f"<script>{number}</script>" for number in range(20)))
    with pytest.raises(Mistakes, match=r"a/index\.html: <meta charset> does not end within the first 1024 bytes"):
        write_policy(site)
