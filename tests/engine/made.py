"""Engines for tests: the site's own, and one with further calculators."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
from base64 import b85encode
from pathlib import Path
from typing import Any

from tests.conftest import ROOT

#: The folder of an engine's site, and the engine's configuration.
Engine = tuple[Path, dict[str, Any]]

CALCULATOR = """
from dataclasses import dataclass
from calculators.declare import Calculator, words, yes_no

@dataclass(frozen=True, kw_only=True)
class Inputs:
    asked: bool = yes_no("Asked", default=True)

@dataclass(frozen=True, kw_only=True)
class Outputs:
    got: str = words("Got")

def compute(inputs: Inputs) -> Outputs:
    {body}

MADE = Calculator(id="{id}", title="What?", summary="For a test.", stage="{stage}", about="neither",
                  inputs=Inputs, outputs=Outputs, compute=compute, needs={needs})
"""

#: What calculators of the stage rescue do, and the libraries that they need, by their ids.
CALCULATORS = {
    "needs-a-library": (
        "import iniconfig; return Outputs(got=iniconfig.IniConfig('a', '[one]').sections.__class__.__name__)",
        ("iniconfig",),
    ),
    "imports-late": (
        (
            "if inputs.asked: return Outputs(got='')\n    from xml.etree import ElementTree; return "
            "Outputs(got=ElementTree.fromstring('<a>b</a>').text)"
        ),
        (),
    ),
    "is-ready-made": (
        (
            "from types import CodeType; inside = lambda code: "
            "{id(code)}.union(*(inside(each) for each in code.co_consts"
            " if isinstance(each, CodeType))); ready = set().union(*(inside(code) for _, code in __ready_made__));"
            " return Outputs(got=str([id(each.__init__.__code__) in ready for each in (Inputs, Outputs)]))"
        ),
        (),
    ),
    "draws-a-lot": ("import random; return Outputs(got=str(random.random()))", ()),
}

#: Calculators of the stage rescue that import a module of another stage by a computed name.
STRAYING = {
    "of-a-stage": "calculators.underlay.chart",
    "of-a-shared-package": "calculators.colour.seen",
    "of-none": "calculators.colour.there_is_none",
}

BUILD = """
import json, sys
from pathlib import Path
root, folder, *packages = (Path(each) for each in sys.argv[1:])
sys.path[:0] = [str(root), *(str(package.parent) for package in packages)]
from builder.runtime import build_runtime
from builder.wheel import build_wheel
from calculators import catalogue
for package in packages:
    catalogue.include(package.name)
print(json.dumps(build_runtime(root, folder / "engine", build_wheel(root, folder / "wheel"), packages)))
"""


def build(folder: Path, *packages: Path, **environment: str) -> dict[str, Any]:
    """Build the runtime with further packages below ``folder`` and return its configuration."""
    made = subprocess.run(
        [sys.executable, "-c", BUILD, str(ROOT), str(folder), *map(str, packages)],
        capture_output=True,
        text=True,
        env={**os.environ, **environment},
        check=False,
    )
    assert made.returncode == 0, made.stderr[-3000:]
    return json.loads(made.stdout)


def write_package(folder: Path) -> None:
    """Write the package ``folder`` of the further calculators."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "__init__.py").write_text("")
    importing = "import importlib; return Outputs(got=importlib.import_module('.'.join({!r})).__name__)"
    straying = {id: (importing.format(name.split(".")), ()) for id, name in STRAYING.items()}
    for id, (body, needs) in {**CALCULATORS, **straying}.items():
        text = CALCULATOR.format(id=id, stage="rescue", body=body, needs=needs)
        (folder / f"{id.replace('-', '_')}.py").write_text(text)
    _add_stage(folder)


def _add_stage(folder: Path) -> None:
    """Add a calculator of a further stage to a package, with incompressible code and data, half each."""
    drawn = random.Random(7)
    code = b85encode(drawn.randbytes(90_000)).decode().replace("\\", "/")
    body = (
        f"import os.path; return Outputs(got=str(len({code!r}) + "
        "os.path.getsize(os.path.join(os.path.dirname(__file__), 'room.bin'))))"
    )
    (folder / "takes_room.py").write_text(CALCULATOR.format(id="takes-room", stage="sheet", body=body, needs=()))
    (folder / "room.bin").write_bytes(drawn.randbytes(120_000))
