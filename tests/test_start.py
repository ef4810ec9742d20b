"""`python -m gardenframe`: a reader's folder, what is never overwritten, a sentence for each thing that stops it."""

import contextlib
import json
import os
import signal
import socket
import subprocess
import sys
import urllib.request
import webbrowser

import pytest

from gardenframe.errors import InputError
from gardenframe.teaching import copies, health, launch

PROGRAM = [sys.executable, "-m", "gardenframe"]


@pytest.fixture
def ours(tmp_path):
    """Return a folder that stands for the workbooks as shipped."""
    folder = tmp_path / "shipped"
    folder.mkdir()
    (folder / "01_one.ipynb").write_text("first edition")
    (folder / "02_two.ipynb").write_text("first edition")
    return folder


def what(found):
    """Return what became of each workbook."""
    return [copied.what for copied in found]


def test_workbooks_are_copied_whole_into_a_new_folder(tmp_path):
    """Every workbook that is shipped arrives byte for byte; a folder in a folder is made."""
    target = tmp_path / "beans" / "spring"
    assert set(what(copies.copy(target))) == {"copied"}
    for path in copies.shipped():
        assert (target / path.name).read_bytes() == path.read_bytes()


def test_an_edited_workbook_is_never_written_over(ours, tmp_path):
    """The reader's own stays; a newer one of ours is put beside it, and that one is not lost either once edited."""
    target = tmp_path / "mine"
    copies.copy(target, ours)
    (target / "01_one.ipynb").write_text("my own bed")
    assert what(copies.copy(target, ours)) == ["yours, kept", "as it was"]
    assert not list(target.glob("*.newer.*"))
    for path in ours.iterdir():
        path.write_text("second edition")
    first, second = copies.copy(target, ours)
    assert (first.what, first.newer, second.what) == ("yours, kept", "01_one.newer.ipynb", "renewed")
    assert (target / "01_one.ipynb").read_text() == "my own bed"
    assert (target / "01_one.newer.ipynb").read_text() == "second edition"
    (target / "01_one.newer.ipynb").write_text("my next bed")
    (ours / "01_one.ipynb").write_text("third edition")
    assert what(copies.copy(target, ours)) == ["yours, kept", "as it was"]
    assert (target / "01_one.ipynb").read_text() == "my own bed"
    assert (target / "01_one.newer.ipynb").read_text() == "my next bed"


@pytest.mark.parametrize("record", [None, "", "{", "[1]", '{"01_one.ipynb": 3}'])
def test_without_a_record_every_file_is_the_readers_own(ours, tmp_path, record):
    """A record that is lost, or broken by hand, never leads to a loss."""
    target = tmp_path / "mine"
    copies.copy(target, ours)
    (target / "01_one.ipynb").write_text("my own bed")
    (target / copies.RECORD).unlink() if record is None else (target / copies.RECORD).write_text(record)
    assert copies.copy(target, ours)[0].what == "yours, kept"
    assert (target / "01_one.ipynb").read_text() == "my own bed"


def test_a_workbook_thrown_away_comes_back(ours, tmp_path):
    """Whoever has spoilt a workbook deletes it and starts again."""
    copies.copy(tmp_path / "mine", ours)
    (tmp_path / "mine" / "02_two.ipynb").unlink()
    assert what(copies.copy(tmp_path / "mine", ours)) == ["as it was", "copied"]


