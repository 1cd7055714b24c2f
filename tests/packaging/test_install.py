"""What is built of the source installs on every Python that is promised, away from the source."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from readiness import __version__
from readiness.guide import TOPICS

ROOT = Path(__file__).parents[2]
PYTHONS = ("3.11", "3.12", "3.13")
OWN = f"{sys.version_info.major}.{sys.version_info.minor}"
ON = "2026-04-28"


def ran(*command: object, at: Path) -> str:
    done = subprocess.run(
        [str(word) for word in command], cwd=at, capture_output=True, text=True, check=False,
        env={"PATH": "/usr/bin:/bin", "HOME": str(at), "PYTHONWARNINGS": "error::SyntaxWarning"},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the wheel and the source distribution, built of what is in version control."""
    folder = tmp_path_factory.mktemp("built")
    source = folder / "source"
    files = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\0")
    for name in filter(None, files):
        if not name.startswith("tests/") and (ROOT / name).is_file():
            (source / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, source / name)
    ran(sys.executable, "-m", "hatchling", "build", "-d", folder, at=source)
    shutil.rmtree(source)
    return folder


def of_kind(built: Path, kind: str) -> Path:
    (found,) = built.glob(f"*{kind}")
    return found


def interpreters(version: str) -> Iterator[Path]:
    """Where a Python of this version may be: this one, on the path, and pyenv's."""
    if sys.version_info[:2] == tuple(map(int, version.split("."))):
        yield Path(sys.executable)
    if found := shutil.which(f"python{version}"):
        yield Path(found)
    yield from sorted(Path("~/.pyenv/versions").expanduser().glob(f"{version}.*/bin/python"))


def python(version: str) -> Path:
    for each in interpreters(version):
        asked = subprocess.run([each, "-c", "import venv"], capture_output=True, check=False)
        if asked.returncode == 0:
            return each
    pytest.skip(f"there is no Python {version} here")


@pytest.mark.long
def test_wheel_and_source_hold_what_the_program_reads_and_no_tests(built: Path) -> None:
    with zipfile.ZipFile(of_kind(built, ".whl")) as wheel:
        held = set(wheel.namelist())
    assert {name.split("/")[0] for name in held} == {
        "readiness",
        f"readiness-{__version__}.dist-info",
    }
    read = {"demo_data/estate.jsonl", "demo_data/estate.toml", "rules/default.toml",
            "settings/readiness.toml", "tui/readiness.tcss", "report/pages/base.html"}  # fmt: skip
    read |= {f"guide/topics/{topic}.md" for topic in TOPICS}
    assert {f"readiness/{name}" for name in read} <= held
    with tarfile.open(of_kind(built, ".tar.gz")) as source:
        tops = {name.split("/")[1] for name in source.getnames() if "/" in name}
    assert tops >= {"readiness", "demo_data", "README.md", "LICENSE", "pyproject.toml"}
    assert not tops & {"tests", ".ci", ".venv"}


def test_the_pythons_that_are_promised_are_those_tried() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    named = [re.fullmatch(r"Programming Language :: Python :: (3\.\d+)", line)
             for line in project["classifiers"]]  # fmt: skip
    assert tuple(found[1] for found in named if found) == PYTHONS
    assert project["requires-python"] == f">={PYTHONS[0]}"


@pytest.mark.long
@pytest.mark.parametrize("version", PYTHONS)
def test_it_installs_and_shows_its_demo(built: Path, tmp_path: Path, version: str) -> None:
    if version != OWN and os.environ.get("READINESS_PYTHONS") != "all":
        pytest.skip(f"Python {version} is tried too with READINESS_PYTHONS=all: a minute each")
    ran(python(version), "-m", "venv", "home", at=tmp_path)
    own = tmp_path / "home" / "bin"
    wheel, source = of_kind(built, ".whl"), of_kind(built, ".tar.gz")
    ran(own / "python", "-m", "pip", "install", "--quiet", wheel, at=tmp_path)
    works(own, tmp_path, "of-wheel")
    again = ("--force-reinstall", "--no-deps", source)
    ran(own / "python", "-m", "pip", "install", "--quiet", *again, at=tmp_path)
    works(own, tmp_path, "of-source")


def works(own: Path, at: Path, name: str) -> None:
    """The command and the module do all that needs files of the package."""
    where = ran(own / "python", "-c", "import readiness; print(readiness.__file__)", at=at)
    assert Path(where.strip()).is_relative_to(own.parent)
    program = (own / "python", "-m", "readiness")
    assert ran(*program, "--version", at=at) == f"readiness {__version__}\n"
    book = at / f"{name}.duckdb"
    assert "GO for" in ran(own / "readiness", "demo", "--book", book, "--on", ON, at=at)
    how = ("--book", book, "--on", ON)
    assert len(json.loads(ran(*program, "board", "--json", *how, at=at))["bulls"]) == 36
    ran(*program, "board", "--html", at / f"{name}.html", *how, at=at)
    ran(*program, "visits", *how, at=at)
    ran(*program, "export", at / name, *how, at=at)
    assert "board" in ran(*program, "guide", at=at)
    assert ran(*program, "man", at=at).startswith(".TH READINESS")
    assert "complete" in ran(*program, "completion", "bash", at=at)
    assert "readiness.toml" in ran(*program, "settings", at=at)
    ran(own / "python", "-c", "from readiness.tui.app import ReadinessApp", at=at)
