"""python -m builder build | check | new | describe | settle | serve | preview: the site, from the command line."""

from __future__ import annotations

import argparse
import gc
import os
import sys
import time
from pathlib import Path

from builder.mistakes import Mistakes, Unable, stop_for

ROOT = Path(__file__).resolve().parent.parent


def main(arguments: list[str] | None = None) -> int:
    """Run one command and return its exit code: 0, or 1 with every mistake, or what
    stood in the way, on standard error.
    """
    asked = _parser().parse_args(arguments)
    # Use the tools installed beside this Python even if its folder is not on PATH.
    os.environ["PATH"] = f"{Path(sys.executable).parent}{os.pathsep}{os.environ.get('PATH', '')}"
    try:
        code: int = asked.run(asked)
        return code
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] in ("builder", "calculators"):
            raise
        print(
            f"This Python has no package '{error.name}'. `make check` sets up one that has: .venv/bin/python -m "
            "builder",
            file=sys.stderr,
        )
        return 1
    except Mistakes as mistakes:
        for text in mistakes.texts:
            print(text, file=sys.stderr)
        print(f"{len(mistakes.texts)} to put right", file=sys.stderr)
        return 1
    except Unable as unable:
        print(f"The site was not made: {unable}", file=sys.stderr)
        return 1


def _path(text: str) -> Path:
    # Absolute, since some steps of the build run in other folders.
    return Path(text).resolve()


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m builder", description=__doc__)
    commands = parser.add_subparsers(required=True, metavar="build|check|new|describe|settle|serve|preview")

    build = commands.add_parser("build", help="make the site")
    build.set_defaults(run=_build)
    build.add_argument("--site-url", default="http://127.0.0.1:8000/", help="the address that the site will have")
    build.add_argument("--repo-url", default="", help="where the sources are, for the links that edit a page")
    build.add_argument("--out", type=_path, default=ROOT / "site", help="the folder of the site")
    build.add_argument(
        "--include",
        type=_path,
        action="append",
        default=[],
        metavar="DIR",
        help="a package folder of further calculators",
    )
    build.add_argument("--no-offline", dest="offline", action="store_false", help="without the offline worker")
    build.add_argument("--no-snapshot", dest="snapshot", action="store_false", help="without the memory snapshot")
    build.add_argument("--legible", action="store_true", help="with the scripts' own names and lines left in them")
    build.add_argument("--scratch", type=_path, default=ROOT / "build", help="the folder to work in")

    check = commands.add_parser("check", help="look the data over")
    check.set_defaults(run=_check)

    new = commands.add_parser("new", help="ask for the parts of a row, and write it into its table")
    new.set_defaults(run=_new)
    new.add_argument("table", help="the name of the table: a file of data/ without .yaml")

    describe = commands.add_parser(
        "describe", help="say what each part of a row means, and show a row; without a table, list the tables"
    )
    describe.set_defaults(run=_describe)
    describe.add_argument("table", nargs="?", default="", help="the name of the table: a file of data/ without .yaml")

    settle = commands.add_parser("settle", help="write the schemas, and the list of ids that stay for ever")
    settle.set_defaults(run=_settle)

    for name, run, words in (
        ("serve", _serve, "serve the site and make it again at every change"),
        ("preview", _preview, "make the site as it is published, and serve it"),
    ):
        command = commands.add_parser(name, help=words)
        command.set_defaults(run=run)
        command.add_argument("--port", type=int, default=8000)
    return parser


def _build(asked: argparse.Namespace) -> int:
    from filelock import FileLock

    from builder.site import prepare, publish

    started = time.monotonic()
    # A build makes millions of small objects and then exits, so the garbage collector only costs time.
    gc.disable()
    asked.scratch.mkdir(parents=True, exist_ok=True)
    # Two builds in one scratch folder would overwrite each other's files.
    with FileLock(asked.scratch / ".lock"):
        prepared = prepare(
            ROOT, include=asked.include, scratch=asked.scratch, snapshot=asked.snapshot, legible=asked.legible
        )
        publish(prepared, ROOT, asked.out, site_url=asked.site_url, repo_url=asked.repo_url, offline=asked.offline)
    print(f"{asked.out} made in {time.monotonic() - started:.1f} s")
    return 0


def _check(asked: argparse.Namespace) -> int:
    from builder.check import check

    stop_for(check(ROOT))
    print("The data is in order. CONTRIBUTING.md says how to send it")
    return 0


def _new(asked: argparse.Namespace) -> int:
    from builder.new import new_row

    new_row(ROOT, asked.table)
    return 0


def _describe(asked: argparse.Namespace) -> int:
    from builder.describe import described, described_tables

    print(described(ROOT, asked.table) if asked.table else described_tables(), end="")
    return 0


def _settle(asked: argparse.Namespace) -> int:
    from builder.check import check, write_ids
    from builder.schemas import write_schemas

    stop_for(check(ROOT))
    for path in (*write_schemas(ROOT), write_ids(ROOT)):
        print(path.relative_to(ROOT))
    return 0


def _serve(asked: argparse.Namespace) -> int:
    from builder.serve import serve

    serve(ROOT, asked.port)
    return 0


def _preview(asked: argparse.Namespace) -> int:
    from builder.serve import preview

    preview(ROOT, asked.port)
    return 0


if __name__ == "__main__":
    from calculators.__main__ import until_closed

    sys.exit(until_closed(main))