def test_a_folder_that_cannot_be_written_is_said(tmp_path, monkeypatch, capsys):
    """A file in its place, a file on its way, and a folder that is closed to us: one sentence, no trace."""
    (tmp_path / "file").write_text("")
    for name in ("file", "file/deeper"):
        assert launch.main([str(tmp_path / name), "--no-browser"]) == 1
        said = capsys.readouterr().err
        assert said.startswith(f"folder: got '{tmp_path}"[:40])
        assert "needs a folder that can be written (" in said
        assert said.endswith("Name another, such as my-garden.\n")

    def closed(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("pathlib.Path.write_bytes", closed)
    with pytest.raises(InputError, match=r"needs a folder that can be written \(Permission denied\)\. Name another"):
        copies.copy(tmp_path / "closed")


def test_a_port_that_is_taken_or_none_at_all_is_said(tmp_path, capsys):
    """Nothing is copied or started then."""
    with contextlib.closing(socket.socket()) as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert launch.main([str(tmp_path / "mine"), "--no-browser", "--port", str(port)]) == 1
        expected = f"port: got {port}, needs a port that no other program uses. Choose another, or leave --port out.\n"
        assert capsys.readouterr().err == expected
    assert launch.main([str(tmp_path / "mine"), "--port", "99999"]) == 1
    assert capsys.readouterr().err.startswith("port: got 99999, needs a whole number from 1 to 65535.")
    assert not (tmp_path / "mine").exists()


def test_settings_that_cannot_be_used_are_said_at_the_start_and_by_the_check(tmp_path, monkeypatch, capsys):
    """With file and line; the workbooks are opened all the same, and a file that is good is only named."""
    from gardenframe.teaching.settings import FILE

    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / FILE).write_text("[site]\nwind = 90\n")
    served = []
    monkeypatch.setattr(launch, "serve", lambda *given: served.append(given) or 0)
    assert launch.main([str(folder), "--no-browser"]) == 0
    said = capsys.readouterr().out
    sentence = 'garden_settings.toml, line 2, wind: got 90, needs a speed with its unit, in quotes, such as "40 m/s"'
    assert sentence in said
    assert "Until it is mended the workbooks show no results." in said
    assert served[0][0] == folder
    for check in ("tables", "workbooks", "extensions", "kernel", "browser"):
        monkeypatch.setattr(health, check, lambda: "there")
    monkeypatch.setattr(health, "packages", lambda: iter(()))
    assert launch.main([str(folder), "--check"]) == 1
    said = capsys.readouterr().out
    assert f"wrong {sentence}" in said
    assert said.endswith("1 of these must be put right.\n")
    (folder / FILE).write_text('[site]\nwind = "90 mph"\n')
    assert launch.main([str(folder), "--check"]) == 0
    assert f"ok    settings: {folder / FILE}" in capsys.readouterr().out
    assert launch.main([str(folder), "--no-browser"]) == 0
    assert "garden_settings" not in capsys.readouterr().out


def test_what_is_opened_first_is_where_to_start():
    """The first of the series is the first file, and it is what the program opens."""
    from gardenframe.teaching import series

    assert copies.shipped()[0].name == series.BOOKS[0].file == "00_start_here.ipynb"


def test_a_reader_s_own_files_stay_when_the_workbooks_are_renewed(ours, tmp_path):
    """Settings and tables of one's own are none of the copies: they are neither touched nor listed."""
    target = tmp_path / "mine"
    copies.copy(target, ours)
    for name in ("garden_settings.toml", "my_prices.csv", "notes.ipynb"):
        (target / name).write_text("my own")
    (ours / "01_one.ipynb").write_text("second edition")
    assert [copied.name for copied in copies.copy(target, ours)] == ["01_one.ipynb", "02_two.ipynb"]
    assert [(target / name).read_text() for name in ("garden_settings.toml", "my_prices.csv", "notes.ipynb")] == [
        "my own"
    ] * 3


@contextlib.contextmanager
def started(folder, *options, **environment):
    """Start the program in its own folders, on a port that is free; a test that fails leaves it not running."""
    env = {**os.environ, "JUPYTER_RUNTIME_DIR": str(folder / "run"), "JUPYTER_CONFIG_DIR": str(folder / "config")}
    command = [*PROGRAM, str(folder / "mine"), *options]
    with subprocess.Popen(
        command, env={**env, **environment}, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        stdin=subprocess.DEVNULL,
    ) as program:  # fmt: skip
        try:
            yield program
        except BaseException:
            program.terminate()
            raise


def test_it_serves_the_copies_says_where_and_leaves_nothing_running(tmp_path):
    """The address it prints answers; without a browser it says so; when it is ended JupyterLab ends too."""
    with started(tmp_path, BROWSER="no-such-browser", PATH="") as program:
        lines = []
        for line in program.stdout:
            lines.append(line)
            if "No browser" in line:
                break
        page = next(line for line in lines if line.startswith("The workbook: ")).split()[-1]
        server = json.loads(next((tmp_path / "run").glob("jpserver-*.json")).read_text())
        assert f"/lab/tree/{copies.shipped()[0].name}?token={server['token']}" in page
        with urllib.request.urlopen(f"{server['url']}api/contents?token={server['token']}") as answer:
            names = {entry["name"] for entry in json.load(answer)["content"]}
        assert names == {path.name for path in copies.shipped()}
        program.send_signal(signal.SIGTERM)
        assert program.wait(30) == 0
    with pytest.raises(ProcessLookupError):
        os.kill(server["pid"], 0)


