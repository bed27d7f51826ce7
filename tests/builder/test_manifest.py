"""The manifest describes an installable app, and its icons match another renderer."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import numpy
import pytest
import resvg_py
from PIL import Image

from builder.manifest import ICONS, NAME, SHARING, drawn, write_manifest

ROOT = Path(__file__).resolve().parents[2]
DRAWINGS = ROOT / "theme" / "icons"


@pytest.fixture(scope="module")
def written(tmp_path_factory) -> Path:
    out = tmp_path_factory.mktemp("pages")
    write_manifest(ROOT, out)
    return out


def test_the_manifest_has_what_installing_asks_for(written):
    """Chromium asks for a name, a start page in scope, display, and icons of 192 and 512 px (its criteria for
    installing; from memory).
    """
    manifest = json.loads((written / NAME).read_text("utf-8"))
    assert manifest["name"] == manifest["short_name"] == "Decalwright"
    assert len(manifest["short_name"]) <= 12
    assert manifest["display"] == "standalone"
    assert manifest["id"] == manifest["start_url"] == manifest["scope"] == "./"
    sizes = {(icon["sizes"], icon["purpose"]) for icon in manifest["icons"]}
    assert {("192x192", "any"), ("512x512", "any"), ("192x192", "maskable"), ("512x512", "maskable")} <= sizes
    for icon in manifest["icons"]:
        if icon["type"] == "image/png":
            with Image.open(written / icon["src"]) as image:
                assert icon["sizes"] == f"{image.width}x{image.height}"
        else:
            assert (ROOT / "theme" / icon["src"]).is_file()


def test_shared_pictures_are_sent_to_a_page_of_the_site(written):
    target = json.loads((written / SHARING).read_text("utf-8"))["share_target"]
    assert (target["method"], target["enctype"]) == ("POST", "multipart/form-data")
    assert (ROOT / "content" / f"{target['action'].rstrip('/')}.md").is_file()
    (taken,) = target["params"]["files"]
    worker = (ROOT / "builder" / "templates" / "offline-shared.js").read_text("utf-8")
    assert f'getAll("{taken["name"]}")' in worker and f'new URL("{target["action"]}", ROOT)' in worker


def test_only_the_offline_worker_hands_out_the_share_target(written):
    """A static host cannot take a posted picture, so the manifest that it serves must not ask for one."""
    plain, sharing = (json.loads((written / name).read_text("utf-8")) for name in (NAME, SHARING))
    assert "share_target" not in plain
    assert {**plain, "share_target": sharing["share_target"]} == sharing
    worker = (ROOT / "builder" / "templates" / "offline-shared.js").read_text("utf-8")
    assert f'new URL("{NAME}", ROOT)' in worker and f'new URL("{SHARING}", ROOT)' in worker


@pytest.mark.parametrize(("name", "side"), sorted({(name, side) for name, side, _ in ICONS}))
def test_icons_are_drawn_as_another_renderer_draws_them(name, side):
    ours = numpy.asarray(Image.open(io.BytesIO(drawn(DRAWINGS / f"{name}.svg", side))).convert("RGBA"), int)
    sized = re.sub(
        r'width="48mm" height="48mm"', f'width="{side}" height="{side}"', (DRAWINGS / f"{name}.svg").read_text("utf-8")
    )
    theirs = numpy.asarray(Image.open(io.BytesIO(bytes(resvg_py.svg_to_bytes(svg_string=sized)))).convert("RGBA"), int)
    assert ours.shape == theirs.shape == (side, side, 4)
    # The colour of faint pixels means little. The other renderer states coverage at edges to within 0.13.
    ours, theirs = (each[..., :3] * each[..., 3:] / 255 for each in (ours, theirs))
    assert numpy.abs(ours - theirs).max() <= 0.13 * 255 + 2
    assert numpy.abs(ours - theirs).mean() < 1


def test_a_maskable_icon_stays_in_the_safe_zone():
    """Everything drawn is in the circle of 40 % of the side; the rest is opaque background (W3C manifest,
    maskable icons; from memory).
    """
    pixels = numpy.asarray(Image.open(io.BytesIO(drawn(DRAWINGS / "icon-maskable.svg", 256))).convert("RGBA"), int)
    ground = pixels[0, 0]
    assert ground[3] == 255
    rows, columns = numpy.nonzero((pixels != ground).any(-1))
    assert numpy.hypot(rows + 0.5 - 128, columns + 0.5 - 128).max() <= 0.4 * 256
