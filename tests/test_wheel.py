"""The wheel, built and installed where no clone is near: tables, workbooks and panel come out of it alone."""

import json
import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

CLONE = Path(__file__).parents[1]

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """Return the wheel of this clone."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=CLONE, check=True, capture_output=True, text=True)
    (found,) = folder.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """Return the Python of a new environment that holds the wheel; the other packages are lent to it."""
    folder = tmp_path_factory.mktemp("fresh") / "env"
    venv.create(folder, with_pip=False)
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    lend = "import sysconfig; print(sysconfig.get_path('purelib'))"
    place = Path(subprocess.run([python, "-c", lend], capture_output=True, text=True, check=True).stdout.strip())
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(place)  # what an installer does with a wheel of plain Python
    # a path in a .pth file lends packages, but not what their own .pth files say: this clone stays out
    (place / "lent.pth").write_text(sysconfig.get_path("purelib"))
    return python


def run(python, *arguments, folder):
    """Return what a program writes, run far from the clone."""
    env = {**os.environ, "JUPYTER_PATH": str(Path(sys.prefix) / "share" / "jupyter")}
    env.pop("PYTHONPATH", None)
    done = subprocess.run([python, *arguments], cwd=folder, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_wheel_holds_every_table_and_workbook_and_no_test(wheel):
    """Beside the package itself there is nothing but its own description."""
    with zipfile.ZipFile(wheel) as packed:
        names = set(packed.namelist())
        told = packed.read(next(name for name in names if name.endswith(".dist-info/METADATA"))).decode()
    for kind, pattern in (("data", "*.csv"), ("workbooks", "*.ipynb")):
        assert {f"gardenframe/{kind}/{path.name}" for path in (CLONE / kind).glob(pattern)} <= names
    for path in (CLONE / "gardenframe").rglob("*.py"):
        assert path.relative_to(CLONE).as_posix() in names
    assert {name.split("/")[0].split("-")[0] for name in names} == {"gardenframe"}
    assert not [name for name in names if name.rsplit("/", 1)[-1].startswith(("test_", "conftest"))]
    assert "License-Expression: MIT" in told
    assert "Requires-Python: >=3.11" in told


def test_a_table_and_a_plan_come_from_inside_the_wheel(installed, tmp_path):
    """The tables lie in the new environment, and a plan made of them costs what it costs here."""
    import gardenframe
    from gardenframe.materials.members import load_members

    code = (
        "import json, gardenframe, gardenframe.tables as t; from gardenframe.materials.members import load_members;"
        "plan = gardenframe.plan(gardenframe.builds.Trellis());"
        "print(json.dumps([str(t.data_folder()), len(load_members()), plan.cost.usual]))"
    )
    folder, members, cost = json.loads(run(installed, "-c", code, folder=tmp_path))
    assert Path(folder).is_relative_to(installed.parents[1])
    assert members == len(load_members())
    assert cost == gardenframe.plan(gardenframe.builds.Trellis()).cost.usual


def test_its_workbooks_are_copied_and_a_panel_starts(installed, tmp_path):
    """`--check` finds all that is needed, and the workbooks come out byte for byte."""
    said = run(installed, "-m", "gardenframe", "--check", folder=tmp_path)
    assert f" in {installed.parents[1]}" in next(line for line in said.splitlines() if "workbooks: " in line)
    assert said.endswith("All is there.\n")
    code = "from pathlib import Path; from gardenframe.teaching import copies; copies.copy(Path('mine'))"
    run(installed, "-c", code, folder=tmp_path)
    for path in (CLONE / "workbooks").glob("*.ipynb"):
        assert (tmp_path / "mine" / path.name).read_bytes() == path.read_bytes()
