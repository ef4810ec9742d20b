"""Saved builds: every build and field there and back to the last bit, broken files refused, nothing lost in a crash."""

import dataclasses
import errno
import json
import os
import stat
import subprocess
import sys
import textwrap
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardenframe import Site, builds
from gardenframe.builds.fields import FieldError
from gardenframe.errors import InputError
from gardenframe.materials.site import EXPOSURES, FASTEST_M_PER_S, SHELTERS, WIND_KINDS
from gardenframe.materials.soils import load_soils
from gardenframe.output import files
from gardenframe.output.saved import broken_in, file_name, load, save, saved_in

DAY = date(2025, 3, 31)
SITES = st.builds(
    Site,
    wind_m_per_s=st.floats(0, FASTEST_M_PER_S),
    wind_kind=st.sampled_from(WIND_KINDS),
    exposure=st.sampled_from(EXPOSURES),
    shelter=st.sampled_from(SHELTERS),
    ground_snow_pa=st.floats(0, 40_000),
    soil=st.sampled_from(sorted(load_soils())),
    latitude_deg=st.floats(-90, 90),
    longitude_deg=st.floats(-180, 180),
)


def values_of(field):
    """Return a strategy for every value that a field can have."""
    if field.kind == "choice":
        return st.sampled_from([key for key, _ in field.choices])
    if field.kind == "choices":
        return st.lists(st.sampled_from([key for key, _ in field.choices]), unique=True).map(tuple)
    if field.kind == "flag":
        return st.booleans()
    if field.kind == "text":
        return st.text()
    if field.kind == "count":
        return st.integers(int(field.low), int(field.high))
    return st.floats(field.low, field.high)


def any_build(draw, kind):
    """Return a build with as many fields drawn at random as go together."""
    build = kind()
    for field in draw(st.permutations(kind.fields())):
        try:
            build = build.changed(**{field.key: draw(values_of(field))})
        except FieldError:
            continue
    return build


def bits(build):
    """Return a build's values so that floats differ where a single bit does."""
    return {k: v.hex() if isinstance(v, float) else (type(v).__name__, v) for k, v in build.values().items()}


@pytest.fixture
def beans(tmp_path):
    """Return one saved trellis."""
    return save(builds.ALL["trellis"](width_m=0.1 + 0.2 + 0.9), "Beans", tmp_path, site=Site(), saved_on=DAY)


def changed(saved, change):
    """Write a saved build's file again with its JSON changed, and return its text."""
    found = json.loads(saved.place.read_text(encoding="utf-8"))
    change(found)
    saved.place.write_text(json.dumps(found), encoding="utf-8")
    return saved.place.read_text(encoding="utf-8")


# --- there and back


@pytest.mark.parametrize("kind", builds.ALL.values(), ids=builds.ALL)
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(data=st.data())
def test_every_field_comes_back_to_the_last_bit(kind, data, tmp_path):
    """Any build with any values, any site: floats bit for bit, whole numbers whole, and no field filled in."""
    build, site = any_build(data.draw, kind), data.draw(st.none() | SITES)
    saved = save(build, "Any", tmp_path, site=site, saved_on=DAY, replace=True)
    again = load(saved.place)
    assert bits(again.build) == bits(build)
    assert type(again.build) is kind
    assert again == saved
    assert again.filled == ()
    if site is not None:
        assert dataclasses.asdict(again.site) == dataclasses.asdict(site)


@pytest.mark.parametrize("kind", builds.ALL.values(), ids=builds.ALL)
def test_every_example_comes_back(kind, tmp_path):
    """Everything that a reader can start from can be saved."""
    for number, values in enumerate(kind.examples.values()):
        build = kind(**values)
        assert load(save(build, f"example {number}", tmp_path).place).build == build


def test_the_file_holds_kept_units_that_another_reader_of_json_finds(beans):
    """A float is written so that it reads back as the same one, and its key ends in its unit."""
    found = json.loads(beans.place.read_text(encoding="utf-8"))
    assert found["values"]["width_m"] == 0.1 + 0.2 + 0.9
    assert (found["version"], found["name"], found["build"], found["saved_on"]) == (1, "Beans", "trellis", "2025-03-31")
    assert set(found["values"]) == {field.key for field in builds.ALL["trellis"].fields()}


