"""Members against printed tables, and what readers type for them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered, as_worked

from gardenframe.errors import InputError
from gardenframe.materials import members

# emt-dimensions: outside and inside diameter [in], printed weight [lb per 100 ft]
EMT = {
    "emt-1/2": ("0.706", "0.622", 30),
    "emt-3/4": ("0.922", "0.824", 46),
    "emt-1": ("1.163", "1.049", 67),
    "emt-1-1/4": ("1.510", "1.380", 101),
    "emt-1-1/2": ("1.740", "1.610", 116),
    "emt-2": ("2.197", "2.067", 148),
}
# recomputed independently from the same diameters: A mm2, I mm4, S mm3, Z mm3, r mm, kg/m, EI N m2
EMT_SECTION = {
    "emt-1/2": ("56.52", "2 018", "225.0", "303.9", "5.975", "0.4437", "403.6"),
    "emt-3/4": ("86.70", "5 346", "456.5", "612.6", "7.852", "0.6806", "1 069.1"),
    "emt-1": ("127.78", "12 638", "855.7", "1 143.6", "9.945", "1.0030", "2 527.7"),
    "emt-1-1/4": ("190.37", "32 121", "1 675.0", "2 225.6", "12.990", "1.4944", "6 424.2"),
    "emt-1-1/2": ("220.67", "50 004", "2 262.8", "2 989.9", "15.053", "1.7323", "10 001"),
    "emt-2": ("280.88", "103 056", "3 693.5", "4 843.1", "19.155", "2.2049", "20 611"),
}
# emt-bend-radii [mm], as a trade table prints them
RADII = {"emt-1/2": 102, "emt-3/4": 114, "emt-1": 146, "emt-1-1/4": 184, "emt-1-1/2": 210, "emt-2": 241}
SECTION = (
    ("mm2", "area"), ("mm4", "second moment"), ("mm3", "section modulus"), ("mm3", "plastic modulus"),
    ("mm", "radius of gyration"), ("kg/m", "mass"), ("N m2", "bending stiffness"),
)  # fmt: skip
# recomputed: second moment [in4], EI [N m2], kg/m of PVC schedule 40
PVC = {
    "pvc-1/2": ("0.01709", "19.6", "0.226"),
    "pvc-3/4": ("0.03704", "42.5", "0.300"),
    "pvc-1": ("0.08734", "100.3", "0.446"),
    "pvc-1-1/4": ("0.19471", "223.5", "0.604"),
    "pvc-1-1/2": ("0.30989", "355.7", "0.722"),
}
# aisc-shapes: outside diameter and nominal wall [in] of schedule-40 pipe; that PVC shares them is from memory
PIPE = {
    "pvc-1/2": ("0.840", "0.109"), "pvc-3/4": ("1.050", "0.113"), "pvc-1": ("1.315", "0.133"),
    "pvc-1-1/4": ("1.660", "0.140"), "pvc-1-1/2": ("1.900", "0.145"),
}  # fmt: skip
# recomputed: EI [N m2] of timber at 1 400 000 psi
TIMBER = {"timber-2x4": "21 533", "timber-4x4": "50 243", "timber-2x2": "1 695"}


def digits(text):
    """Return a number of another program and half a unit of its last digit."""
    number = text.replace(" ", "")
    return float(number), 0.5 * 10.0 ** -len(number.partition(".")[2])


@pytest.mark.outside("data/members.csv", "materials.members", source="emt-dimensions")
@pytest.mark.parametrize("key", EMT)
def test_emt_has_the_printed_diameters_and_weight(key):
    """Diameters to the printed thousandth; the mass of the section within 1 % of the printed weight."""
    outer, inner, weight = EMT[key]
    tube = members.load_members()[key]
    name = tube.label
    assert tube.outer_mm / 25.4 == as_printed(outer, "in", f"{name}: outside diameter")
    assert tube.inner_mm / 25.4 == as_printed(inner, "in", f"{name}: inside diameter")
    assert tube.printed_lb_per_100ft == as_printed(str(weight), "lb per 100 ft", f"{name}: nominal weight")
    pounds, what = tube.mass_kg_per_m * 30.48 / 0.45359237, f"{name}: weight from its diameters, to 1 % of the nominal"
    assert pounds == as_worked(weight, "lb per 100 ft", what, rel=0.01)
    assert tube.stick_mm / 304.8 == as_printed("10", "ft", f"{name}: finished length", copied=True)


@pytest.mark.outside("materials.sections.mass_kg_per_m", "data/members.csv", source="emt-dimensions")
@pytest.mark.parametrize("key", [key for key in EMT if key != "emt-1-1/4"])  # its diameters give 100.4, printed is 101
def test_emt_weighs_what_the_table_prints(key):
    """Steel at 7850 kg/m3 in the printed diameters: the printed pounds, to half a pound, in five sizes of six."""
    tube = members.load_members()[key]
    pounds = tube.mass_kg_per_m * 30.48 / 0.45359237
    assert pounds == as_printed(str(EMT[key][2]), "lb per 100 ft", f"{tube.label}: weight from its diameters")


def test_the_transposed_diameter_in_circulation_would_be_found_out():
    """Some tables print 0.992 in for 3/4 in EMT; its section would miss the printed weight by more than 1 %."""
    right = members.load_members()["emt-3/4"]
    wrong_area = 3.141592653589793 * right.wall_mm * (0.992 * 25.4 - right.wall_mm)
    assert abs(wrong_area * 1e-6 * 7850 * 30.48 / 0.45359237 / 46 - 1) > 0.01


@pytest.mark.outside("data/members.csv", "materials.members", source="worked-apart")
@pytest.mark.parametrize("key", EMT_SECTION)
def test_emt_section_matches_the_independent_computation(key):
    """Section properties agree to each digit of a table made by another program."""
    tube = members.load_members()[key]
    ours = (
        tube.area_mm2,
        tube.second_moment_mm4,
        tube.section_modulus_mm3,
        tube.plastic_modulus_mm3,
        tube.gyration_mm,
        tube.mass_kg_per_m,
        tube.modulus_pa * tube.second_moment_mm4 * 1e-12,
    )
    for got, text, (unit, what) in zip(ours, EMT_SECTION[key], SECTION, strict=True):
        number, half = digits(text)
        assert got == as_worked(number, unit, f"{tube.label}: {what}", abs=half * (1 + 1e-9))


@pytest.mark.outside("data/members.csv", source="emt-bend-radii")
@pytest.mark.parametrize("key", RADII)
def test_bend_radius_is_the_printed_one(key):
    """The inch value rounds to the millimetre that the trade table prints."""
    tube = members.load_members()[key]
    assert tube.min_bend_radius_mm == as_printed(str(RADII[key]), "mm", f"{tube.label}: least bend radius")


@pytest.mark.outside("data/members.csv", source="aisc-shapes")
@pytest.mark.parametrize("key", PIPE)
def test_pvc_has_the_diameter_and_wall_of_pipe(key):
    """Schedule-40 sizes as the shapes database prints them."""
    pipe, (outer, wall) = members.load_members()[key], PIPE[key]
    assert pipe.outer_mm / 25.4 == as_printed(outer, "in", f"{pipe.label}: outside diameter")
    assert pipe.wall_mm / 25.4 == as_printed(wall, "in", f"{pipe.label}: wall")


@pytest.mark.outside("data/members.csv", source="pvc-strength")
def test_pvc_is_as_strong_as_its_cell_class():
    """Cell class 12454 at 23 C: modulus, tensile strength and density, from memory."""
    for pipe in (members.find(key) for key in PVC):
        assert pipe.modulus_gpa / 0.00689475729 == as_remembered("400", "ksi", "PVC: modulus", copied=True)
        assert pipe.yield_mpa / 6.89475729 == as_remembered("7.0", "ksi", "PVC: tensile strength", copied=True)
        assert pipe.density_kg_per_m3 == as_remembered("1400", "kg/m3", "PVC: density", copied=True)


@pytest.mark.outside("data/members.csv", "materials.members", source="worked-apart")
@pytest.mark.parametrize("key", PVC)
def test_pvc_matches_the_independent_computation(key):
    """Second moment and mass to each digit; stiffness within 0.5 %, since its modulus is rounded."""
    pipe = members.load_members()[key]
    (moment, half), (mass, half_mass) = digits(PVC[key][0]), digits(PVC[key][2])
    ours, name = pipe.second_moment_mm4 / 25.4**4, pipe.label
    assert ours == as_worked(moment, "in4", f"{name}: second moment", abs=half * (1 + 1e-9))
    assert pipe.mass_kg_per_m == as_worked(mass, "kg/m", f"{name}: mass", abs=half_mass * (1 + 1e-9))
    stiffness = pipe.modulus_pa * pipe.second_moment_mm4 * 1e-12
    assert stiffness == as_worked(float(PVC[key][1]), "N m2", f"{name}: bending stiffness", rel=0.005)


@pytest.mark.outside("data/members.csv", "materials.members", source="worked-apart")
def test_emt_is_25_times_stiffer_than_pvc_of_the_same_name():
    """The comparison that a reader asks first: 3/4 in EMT against 3/4 in PVC."""
    emt, pvc = members.find("emt-3/4"), members.find("pvc-3/4")
    ratio = emt.modulus_pa * emt.second_moment_mm4 / (pvc.modulus_pa * pvc.second_moment_mm4)
    assert ratio == as_worked(25.0, "", "stiffness of 3/4 in EMT over that of 3/4 in PVC", abs=0.5)


# nds-spf: design values of spruce-pine-fir No. 2 as printed, and ps20 sizes from memory
PSI = {
    "allowed_bending_mpa": ("875", "bending"), "allowed_tension_mpa": ("450", "tension"),
    "allowed_compression_mpa": ("1150", "compression along the grain"), "allowed_shear_mpa": ("135", "shear"),
    "allowed_bearing_mpa": ("425", "compression across the grain"),
}  # fmt: skip


@pytest.mark.outside("data/members.csv", source="nds-spf")
@pytest.mark.parametrize("key", ["timber-2x2", "timber-2x4", "timber-2x6", "timber-4x4"])
def test_timber_has_the_printed_design_values(key):
    """Psi as printed; moduli in units of a thousand."""
    timber, psi = members.load_members()[key], 0.00689475729
    for name, (printed, what) in PSI.items():
        assert getattr(timber, name) / psi == as_printed(printed, "psi", f"{timber.label}: {what}")
    assert timber.modulus_gpa / psi == as_printed("1400", "ksi", f"{timber.label}: modulus")
    assert timber.modulus_min_gpa / psi == as_printed("510", "ksi", f"{timber.label}: least modulus")
    assert timber.specific_gravity == as_printed("0.42", "", f"{timber.label}: specific gravity")


@pytest.mark.outside("data/members.csv", source="ps20")
@pytest.mark.parametrize(
    ("key", "sides"),
    {"timber-2x2": ("1.5", "1.5"), "timber-2x4": ("1.5", "3.5"), "timber-2x6": ("1.5", "5.5"),
     "timber-4x4": ("3.5", "3.5")}.items(),
)  # fmt: skip
def test_timber_has_its_dressed_size(key, sides):
    """Inches, from memory."""
    timber = members.load_members()[key]
    for inch, mm, what in zip(sides, (timber.outer_mm, timber.depth_mm), ("width", "depth"), strict=True):
        assert mm / 25.4 == as_remembered(f"{inch}0", "in", f"{key}: dressed {what}")


@pytest.mark.outside("data/members.csv", "materials.members", source="worked-apart")
@pytest.mark.parametrize("key", TIMBER)
def test_timber_stiffness(key):
    """EI of dressed timber at 1 400 000 psi, worked by another program."""
    timber = members.load_members()[key]
    stiffness = timber.modulus_pa * timber.second_moment_mm4 * 1e-12
    assert stiffness == as_worked(digits(TIMBER[key])[0], "N m2", f"{key}: bending stiffness", rel=5e-4)


def test_timber_bends_the_other_way_too():
    """Weak axis of a 2x4: the ratio of the second moments is the square of the ratio of the sides."""
    timber = members.find("2x4")
    assert timber.second_moment_mm4 / timber.second_moment_weak_mm4 == pytest.approx((3.5 / 1.5) ** 2)
    assert timber.section_modulus_mm3 / timber.section_modulus_weak_mm3 == pytest.approx(3.5 / 1.5)


# wire-gauge, seen in a general reference table [mm]
GAUGES = {"wire-9": "3.767", "wire-12": "2.680", "wire-14": "2.032", "wire-16": "1.588"}


@pytest.mark.outside("data/members.csv", source="wire-gauge")
@pytest.mark.parametrize("key", GAUGES)
def test_wire_gauge(key):
    """Diameter of each gauge as printed; wire carries no push."""
    wire = members.load_members()[key]
    assert wire.outer_mm == as_printed(GAUGES[key], "mm", f"{wire.label}: diameter")
    assert wire.tension_only


TYPED = {
    "emt-1": "emt-1",
    "EMT 1": "emt-1",
    "1 in EMT": "emt-1",
    "EMT 1 in": "emt-1",
    "1": "emt-1",
    '1"': "emt-1",
    "1in": "emt-1",
    "emt1": "emt-1",
    "EMT_3/4": "emt-3/4",
    "3/4 inch conduit": "emt-3/4",
    "EMT 1-1/4": "emt-1-1/4",
    "1 1/4": "emt-1-1/4",
    "1¼ in EMT": "emt-1-1/4",
    "1.25 emt": "emt-1-1/4",
    "½": "emt-1/2",
    "2 in EMT": "emt-2",
    "PVC 3/4": "pvc-3/4",
    "3/4 in PVC schedule 40": "pvc-3/4",
    "1 in sch 40 PVC": "pvc-1",
    "2x4": "timber-2x4",
    "2 x 6 lumber": "timber-2x6",
    "timber 4 × 4": "timber-4x4",
    "10 mm rebar": "bar-10",
    "12 ga wire": "wire-12",
    "12.5 gauge wire": "wire-12.5",
}


@pytest.mark.parametrize(("typed", "key"), TYPED.items())
def test_a_member_is_found_as_people_write_it(typed, key):
    """Many spellings, one member; a bare size is EMT."""
    assert members.find(typed).key == key


def test_every_key_and_label_finds_its_own_member():
    """What we print can be typed back."""
    for key, member in members.load_members().items():
        assert members.find(key) is member
        assert members.find(member.label) is member


@pytest.mark.parametrize(
    "typed", ["emt-7/8", "EMT 3", "7/8 in EMT", "0", "1/0", "-1", "rubber hose", "", "1e1", None, 1.0]
)
def test_a_tube_that_does_not_exist_lists_those_there_are(typed):
    """The sentence names the sizes."""
    with pytest.raises(
        InputError, match=r"^member: got .*, needs a size there is in EMT: 1/2, 3/4, 1, 1-1/4, 1-1/2 or 2 in"
    ):
        members.find(typed)


def test_a_missing_size_of_another_family_lists_that_family():
    """PVC is answered with PVC, timber with timber."""
    with pytest.raises(InputError, match="in PVC schedule 40: 1/2, 3/4, 1, 1-1/4 or 1-1/2 in"):
        members.find("PVC 3")
    with pytest.raises(InputError, match="in timber: 2x2, 2x4, 2x6 or 4x4 in"):
        members.find("3x9")


@given(st.text(max_size=30))
def test_any_text_finds_a_member_or_says_why_not(typed):
    """No text crashes the search."""
    try:
        found = members.find(typed).key
    except InputError:
        return
    assert found in members.load_members()


def header_and(row: str) -> str:
    """Return a members table with one row."""
    return ",".join(members.SCHEMA) + "\n" + row + "\n"


OWN = (
    "mine,emt,my tube,9/9,tube,{outer},none,{wall},200,77,207,none,none,none,none,none,none,none,"
    "7850,3000,none,none,own,own"
)


def test_a_readers_own_table_replaces_ours():
    """Only the reader's members are there, and ours come back afterwards."""
    own = members.load_members(header_and(OWN.format(outer=25, wall=1.5)))
    assert list(own) == ["mine"]
    assert own["mine"].inner_mm == 22
    assert "emt-1" in members.load_members()


def test_bore_typed_as_wall_is_refused():
    """The message says which input, what came, the limit and the way out."""
    with pytest.raises(InputError, match=r"^mine: wall_mm: got 13, needs 0 < wall < 12\.5 mm\. Measure the wall, not"):
        members.load_members(header_and(OWN.format(outer=25, wall=13)))
    with pytest.raises(InputError, match="wall_mm: got nothing"):
        members.load_members(header_and(OWN.format(outer=25, wall="none")))


@given(st.sampled_from(sorted(members.load_members())))
def test_every_member_is_physically_possible(key):
    """Inside the table: a positive bore, a mass of the right order, weak axis not above the strong one."""
    member = members.load_members()[key]
    assert 0 <= member.inner_mm < member.outer_mm
    assert member.second_moment_weak_mm4 <= member.second_moment_mm4
    assert member.torsion_mm4 <= member.second_moment_mm4 + member.second_moment_weak_mm4 + 1e-9
    assert 0.01 < member.mass_kg_per_m < 5
