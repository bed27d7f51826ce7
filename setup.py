"""Adds the compiled tables to a wheel that pip builds from a checkout. builder/wheel.py adds them for the page."""

import sys
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py

ROOT = Path(__file__).resolve().parent


class WithTables(build_py):
    """Copies the packages, and writes beside them what a checkout reads from ``data/``."""

    def run(self) -> None:
        super().run()
        if self.editable_mode:
            return
        sys.path.insert(0, str(ROOT))
        from builder.wheel import compiled

        for name, content in compiled().items():
            target = Path(self.build_lib, "calculators", name)
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)


setup(cmdclass={"build_py": WithTables})