def test_the_day_is_today_unless_given(tmp_path):
    """A reader finds the newest first."""
    kind = builds.ALL["trellis"]
    save(kind(), "old", tmp_path, saved_on=DAY)
    save(kind(), "new", tmp_path)
    assert [one.name for one in saved_in(tmp_path, "trellis")] == ["new", "old"]
    assert abs((load(tmp_path / file_name("trellis", "new")).saved_on - date.today()).days) <= 1


def test_builds_of_other_types_and_other_files_are_not_listed(tmp_path):
    """A workbook lists its own; one name may stand for one build of each type."""
    for kind in builds.ALL.values():
        save(kind(), "Beans", tmp_path)
    (tmp_path / "notes.json").write_text("{}")
    for key in builds.ALL:
        assert [one.build.key for one in saved_in(tmp_path, key)] == [key]
    assert len(saved_in(tmp_path)) == len(builds.ALL)
    assert broken_in(tmp_path) == []
    assert saved_in(tmp_path / "nowhere", "trellis") == []


# --- names


@pytest.mark.parametrize("name", ["", "   ", "***", "a" * 61, "two\0", "_", "字" * 60])
def test_a_name_that_cannot_be_one_is_refused(name, tmp_path):
    """Nothing is written for a name without letters, too long, or not to be printed."""
    with pytest.raises(InputError, match=r"^name: got .*, needs 1 to 60 letters, figures and spaces\."):
        save(builds.ALL["trellis"](), name, tmp_path / "new")
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("name", ["../../beans", "con", "a/b\\c", ".hidden", "Straße", "豆 畑", "x" * 60, 'say "no"'])
def test_a_name_stays_in_its_folder_and_comes_back(name, tmp_path):
    """Signs that mean something to a disk are not in the file's name, but in the name that is shown."""
    saved = save(builds.ALL["trellis"](), name, tmp_path)
    assert saved.place.parent == tmp_path
    assert [path.name for path in tmp_path.iterdir()] == [saved.place.name]
    assert not set(saved.place.name) & set('/\\:*?"<>| ')
    assert saved_in(tmp_path, "trellis")[0].name == name


def test_a_taken_name_is_refused_and_the_build_there_stays(beans, tmp_path):
    """Saving never writes over another build unless told to."""
    before = beans.place.read_bytes()
    with pytest.raises(InputError, match=r"^name: got 'BEANS', needs a name that no saved build of this kind has\."):
        save(builds.ALL["trellis"](width_m=1.0), "BEANS", tmp_path)
    assert beans.place.read_bytes() == before
    save(builds.ALL["trellis"](width_m=1.0), "Beans", tmp_path, replace=True)
    assert load(beans.place).build.width_m == 1.0


def test_a_file_renamed_by_hand_is_not_written_over(beans, tmp_path):
    """What lies under another name's file is still its own build."""
    moved = tmp_path / file_name("trellis", "Peas")
    beans.place.rename(moved)
    with pytest.raises(
        InputError, match=r"^name: got 'Peas', needs a name whose file is its own\. The file .* 'Beans'"
    ):
        save(builds.ALL["trellis"](), "Peas", tmp_path, replace=True)
    assert load(moved).name == "Beans"


# --- broken files


def test_a_file_cut_short_anywhere_is_one_sentence(beans):
    """Every beginning of the file is refused by name, and saving does not write over it."""
    whole = beans.place.read_bytes()
    for end in range(len(whole.rstrip())):
        beans.place.write_bytes(whole[:end])
        with pytest.raises(InputError, match=r"^trellis\.beans\.build\.json.*: got .*, needs .*\.") as told:
            load(beans.place)
        assert str(told.value).count("\n") == 0
        assert beans.place.read_bytes() == whole[:end]
    with pytest.raises(InputError, match="a whole saved build"):
        save(beans.build, "Beans", beans.place.parent, replace=True)
    assert beans.place.read_bytes() == whole[: len(whole.rstrip()) - 1]
    assert broken_in(beans.place.parent)[0].startswith("trellis.beans.build.json, line ")


