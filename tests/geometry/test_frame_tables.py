"""A frame as tables, out and in again: nothing is lost on the way, and every bad table is one sentence."""

import re

import pytest

import gardenframe
from gardenframe.builds.own_frame import OwnFrame
from gardenframe.errors import TableError
from gardenframe.geometry.frame import Frame

JOINTS = "joint,x_m,y_m,z_m\na,0,0,0\nb,0,0,2\nc,1,0,2\n"
RUNS = "run,member,path\npost,1 in,a b\nrail,1 in,b c\n"


def test_feet_on_driven_stakes_go_out_and_come_in_again():
    """How hard a stake is to turn is no length: 2000 N m/rad is no distance that is too far."""
    frame = gardenframe.plan(OwnFrame()).frame
    tables = frame.tables()
    again = Frame.from_tables(tables["joints"], tables["runs"], tables["supports"])
    springs = [support.spring_n_m_per_rad for support in frame.supports]
    assert [support.spring_n_m_per_rad for support in again.supports] == springs
    assert max(springs) > 1000


def test_a_coupling_that_a_table_names_is_made():
    """A run is coupled where its column of splices says."""
    joints = JOINTS.replace("c,1,0,2\n", "c,1,0,2\nd,0,0,1\n")
    frame = Frame.from_tables(
        joints, [{"run": "post", "member": "1 in", "path": "a b", "also": "d", "splices": "d"},
                 {"run": "rail", "member": "1 in", "path": "b c"}],
    )  # fmt: skip
    assert frame.runs["post"].splices == ("d",)


def test_lines_are_counted_as_in_the_file():
    """A blank line is no row, and the line of what comes after it is that of the file."""
    with pytest.raises(TableError, match=r"^joints, line 5, column z_m: got 'high', needs a number in m\.$"):
        Frame.from_tables(JOINTS.replace("c,1,0,2", "\nc,1,0,high"), RUNS)


@pytest.mark.parametrize(
    ("joints", "runs", "supports", "said"),
    [
        ("no_such.csv", RUNS, None, "no_such.csv: got no such file, needs a file at no_such.csv."),
        ("\n", RUNS, None, "your table: got an empty file, needs a row of headings and rows of values."),
        (JOINTS + "d,1,0,0,5\n", RUNS, None, "joints, line 5: got 5 cells, needs 4 cells."),
        ("joint,x_m,z_m\na,0,0\n", RUNS, None, "joints, line 1, column y_m: got no such column, needs all columns: "),
        ("joint,x_m,y_m,z_m\n", RUNS, None, "joints: got no rows, needs at least one row under the headings."),
        (JOINTS, RUNS.replace("rail,1 in", "rail,9 in"), None, "runs, line 3, column member: got '9 in', needs a size"),
        (JOINTS, RUNS, "joint,held,spring_n_m_per_rad\na,xyz,-1\n", "supports, line 2, column spring_n_m_per_rad: "),
    ],
)  # fmt: skip
def test_a_bad_table_is_one_sentence(joints, runs, supports, said):
    """What is wrong is named by table, line and column, never by the library that reads."""
    with pytest.raises(TableError, match="^" + re.escape(said)):
        Frame.from_tables(joints, runs, supports)
