"""Coverings and rolls against recomputed meshes and film."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed

from gardenframe.errors import InputError
from gardenframe.materials import coverings

# recomputed independently from gauge and pitch: bare kg/m2 and solidity
MESH = {
    "welded-mesh-1/8-27ga": ("0.724", "0.254"),
    "welded-mesh-1/4-23ga": ("0.783", "0.190"),
    "welded-mesh-1/2-19ga": ("1.053", "0.157"),
    "welded-mesh-1x1-16ga": ("1.223", "0.121"),
    "welded-mesh-1x1-14ga": ("2.004", "0.154"),
    "welded-mesh-2x2-14ga": ("1.002", "0.078"),
    "welded-mesh-2x4-14ga": ("0.752", "0.059"),
    "welded-mesh-2x4-12.5ga": ("1.151", "0.073"),
    "welded-mesh-6x6-10ga": ("0.951", "0.045"),
}


@pytest.mark.parametrize("key", MESH)
def test_welded_mesh_has_the_mass_and_solidity_of_its_wires(key):
    """The row agrees with the independent table and with our own formulas, fed its wire and pitch."""
    mesh = coverings.find(key)
    mass, solidity = MESH[key]
    assert mesh.mass_kg_per_m2 == pytest.approx(float(mass), abs=0.0015)  # the table rounds the wire to 0.01 mm
    assert mesh.solidity == as_printed(solidity)
    pitch, other = mesh.opening_mm + mesh.wire_mm, mesh.opening_other_mm + mesh.wire_mm
    assert coverings.mesh_solidity(mesh.wire_mm, pitch, other) == pytest.approx(mesh.solidity, abs=0.003)
    ours = coverings.mesh_mass_kg_per_m2(mesh.wire_mm / 1000, pitch / 1000, other / 1000, 7850)
    assert ours == pytest.approx(mesh.mass_kg_per_m2, rel=0.02)  # openings are kept to 0.1 mm


def test_film_mass():
    """6 mil polyethylene at 922 kg/m3, recomputed: 0.1405 kg/m2, 28.8 lb per 1000 ft2."""
    film = coverings.find("film-6mil")
    assert film.mass_kg_per_m2 == as_printed("0.1405")
    assert film.mass_kg_per_m2 / 0.45359237 * 92.90304 == as_printed("28.8")
    assert film.thickness_mm / 1000 * 922 == pytest.approx(film.mass_kg_per_m2, rel=1e-3)


def test_glass_mass():
    """3 mm glass at 2500 kg/m3 weighs 7.5 kg/m2."""
    assert coverings.find("glass-3").mass_kg_per_m2 == as_printed("7.5")


# caring-children: openings between 3-1/2 and 9 in trap heads; 2 x 4 in passes by its narrow side
@pytest.mark.parametrize(
    ("key", "trap"),
    [
        ("welded-mesh-6x6-10ga", True),
        ("trellis-net-150", True),
        ("trellis-net-100", True),
        ("welded-mesh-2x4-14ga", False),
        ("welded-mesh-1/2-19ga", False),
        ("film-6mil", False),
    ],
)
def test_openings_that_could_trap_a_head_are_flagged(key, trap):
    """4 and 6 in openings are flagged, a 2 in narrow side is not."""
    assert coverings.find(key).could_trap_a_head is trap
    assert ("head_trap" in coverings.find(key).tags) is trap


def test_animals_are_kept_out_by_the_published_openings():
    """Meshes for animals keep the published limits: mouse and vole 6 mm, rat 13 mm, young rabbit 25 mm."""
    for key, limit in (("welded-mesh-1/4-23ga", 6), ("welded-mesh-1/2-19ga", 13), ("poultry-net-1", 25)):
        assert coverings.find(key).smallest_opening_mm <= limit


def test_shade_and_light_add_up():
    """A cloth sold as 40 % passes 60 %."""
    for share in (30, 40, 50, 70):
        cloth = coverings.find(f"shade-cloth-{share}")
        assert cloth.shade_share == pytest.approx(share / 100)


def test_every_covering_is_sold_in_some_roll_and_every_roll_has_its_covering():
    """No covering that cannot be bought; rolls come narrowest first."""
    for key in coverings.load_coverings():
        widths = [roll.width_mm for roll in coverings.rolls_of(key)]
        assert widths == sorted(widths)
    for roll in coverings.load_rolls().values():
        coverings.find(roll.covering)
        assert roll.area_m2 == pytest.approx(roll.width_mm * roll.length_mm * 1e-6)


def test_a_covering_that_does_not_exist_is_named():
    """The sentence lists those there are."""
    with pytest.raises(InputError, match=r"^covering: got 'velvet', needs one of trellis-net-150, "):
        coverings.find("velvet")
    with pytest.raises(
        InputError, match=r"^covering: got 'velvet', needs a covering that the rolls table has a roll of"
    ):
        coverings.rolls_of("velvet")


@given(st.floats(0.2, 5), st.floats(1.01, 100), st.floats(1.01, 100))
def test_solidity_and_mass_of_any_mesh(wire, ratio, other):
    """Solidity stays within 0 and 1, grows with the wire, and counts crossings once; the mass counts them twice."""
    pitch, pitch_other = wire * ratio, wire * other
    solidity = coverings.mesh_solidity(wire, pitch, pitch_other)
    assert 0 < solidity < 1
    assert coverings.mesh_solidity(wire * 0.9, pitch, pitch_other) < solidity
    covered = wire / pitch + wire / pitch_other
    mass = coverings.mesh_mass_kg_per_m2(wire / 1000, pitch / 1000, pitch_other / 1000, 7850)
    assert mass == pytest.approx(7850 * 3.141592653589793 / 4 * wire / 1000 * covered)
    assert solidity <= covered