def test_a_newer_file_is_refused_and_stays(beans, tmp_path):
    """What a newer version wrote is neither read nor written over by this one."""
    text = changed(beans, lambda found: found.update(version=2, more={"colour": "green"}))
    match = r"^trellis\.beans\.build\.json, version: got 2, needs 1\. It is from a newer gardenframe: update this one\."
    with pytest.raises(InputError, match=match):
        load(beans.place)
    with pytest.raises(InputError, match=match):
        save(beans.build, "Beans", tmp_path, replace=True)
    assert beans.place.read_text(encoding="utf-8") == text


def test_a_table_of_an_own_frame_is_text(tmp_path):
    """A number in place of a table is refused as that, not looked for as a file of that name."""
    place = save(builds.KINDS["own_frame"](), "Screen", tmp_path).place
    found = json.loads(place.read_text(encoding="utf-8"))
    found["values"]["feet"] = 5
    place.write_text(json.dumps(found), encoding="utf-8")
    with pytest.raises(
        InputError, match=r"^own_frame\.screen\.build\.json, Table of feet: got 5, needs text in quotes\."
    ):
        load(place)


WRONG = {
    "another version": (lambda f: f.update(version="1"), r", version: got '1', needs 1\."),
    "a flag for a version": (lambda f: f.update(version=True), r", version: got True, needs 1\."),
    "no name": (lambda f: f.pop("name"), r", name: got nothing, needs a line for it\."),
    "a name that is a list": (lambda f: f.update(name=[]), r", name: got a list, needs text in quotes\."),
    "a key that is not known": (lambda f: f.update(colour=1), r": got a key that is not known, colour, needs one of"),
    "no such build": (lambda f: f.update(build="pergola"), r", build: got 'pergola', needs one of trellis, "),
    "a build that is a list": (lambda f: f.update(build=["trellis"]), r", build: got a list, needs one of trellis, "),
    "no such day": (lambda f: f.update(saved_on="2025-02-30"), r", saved_on: got '2025-02-30', needs a date such as"),
    "a day that is a number": (lambda f: f.update(saved_on=3), r", saved_on: got 3, needs a date such as"),
    "values that are none": (lambda f: f.update(values=[1]), r", values: got a list, needs a value for each field"),
    "a field that is not known": (lambda f: f["values"].update(depth_m=1), r": got a field that .* has not, depth_m, "),
    "too wide": (lambda f: f["values"].update(width_m=90.0), r", Width: got 90000 mm, needs \d+ mm to \d+ mm\."),
    "far too wide": (lambda f: f["values"].update(width_m=10**400), r", Width: got a number far too large, needs "),
    "a width that is text": (lambda f: f["values"].update(width_m="6 ft"), r", Width: got '6 ft', needs a number, "),
    "a width that is a flag": (lambda f: f["values"].update(width_m=True), r", Width: got True, needs a number, "),
    "a width that is nothing": (lambda f: f["values"].update(width_m=None), r", Width: got nothing, needs a number, "),
    "a width that is a list": (lambda f: f["values"].update(width_m=[1]), r", Width: got a list, needs a number, "),
    "a form that is not known": (lambda f: f["values"].update(form="round"), r", .*: got 'round', needs one of: flat"),
    "a form that is a list": (lambda f: f["values"].update(form=["flat"]), r", .*: got a list, needs one of: flat"),
    "a site that is a list": (lambda f: f.update(site=[]), r", site: got a list, needs null, or"),
    "a site's line not known": (
        lambda f: f["site"].update(rain=1),
        r": got a line of the site that is not known, rain",
    ),
    "too windy": (lambda f: f["site"].update(wind_m_per_s=900.0), r", wind speed: got 900, needs 0 to 120 m/s\."),
    "a wind that is text": (lambda f: f["site"].update(wind_m_per_s="40"), r", wind_m_per_s: got '40', needs a number"),
    "a soil not known": (lambda f: f["site"].update(soil="cheese"), r", soil: got 'cheese', needs one of "),
    "a soil that is a number": (lambda f: f["site"].update(soil=3), r", soil: got 3, needs text in quotes\."),
}


