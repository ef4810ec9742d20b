"""Coverings and rolls against recomputed meshes and film."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

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


@pytest.mark.outside(
    "materials.coverings.mesh_solidity", "materials.coverings.mesh_mass_kg_per_m2", "data/coverings.csv",
    source="worked-apart",
)  # fmt: skip
@pytest.mark.parametrize("key", MESH)
def test_welded_mesh_has_the_mass_and_solidity_of_its_wires(key):
    """The row agrees with a table worked by another program, and so do our formulas, fed its wire and pitch."""
    mesh = coverings.find(key)
    mass, solidity = (float(text) for text in MESH[key])
    # the table rounds the wire to 0.01 mm
    assert mesh.mass_kg_per_m2 == as_worked(mass, "kg/m2", f"{mesh.label}: mass in the table", abs=0.0015)
    assert mesh.solidity == as_worked(solidity, "", f"{mesh.label}: solidity in the table", abs=0.0005001)
    pitch, other = mesh.opening_mm + mesh.wire_mm, mesh.opening_other_mm + mesh.wire_mm
    share = coverings.mesh_solidity(mesh.wire_mm, pitch, other)
    assert share == as_worked(solidity, "", f"{mesh.label}: solidity by the formula", rel=0.015)
    ours = coverings.mesh_mass_kg_per_m2(mesh.wire_mm / 1000, pitch / 1000, other / 1000, 7850)
    assert ours == as_worked(
        mass, "kg/m2", f"{mesh.label}: mass by the formula", rel=0.02
    )  # openings are kept to 0.1 mm


@pytest.mark.outside("materials.coverings.mesh_solidity", source="numpy")
@pytest.mark.parametrize(
    ("wire", "pitch", "other"), [(2.032, 50.8, 101.6), (1.041, 12.7, 12.7), (0.4318, 3.175, 3.175)]
)
def test_solidity_is_the_share_of_points_that_a_wire_covers(wire, pitch, other):
    """A million points of one cell of the mesh, in a grid: how many lie on a wire."""
    x, y = ((np.arange(1000) + 0.5) * size / 1000 for size in (pitch, other))
    on = (x[:, None] < wire) | (y[None, :] < wire)
    said = f"wires of {wire:g} mm at {pitch:g} by {other:g} mm"
    assert coverings.mesh_solidity(wire, pitch, other) == as_worked(on.mean(), "", f"{said}: share covered", abs=0.002)


@pytest.mark.outside("materials.coverings.mesh_mass_kg_per_m2", source="second-method")
def test_a_mesh_weighs_what_its_wires_weigh_one_by_one():
    """A panel of 20 by 40 in of 2 x 4 in mesh: 10 wires of 40 in and 10 of 20 in, weighed as cylinders of steel."""
    wires = [40 * 0.0254] * 10 + [20 * 0.0254] * 10  # half of each edge wire belongs to the next panel
    volume = sum(wires) * np.pi * (0.080 * 0.0254 / 2) ** 2
    ours = coverings.mesh_mass_kg_per_m2(0.080 * 0.0254, 0.0508, 0.1016, 7850.0)
    worked = volume * 7850 / (20 * 40 * 0.0254**2)
    assert ours == as_worked(worked, "kg/m2", "2 x 4 in mesh of 14 gauge, wire by wire")


# wire-gauge, diameters as printed [in]
GAUGE_IN = {
    "welded-mesh-6x6-10ga": "0.1350", "welded-mesh-2x4-14ga": "0.0800", "welded-mesh-1x1-16ga": "0.0625",
    "welded-mesh-1/2-19ga": "0.0410", "poultry-net-1": "0.0348",
}  # fmt: skip


@pytest.mark.outside("data/coverings.csv", source="wire-gauge")
@pytest.mark.parametrize("key", GAUGE_IN)
def test_wires_of_meshes_have_their_gauge(key):
    """Gauges 10, 14, 16, 19 and 20 as the gauge table prints them."""
    wire_in = coverings.find(key).wire_mm / 25.4
    assert wire_in == as_printed(GAUGE_IN[key], "in", f"{coverings.find(key).label}: wire", copied=True)


@pytest.mark.outside("data/coverings.csv", source="astm-a740")
@pytest.mark.parametrize(
    ("key", "inch"),
    {"welded-mesh-1/2-19ga": "0.041", "welded-mesh-1/4-23ga": "0.025", "welded-mesh-1/8-27ga": "0.017"}.items(),
)
def test_hardware_cloth_has_its_usual_wire(key, inch):
    """Wires of 2, 4 and 8 meshes to the inch, from memory."""
    assert coverings.find(key).wire_mm / 25.4 == as_remembered(
        inch, "in", f"{coverings.find(key).label}: wire of hardware cloth", copied=True
    )


@pytest.mark.outside("data/coverings.csv", source="second-method")
def test_film_mass():
    """6 mil polyethylene at 922 kg/m3, recomputed: 0.1405 kg/m2, 28.8 lb per 1000 ft2."""
    film = coverings.find("film-6mil")
    assert film.mass_kg_per_m2 == as_worked(0.006 * 0.0254 * 922, "kg/m2", "film of 6 mil: mass", rel=5e-4)
    pounds = film.mass_kg_per_m2 / 0.45359237 * 92.90304
    assert pounds == as_worked(
        28.8, "lb per 1000 ft2", "film of 6 mil: mass of a thousand square feet", "worked-apart", abs=0.05
    )


@pytest.mark.outside("data/coverings.csv", source="film-life-nrcs")
def test_film_is_as_thick_and_lasts_as_long_as_the_conservation_service_prints():
    """At least 6 mil, life 4 years."""
    film = coverings.find("film-6mil")
    assert film.thickness_mm / 0.0254 == as_printed("6", "mil", "film for tunnels: thickness", copied=True)
    assert film.life_high_seasons == as_printed("4", "years", "film for tunnels: life", copied=True)


@pytest.mark.outside("data/coverings.csv", source="purdue-deer-net")
def test_deer_net_lasts_as_long_as_the_extension_page_prints():
    """Six to eight years."""
    net = coverings.find("deer-net-50")
    assert net.life_low_seasons == as_printed("6", "years", "plastic deer fence: least life", copied=True)
    assert net.life_high_seasons == as_printed("8", "years", "plastic deer fence: most life", copied=True)


# cover-masses, from memory [kg/m2]
MASSES = {"twin-wall-6": "1.3", "twin-wall-8": "1.6", "glass-3": "7.5", "trellis-net-150": "0.01"}


@pytest.mark.outside("data/coverings.csv", source="cover-masses")
@pytest.mark.parametrize("key", MASSES)
def test_sheets_and_nets_weigh_as_remembered(key):
    """Twin-wall sheet, glass and plastic netting."""
    assert coverings.find(key).mass_kg_per_m2 == as_remembered(
        MASSES[key], "kg/m2", f"{coverings.find(key).label}: mass", copied=True
    )


@pytest.mark.outside("data/coverings.csv", source="wood-density")
@pytest.mark.parametrize(("key", "mm"), [("boards-19", 19), ("boards-38", 38)])
def test_boards_weigh_as_air_dry_wood(key, mm):
    """Spruce-pine-fir at about 480 kg/m3, from memory."""
    assert coverings.find(key).mass_kg_per_m2 * 1000 / mm == as_remembered(
        "480", "kg/m3", f"{coverings.find(key).label}: density", copied=True
    )


@pytest.mark.outside("data/coverings.csv", source="second-method")
def test_glass_mass():
    """3 mm glass at 2500 kg/m3 weighs 7.5 kg/m2."""
    assert coverings.find("glass-3").mass_kg_per_m2 == as_worked(0.003 * 2500, "kg/m2", "glass of 3 mm: mass")


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
