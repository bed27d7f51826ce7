"""The wheel in an empty virtual environment: its command runs with nothing else
installed, and pictures with the extra.
"""

import importlib.metadata
import json
import os
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest
from PIL import Image

from builder.wheel import build_wheel
from tests.conftest import BUILT, ROOT

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel():
    return build_wheel(ROOT, BUILT / "wheel")


@pytest.fixture(scope="module")
def bare(wheel, tmp_path_factory):
    """An environment that holds the wheel alone, as pip installs it."""
    folder = tmp_path_factory.mktemp("bare")
    venv.create(folder, with_pip=False)
    pip = [sys.executable, "-m", "pip", "--python", str(folder / "bin" / "python"), "--disable-pip-version-check"]
    subprocess.run([*pip, "install", "--quiet", "--no-index", "--no-deps", str(wheel)], check=True)
    return folder


def run(folder, *arguments, typed=""):
    """Run the installed command far from the checkout."""
    environment = {"PATH": str(folder / "bin"), "HOME": str(folder)}
    return subprocess.run(
        [folder / "bin" / "decalwright", *arguments],
        cwd=folder,
        env=environment,
        input=typed,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_environment_holds_nothing_else(bare):
    listed = subprocess.run(
        [bare / "bin" / "python", "-c", "import importlib.metadata as m; print([d.name for d in m.distributions()])"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert listed.stdout == "['decalwright']\n"


def test_the_command_lists_every_calculator_by_its_own_name(bare):
    listed = run(bare, "list", "--json")
    here = subprocess.run(
        [sys.executable, "-m", "calculators", "list", "--json"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert (listed.returncode, listed.stdout, listed.stderr) == (0, here.stdout, "")
    assert run(bare, "--help").stdout.startswith("usage: decalwright ")


def test_the_command_answers_from_the_tables_in_the_wheel(bare):
    # OO is 4 mm to the foot of 304.8 mm, so 1 m is 4 / 304.8 of that.
    asked = run(bare, "run", "scale-size", "--input", "-", typed=json.dumps({"full_size_mm": "1 m", "scale": "OO"}))
    assert asked.returncode == 0, asked.stdout + asked.stderr
    assert json.loads(asked.stdout)["result"]["model_size_mm"] == pytest.approx(1000 * 4 / 304.8)


def test_a_picture_without_the_extra_says_what_to_install(bare, tmp_path):
    Image.new("RGBA", (640, 480), "#7a2232").save(tmp_path / "crest.png")
    for calculator in ("clean-picture", "picture-check", "trace"):
        asked = run(bare, "run", calculator, "--file", f"picture={tmp_path / 'crest.png'}")
        assert asked.returncode == 2, (calculator, asked.stdout, asked.stderr)
        (problem,) = json.loads(asked.stdout)["problems"]
        assert problem["hint"] == "Install decalwright[pictures]: it reads pictures and writes PDF."
        assert asked.stderr == ""


def test_pictures_are_read_with_the_extra(bare, wheel, tmp_path):
    """The packages of the extra, as they are installed here, beside the wheel."""
    distribution = importlib.metadata.PathDistribution.at(
        next(Path(bare).glob("lib/*/site-packages/decalwright-*.dist-info"))
    )
    extra = [each for each in distribution.requires or () if 'extra == "pictures"' in each]
    assert sorted(each.split(";")[0].rstrip("=<>0123456789. ") for each in extra) == ["pillow", "pydyf", "rectpack"]
    folder = tmp_path / "with-pictures"
    shutil.copytree(bare, folder, symlinks=True)
    site = next(folder.glob("lib/*/site-packages"))
    for package in ("PIL", "pillow.libs", "pydyf"):
        source = Path(importlib.metadata.distribution("pillow").locate_file(package))
        if source.exists():
            os.symlink(source, site / package)
    Image.new("RGBA", (640, 480), "#7a2232").save(tmp_path / "crest.png")
    script = "import sys; from calculators.__main__ import command; sys.exit(command())"
    command = [
        folder / "bin" / "python",
        "-c",
        script,
        "run",
        "picture-check",
        "--file",
        f"picture={tmp_path / 'crest.png'}",
        "--out",
        str(tmp_path),
    ]
    asked = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert asked.returncode == 0, asked.stdout + asked.stderr
    assert any(
        (tmp_path / file["name"]).read_bytes().startswith(b"%PDF")
        for file in json.loads(asked.stdout)["files"]
        if file["name"].endswith(".pdf")
    )


@pytest.mark.parametrize("arguments", [["list"], ["show", "resolution"], ["list", "--json"]], ids=" ".join)
def test_a_closed_pipe_prints_no_trace(bare, arguments):
    read, write = os.pipe()
    os.close(read)
    ran = subprocess.run(
        [bare / "bin" / "decalwright", *arguments], stdout=write, stderr=subprocess.PIPE, text=True, check=False
    )
    os.close(write)
    assert (ran.returncode, ran.stderr) == (141, "")


def test_an_early_closed_reader_prints_no_trace(bare):
    ran = subprocess.run(
        ["sh", "-c", "decalwright list --json | head -1"],
        env={"PATH": f"{bare / 'bin'}:/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (ran.stdout, ran.stderr) == ("[\n", "")


def test_pip_builds_the_same_wheel_from_a_checkout(wheel, tmp_path):
    checkout = tmp_path / "checkout"
    for name in ("calculators", "data", "content/demo"):
        shutil.copytree(ROOT / name, checkout / name, ignore=shutil.ignore_patterns("__pycache__"))
    (checkout / "builder").mkdir()
    for name in (
        "pyproject.toml",
        "setup.py",
        "LICENSE",
        "builder/__init__.py",
        "builder/listing.py",
        "builder/wheel.py",
    ):
        shutil.copyfile(ROOT / name, checkout / name)
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "wheel", "--quiet", "--no-deps", "--no-index"]
    subprocess.run([*pip, "--no-build-isolation", "--wheel-dir", str(tmp_path), str(checkout)], check=True)
    by_pip = _contents(next(tmp_path.glob("*.whl")))
    assert by_pip == _contents(wheel)
    assert any(name.endswith("/scales.json") for name in by_pip)


def _contents(wheel: Path) -> dict[str, bytes]:
    """Return the files of a wheel that are installed, by name."""
    with zipfile.ZipFile(wheel) as archive:
        return {name: archive.read(name) for name in archive.namelist() if ".dist-info/" not in name}