@pytest.mark.parametrize(("change", "match"), WRONG.values(), ids=WRONG)
def test_a_line_broken_by_hand_is_named(change, match, beans):
    """One sentence says which file, which line of it, what came and what is allowed; the file stays."""
    text = changed(beans, change)
    with pytest.raises(InputError, match=r"^trellis\.beans\.build\.json" + match) as told:
        load(beans.place)
    assert len(str(told.value)) < 600
    assert beans.place.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("data", "match"),
    [
        (b"", "got an empty file"),
        (b"\0" * 2000, "got an empty file"),
        (b"\xff\xfe{\0}\0", "got letters that are not UTF-8"),
        (b"[" * 100_000, "got brackets too deep"),
        (b"null", "got something else"),
        (b'{"version": 1, "version": 1}', "got version twice"),
        (b'{"version": NaN}', "got NaN, which is no number"),
        (b'{"gardenframe": "saved build", "version": ' + b"9" * 6000 + b"}", "version: got inf, needs 1"),
        (b'{"gardenframe": "saved build",\n"version": 1 "name"}', "line 2: got text that is not JSON"),
        (b" " * 1_000_001, "got a file of over a megabyte"),
    ],
)
def test_what_is_no_saved_build_is_refused(data, match, beans):
    """Whatever lies under the name, the answer is one sentence."""
    beans.place.write_bytes(data)
    with pytest.raises(InputError, match=r"^trellis\.beans\.build\.json.*" + match):
        load(beans.place)


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(at=st.floats(0, 1, exclude_max=True), byte=st.integers(0, 255))
def test_any_byte_changed_is_read_or_refused_in_a_sentence(at, byte, beans):
    """No other error ever comes out, whatever was typed over; what is read is within limits, for its class checks."""
    whole = beans.place.read_bytes()
    place = int(at * len(whole))
    broken = beans.place.with_name("trellis.broken.build.json")
    broken.write_bytes(whole[:place] + bytes([byte]) + whole[place + 1 :])
    told = broken_in(broken.parent)
    assert len(told) + len(saved_in(broken.parent)) == 2
    assert all(sentence.startswith("trellis.broken.build.json") for sentence in told)


def test_values_that_do_not_go_together_are_refused(tmp_path):
    """Each value within its limits is not enough: the build's own rules hold for a file too."""
    kind = builds.ALL["hoop_house"]
    saved = save(kind(), "House", tmp_path)
    clash = {"width_m": kind.field("width_m").low, "door_width_m": kind.field("door_width_m").high}
    with pytest.raises(FieldError) as told:
        kind(**(kind().values() | clash))
    changed(saved, lambda found: found["values"].update(clash))
    with pytest.raises(InputError, match=r"^hoop_house\.house\.build\.json, ") as here:
        load(saved.place)
    assert told.value.needs in str(here.value)


def test_a_field_added_since_takes_its_default_and_is_told(beans):
    """An older file still opens, and the reader can be told what it did not say."""
    changed(beans, lambda found: found["values"].pop("height_m"))
    again = load(beans.place)
    assert again.filled == ("height_m",)
    assert again.build.height_m == builds.ALL["trellis"]().height_m
    assert again.build.width_m == beans.build.width_m


def test_one_broken_file_hides_no_other(beans, tmp_path):
    """One file for each build: the rest are still listed, and the broken one is told."""
    save(builds.ALL["trellis"](), "Peas", tmp_path)
    beans.place.write_text("{")
    assert [one.name for one in saved_in(tmp_path, "trellis")] == ["Peas"]
    assert len(broken_in(tmp_path)) == 1
    assert "trellis.beans.build.json, line 1: got text that stops short" in broken_in(tmp_path)[0]


def test_no_file_a_folder_for_a_file_and_a_file_for_a_folder(beans, tmp_path):
    """Each is a sentence."""
    with pytest.raises(InputError, match=r"^peas\.build\.json: got no such file, needs a saved build in "):
        load(tmp_path / "peas.build.json")
    with pytest.raises(InputError, match=r": got Is a directory, needs a file that can be read\."):
        load(tmp_path)
    with pytest.raises(InputError, match=r"^folder: got .*, needs a folder that can be written \(.*\)\. Nothing was"):
        save(beans.build, "Beans", beans.place)


