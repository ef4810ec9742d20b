"""Any frame as the tables of an own frame, to read, edit and read again.

A frame comes in, CSV text goes out. Left out: parts that move, curved coverings, and coverings with corners in the air.
"""

from collections.abc import Iterator
from pathlib import Path

from gardenframe.builds.own_frame_read import ROLES
from gardenframe.geometry.arcs import Straight
from gardenframe.geometry.frame import Frame, Panel, Run
from gardenframe.geometry.vectors import distance

HEADINGS = {
    "joints": "joint,x_m,y_m,z_m",
    "runs": "run,member,path,bend_radius_m,role,also,splices,offset_x_m,offset_y_m,offset_z_m",
    "feet": "joint,base,held,spring_n_m_per_rad",
    "coverings": "panel,corners,covering,plant,side",
}
CORNER_M = 0.001


def texts_of(frame: Frame) -> dict[str, str]:
    """Return the four tables of a frame as CSV text, by name."""
    runs = [run for run in frame.runs.values() if _stays(frame, run)]
    spliced = {key for run in runs for key in run.splices if key not in _kept(frame, run)}
    coverings = list(_coverings(frame))
    used = {key for run in runs for key in (*run.path, *run.also)} - spliced
    used |= {key for _, corners in coverings for key in corners}
    rows = {
        "joints": [
            f"{word(j.key)},{j.x_m!r},{j.y_m!r},{j.z_m!r}" for j in frame.joints.values() if j.key in used
        ],
        "runs": [_run_row(frame, run) for run in runs],
        "feet": [
            f"{word(s.joint)},{s.base},{s.held},{s.spring_n_m_per_rad!r}" for s in frame.supports if s.joint in used
        ],
        "coverings": [
            ",".join([panel.key, " ".join(map(word, corners)), str(panel.covering), panel.plant or "none", panel.side])
            for panel, corners in coverings
        ],
    }  # fmt: skip
    return {name: "\n".join([HEADINGS[name], *found]) if found else "" for name, found in rows.items()}


def write(frame: Frame, folder: Path | str, name: str = "own") -> list[Path]:
    """Write the tables of a frame into a folder, as `own_joints.csv` and so on; return where they lie."""
    places = []
    for table, text in texts_of(frame).items():
        if text:
            place = Path(folder) / f"{name}_{table}.csv"
            place.write_text(text + "\n", encoding="utf-8")
            places.append(place)
    return places


def without(text: str, line: int) -> str:
    r"""Return a table without one of its lines; empty where no row is left.

    >>> without("panel,corners\na,b c d\ne,f g h", 2), without("panel,corners\na,b c d", 2)
    ('panel,corners\ne,f g h', '')
    """
    rows = [row for number, row in enumerate(text.splitlines(), 1) if number != line]
    return "\n".join(rows) if len(rows) > 1 else ""


def word(key: str) -> str:
    """Return a joint's name as one word, since a path separates names by spaces."""
    return key.replace(" ", "_")


def _stays(frame: Frame, run: Run) -> bool:
    return next(part for part in frame.parts if part.key == run.part).motion == "fixed"


def _kept(frame: Frame, run: Run) -> tuple[str, ...]:
    """Return the couplings that have to be written: those of bent runs; straight ones are coupled again as needed."""
    return () if frame.lines[run.key].straight else run.splices


def _run_row(frame: Frame, run: Run) -> str:
    path = " ".join(word(key) for key in run.path)
    kept = _kept(frame, run)
    also = " ".join(word(key) for key in run.also if key not in run.splices or key in kept) or "none"
    splices = " ".join(word(key) for key in kept) or "none"
    x, y, z = run.offset_m
    role = run.role if run.role in ROLES else "none"
    numbers = f"{run.bend_radius_m!r},{role},{also},{splices},{x!r},{y!r},{z!r}"
    return f"{run.key},{run.member},{path},{numbers}"


def _coverings(frame: Frame) -> Iterator[tuple[Panel, list[str]]]:
    """Yield each flat covering whose corners all lie at joints, with these."""
    for panel in frame.panels:
        if panel.covering is None or panel.outline is None or panel.side not in ("wall", "roof"):
            continue
        if not all(_stays(frame, frame.runs[key]) for key in panel.carried_by):
            continue
        if not all(isinstance(piece, Straight) for piece in panel.outline.pieces):
            continue
        corners = []
        for piece in panel.outline.pieces:
            near = min(frame.joints.values(), key=lambda joint: distance(joint.at, piece.start))
            if distance(near.at, piece.start) > CORNER_M:
                break
            corners.append(near.key)
        else:
            yield panel, corners