def test_jupyterlab_that_does_not_start_is_said(tmp_path):
    """Its own reason stands above our sentence."""
    with started(tmp_path, "--no-browser", "--ServerApp.root_dir=/no/such/folder") as program:
        said, _ = program.communicate(timeout=60)
    assert program.returncode == 1
    assert "/no/such/folder" in said
    assert said.splitlines()[-1].startswith("JupyterLab ended before it answered (code 1). Its reason stands above")


def test_no_browser_is_said(monkeypatch):
    """Whether there is none or it refuses."""

    def none(*_):
        raise webbrowser.Error

    monkeypatch.setattr(webbrowser, "open", none)
    assert launch._opened("http://localhost:1/") is False
    monkeypatch.setattr(webbrowser, "get", none)
    assert health.browser().startswith("browser: none is set; open the address that is shown")


def test_check_finds_all_that_is_needed(capsys):
    """A kernel, a widget and a panel start here; the panel's cost is that of the package."""
    import gardenframe

    assert launch.main(["--check"]) == 0
    said = capsys.readouterr().out
    assert "ok    kernel: answered in" in said
    assert f"costs ${gardenframe.plan(gardenframe.builds.Trellis()).cost.usual:.2f})" in said
    assert said.endswith("All is there.\n")


def kernel_called(name, code, folder, monkeypatch):
    """Make a kernel that does what it is told instead of answering."""
    spec = {"argv": [sys.executable, "-c", code, "{connection_file}"], "display_name": name, "language": "python"}
    (folder / "kernels" / name).mkdir(parents=True)
    (folder / "kernels" / name / "kernel.json").write_text(json.dumps(spec))
    monkeypatch.setenv("JUPYTER_PATH", str(folder))


def test_a_kernel_that_dies_is_said_with_its_reason(tmp_path, monkeypatch):
    """The last line it wrote is shown: a beginner can read that to somebody."""
    kernel_called("short", "raise SystemExit('no room on the bench')", tmp_path, monkeypatch)
    with pytest.raises(
        health.HealthError, match=r"^The kernel died before it answered \(no room on the bench\)\. Run: "
    ):
        health.kernel("short")
    with pytest.raises(health.HealthError, match=r"^There is no kernel called absent\. Run: "):
        health.kernel("absent")


def test_a_kernel_that_dies_on_the_way_is_said(monkeypatch):
    """It is noticed at once and not after a minute of silence."""
    monkeypatch.setattr(health, "TRIED", "import os; os._exit(3)")
    with pytest.raises(health.HealthError, match=r"^The kernel died while a widget was made: close other programs"):
        health.kernel()


def test_a_widget_that_does_not_start_is_said(monkeypatch):
    """The error of the kernel is passed on in one line."""
    monkeypatch.setattr(health, "TRIED", "raise ImportError('no ipywidgets')")
    with pytest.raises(health.HealthError, match=r"^A widget did not start: ImportError: no ipywidgets\.$"):
        health.kernel()


def test_a_missing_or_old_package_is_said(monkeypatch):
    """With the line that puts it right."""
    monkeypatch.setattr(health.metadata, "requires", lambda _: ["pint>=99", "spades>=1", "forks; extra == 'test'"])
    lines = list(health.packages())[1:]
    assert [good for _, good in lines] == [False, False]
    assert lines[0][0].endswith(f", but >=99 is needed. Run: {sys.executable} -m pip install 'pint>=99'")
    assert lines[1][0] == f"spades is not installed. Run: {sys.executable} -m pip install 'spades>=1'"


def test_help_and_a_folder_need_no_screen_library():
    """The program starts without plotly and ipywidgets."""
    code = (
        "import sys; from gardenframe.teaching import launch; launch.parser(); from gardenframe.teaching import copies"
    )
    done = [sys.executable, "-c", f"{code}; print([m for m in ('plotly', 'ipywidgets') if m in sys.modules])"]
    assert subprocess.run(done, capture_output=True, text=True, check=True).stdout.strip() == "[]"