# --- crashes


@pytest.mark.parametrize("call", ["fsync", "replace", "fdopen", "chmod"])
@pytest.mark.parametrize("problem", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()], ids=str)
def test_a_save_that_fails_half_way_leaves_the_old_file_and_nothing_else(call, problem, beans, monkeypatch):
    """A full disk, or a stop, at each step on the way."""
    before = beans.place.read_bytes()

    def fails(*args, **rest):
        raise problem

    monkeypatch.setattr(files.os, call, fails)
    expected = InputError if isinstance(problem, OSError) else KeyboardInterrupt
    with pytest.raises(expected, match="No space left on device" if expected is InputError else None):
        save(builds.ALL["trellis"](width_m=1.0), "Beans", beans.place.parent, replace=True)
    monkeypatch.undo()
    assert beans.place.read_bytes() == before
    assert [path.name for path in beans.place.parent.iterdir()] == [beans.place.name]


def test_data_is_on_the_disk_before_it_takes_the_name(beans, monkeypatch):
    """The order that a power cut asks for: the bytes, then the name, then the folder."""
    calls, real = [], {name: getattr(os, name) for name in ("fsync", "replace")}

    def fsync(handle):
        calls.append("folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "bytes")
        return real["fsync"](handle)

    monkeypatch.setattr(files.os, "fsync", fsync)
    monkeypatch.setattr(files.os, "replace", lambda a, b: (calls.append("name"), real["replace"](a, b)))
    save(beans.build, "Beans", beans.place.parent, replace=True)
    assert calls == ["bytes", "name", "folder"]


def test_a_file_keeps_who_may_read_it(beans):
    """A temporary file is private; a saved build is as readable as it was."""
    beans.place.chmod(0o640)
    save(beans.build, "Beans", beans.place.parent, replace=True)
    assert stat.S_IMODE(beans.place.stat().st_mode) == 0o640


def test_what_a_dead_writer_left_is_swept_once_it_is_old(beans):
    """A young unfinished file may be somebody's who still writes."""
    old, young = (beans.place.with_name(f".writing-{age}.part") for age in ("old", "young"))
    for path in (old, young):
        path.write_text("{")
    os.utime(old, (0, 0))
    save(beans.build, "Beans", beans.place.parent, replace=True)
    assert (old.exists(), young.exists()) == (False, True)
    assert len(saved_in(beans.place.parent)) == 1


KILLS = 80
KILLED = """
    import os, random, signal, sys, time
    from gardenframe import builds
    from gardenframe.output.saved import load, save
    folder, kills = sys.argv[1], int(sys.argv[2])
    kind, least = builds.ALL["trellis"], 1.0
    here = save(kind(width_m=least), "Beans", folder).place
    count = 0
    for number in range(kills):
        told, tells = os.pipe()
        child = os.fork()
        if not child:
            while True:  # saves and says so, until it is killed
                count += 1
                save(kind(width_m=least + count / 2**20), "Beans", folder, replace=True)
                os.write(tells, b".")
        os.close(tells)
        os.read(told, 1)
        time.sleep(random.Random(number).random() * 0.02)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        said = 1
        while more := os.read(told, 65536):
            said += len(more)
        os.close(told)
        found = (load(here).build.width_m - least) * 2**20
        assert found in (count + said, count + said + 1), (number, found, count, said)
        count = int(found)
        print(count, flush=True)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that can copy a process")
def test_a_process_killed_while_it_saves_loses_nothing(tmp_path):
    """Killed at random moments of saving without pause, the file is whole: the last that was said, or the next."""
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(KILLED), str(tmp_path), str(KILLS)],
        capture_output=True, text=True, timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    counts = [int(line) for line in done.stdout.split()]
    assert len(counts) == KILLS
    assert all(a < b for a, b in pairwise(counts))
    assert len(saved_in(tmp_path)) == 1
    assert broken_in(tmp_path) == []
