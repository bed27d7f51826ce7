"""The command line, as a shell would use it."""

import json
import subprocess
import sys

import pytest
from PIL import Image

from tests.conftest import ROOT


def run(*arguments: str, typed: object = None) -> tuple[int, object, str]:
    done = subprocess.run(
        [sys.executable, "-m", "calculators", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        input=None if typed is None else typed if isinstance(typed, str) else json.dumps(typed),
        check=False,
    )
    try:
        return done.returncode, json.loads(done.stdout), done.stderr
    except json.JSONDecodeError:
        return done.returncode, done.stdout, done.stderr


@pytest.fixture
def picture(tmp_path):
    path = tmp_path / "crest.png"
    Image.new("RGBA", (640, 480)).save(path)
    return path


def test_list():
    code, listed, _ = run("list", "--json")
    assert code == 0
    assert {"scale-size", "full-size", "resolution"} <= {each["id"] for each in listed}
    assert "resolution" in run("list")[1]


def test_show_names_fields_ranges_and_results():
    code, output, _ = run("show", "resolution")
    assert code == 0
    for words in ("width_px", "1 to 100000 px", "default 200", "printed_ppi", "soft, hard"):
        assert words in output
    assert run("show", "resolution", "--json")[1]["id"] == "resolution"


def test_run_result():
    code, reply, _ = run(
        "run", "resolution", "--input", "-", typed={"width_px": "254", "height_px": "254", "width_mm": "1 in"}
    )
    assert code == 0
    assert reply["outcome"] == "result"
    assert reply["result"]["printed_ppi"] == pytest.approx(254)
    assert reply["files"] == []


def test_run_reads_a_file_of_typed_texts(tmp_path):
    path = tmp_path / "typed.json"
    path.write_text('{"full_size_mm": "12 in", "scale": "1:72"}', "utf-8")
    assert run("run", "scale-size", "--input", str(path))[1]["result"]["model_size_mm"] == pytest.approx(
        4.2333, abs=5e-5
    )


def test_picture_fills_the_pixel_size(picture):
    code, reply, _ = run(
        "run", "resolution", "--input", "-", "--file", f"picture={picture}", typed={"width_mm": "25.4"}
    )
    assert code == 0
    assert reply["result"]["printed_ppi"] == pytest.approx(640)


def test_picture_that_contradicts_what_is_typed(picture):
    code, reply, _ = run("run", "resolution", "--input", "-", "--file", f"picture={picture}", typed={"width_px": "100"})
    assert code == 2
    assert [problem["field"] for problem in reply["problems"]] == ["width_px"]
    assert reply["problems"][0]["text"] == "Picture width is 640 in the picture, and you typed 100"


def test_out_writes_the_figure(tmp_path):
    code, reply, _ = run("run", "resolution", "--out", str(tmp_path / "made"))
    assert code == 0
    (file,) = reply["files"]
    assert (tmp_path / "made" / file["name"]).read_text("utf-8").startswith("<svg")


def test_problems_exit_with_2_and_come_all_at_once():
    code, reply, _ = run(
        "run", "resolution", "--input", "-", typed={"width_px": "0", "width_mm": "1,000", "edges": "fuzzy"}
    )
    assert code == 2
    assert reply["outcome"] == "problems"
    assert [problem["field"] for problem in reply["problems"]] == ["width_px", "width_mm", "edges"]
    assert set(reply["problems"][0]) == {"field", "text", "hint"}


@pytest.mark.parametrize(
    ("arguments", "typed", "text"),
    [
        (("run", "resolution", "--input", "-"), "not json", "The input takes a JSON object of texts"),
        (("run", "resolution", "--input", "-"), [1], "The input takes a JSON object of texts"),
        (("run", "resolution", "--input", "-"), {"width_px": 200}, "Picture width takes text"),
        (
            ("run", "resolution", "--input", "nowhere.json"),
            None,
            "The file nowhere.json cannot be read: No such file or directory",
        ),
        (
            ("run", "resolution", "--file", "picture=nowhere.png"),
            None,
            "The file nowhere.png cannot be read: No such file or directory",
        ),
        (("run", "resolution", "--file", "picture"), None, "Name a file as FIELD=PATH, not as “picture”"),
        (("run", "resolution", "--file", f"sheet={__file__}"), None, "No file belongs to “sheet”"),
        (
            ("run", "resolution", "--file", f"picture={__file__}"),
            None,
            "test_command_line.py is not a picture that this page can read",
        ),
        (("run", "resolutions"), None, "There is no calculator “resolutions”"),
    ],
)
def test_an_invalid_request_is_a_problem(arguments, typed, text):
    code, reply, _ = run(*arguments, typed=typed)
    assert code == 2
    assert [problem["text"] for problem in reply["problems"]] == [text]


def test_svg_has_no_limit(tmp_path):
    path = tmp_path / "crest.svg"
    path.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>', "utf-8")
    code, reply, _ = run("run", "resolution", "--file", f"picture={path}")
    assert (code, reply["result"]["verdict"], reply["result"]["printed_ppi"]) == (0, "sharp", None)
