"""Plants, soils, fixings, constants, cautions and sources against published figures and each other."""

import math

import pytest
from printed import as_printed, as_remembered, as_worked

from gardenframe.errors import InputError, TableError
from gardenframe.materials import cautions, constants, fixings, members, plants, soils, sources

# crop-memory: height of each crop [m] and spacing [in], low to high
PLANT_RANGES = {
    "pea": (0.6, 1.8, 2, 3),
    "pole-bean": (1.8, 2.4, 4, 6),
    "cucumber": (1.5, 2.0, 12, 12),
    "tomato": (1.8, 2.4, 18, 24),
    "melon": (1.5, 1.8, 18, 24),
}


@pytest.mark.outside("data/plants.csv", source="crop-memory")
@pytest.mark.parametrize("key", PLANT_RANGES)
def test_plants_stand_and_climb_as_remembered(key):
    """Heights as remembered, the spacing inside the remembered range."""
    low, high, near, far = PLANT_RANGES[key]
    plant = plants.find(key)
    assert plant.height_low_m == as_remembered(str(low), "m", f"{key}: least height", copied=True)
    assert plant.height_high_m == as_remembered(str(high), "m", f"{key}: most height", copied=True)
    assert near - 0.5 <= plant.spacing_mm / 25.4 <= far + 0.5


# crop-memory: what one plant hangs on its wire at its fullest [kg]; one number where no range is told
HANGS = {
    "cucumber": ("4", "6"), "melon": ("3", "6"), "squash": ("5", "10"), "grape": ("10", "15"),
    "pole-bean": "1.5", "pea": "0.7",
}  # fmt: skip


@pytest.mark.outside("data/plants.csv", source="crop-memory")
@pytest.mark.parametrize("key", HANGS)
def test_plants_hang_as_heavy_as_remembered(key):
    """Ends of the remembered range, or the usual mass where one number is told."""
    plant, told = plants.find(key), HANGS[key]
    if isinstance(told, str):
        assert plant.mass_usual_kg_per_plant == as_remembered(told, "kg", f"{key}: usual mass of a plant", copied=True)
        return
    low, high = told
    assert plant.mass_low_kg_per_plant == as_remembered(low, "kg", f"{key}: least mass of a full plant", copied=True)
    assert plant.mass_high_kg_per_plant == as_remembered(high, "kg", f"{key}: most mass of a full plant", copied=True)


@pytest.mark.outside("data/plants.csv", source="ncsu-tomato")
def test_tomato_weighs_what_the_growers_page_prints():
    """ncsu-tomato: a plant full of fruit weighs 7 to 14 kg; 2 plants a metre then hang 137 to 275 N/m."""
    tomato = plants.find("tomato")
    assert tomato.mass_low_kg_per_plant == as_printed("7", "kg", "tomato plant full of fruit, least", copied=True)
    assert tomato.mass_high_kg_per_plant == as_printed("14", "kg", "tomato plant full of fruit, most", copied=True)
    hangs = 2 * tomato.mass_high_kg_per_plant * 9.81
    assert hangs == as_worked(275, "N/m", "two such tomatoes a metre", source="worked-apart", abs=0.5)


@pytest.mark.outside("data/plants.csv", source="iowa-hop")
def test_hop_weighs_what_the_extension_page_prints():
    """iowa-hop: up to 30 lb a plant; at 3.5 ft that is 125 N/m; the trellis stands about 20 ft high."""
    hop = plants.find("hop")
    assert hop.mass_high_kg_per_plant / 0.45359237 == as_printed("30", "lb", "hop plant, most", copied=True)
    hangs = hop.mass_high_kg_per_m * 9.81
    assert hangs == as_worked(30 * 4.4482216 / (3.5 * 0.3048), "N/m", "hops 3.5 ft apart", "second-method", rel=0.01)
    assert hop.height_high_m / 0.3048 == as_printed("20", "ft", "trellis of hops")


def test_every_plant_grows_and_can_be_picked():
    """Mass and wind share rise from stage to stage; the full mass is that of the table."""
    for plant in plants.load_plants().values():
        masses = [plant.stage_mass_kg_per_m(stage) for stage in plants.STAGES]
        assert masses == sorted(masses)
        assert masses[-1] == pytest.approx(plant.mass_high_kg_per_plant * 1000 / plant.spacing_mm)
        shares = [plant.solidity(stage) for stage in plants.STAGES]
        assert shares == sorted(shares)
        assert plant.mass_kg_per_m <= plant.mass_high_kg_per_m
        assert plant.hand_opening_mm in (100, 150)


def test_the_plants_that_readers_ask_for_are_there():
    """The climbers of the trellis, each with a botanical family for rotation."""
    wanted = {"pea", "pole-bean", "cucumber", "tomato", "melon", "squash", "grape", "hop", "sweet-pea"}
    climbers = {key for key, plant in plants.load_plants().items() if plant.climber}
    assert wanted <= climbers
    assert all(plant.family.endswith("aceae") for plant in plants.load_plants().values())


def test_an_unknown_plant_or_stage_is_named():
    """The sentence lists what there is."""
    with pytest.raises(InputError, match=r"^plant: got 'triffid', needs one of pea, "):
        plants.find("triffid")
    with pytest.raises(InputError, match=r"^growth stage: got 'ripe', needs one of young, half, full\."):
        plants.find("pea").solidity("ripe")


def test_a_shrinking_plant_is_refused():
    """A reader's own plant whose low mass is above its usual one."""
    head = ",".join(plants.SCHEMA)
    row = "own,own,Fabaceae,tie,1,2,100,3,2,4,0.1,0.2,0.3,100,no,own,own,own"
    with pytest.raises(InputError, match=r"^own: mass_low_kg_per_plant: got 3, needs at most 2, its mass_usual"):
        plants.load_plants(f"{head}\n{row}\n")


# ibc-1806, ibc-1610: lateral bearing [psf/ft], bearing [psf], active [pcf]; the gravel lateral value is from memory
SOILS = {
    "sand": (150, 2000, 30),
    "silty-sand": (150, 2000, 45),
    "gravel": (200, 3000, 30),
    "clay": (100, 1500, 60),
}


@pytest.mark.parametrize("key", SOILS)
def test_soils_hold_the_code_values(key):
    """As printed, and in SI through 1 psf = 47.880 Pa (a published conversion)."""
    lateral, bearing, active = SOILS[key]
    soil = soils.find(key)
    assert (soil.lateral_psf_per_ft, soil.bearing_psf, soil.active_pcf) == (lateral, bearing, active)
    assert soil.lateral_pa_per_m == pytest.approx(lateral * 47.880 / 0.3048, rel=1e-5)
    assert soil.bearing_pa == pytest.approx(bearing * 47.880, rel=1e-5)


def test_equivalent_fluid_of_clean_sand():
    """30 pcf is 4.71 kN/m3, so that 0.45 m pushes with 0.477 kN/m (recomputed)."""
    active = soils.find("sand").active_n_per_m3
    assert active / 1000 == as_printed("4.71")
    assert active * 0.45**2 / 2 / 1000 == as_printed("0.477")


def test_loose_garden_soil_is_never_better_than_clay():
    """What we guess is on the cautious side of every code value, and says that it is a guess."""
    loose = soils.find("garden-soil")
    for soil in soils.load_soils().values():
        if soil.lateral_pa_per_m is not None:
            assert loose.lateral_pa_per_m <= soil.lateral_pa_per_m
            assert loose.bearing_pa <= soil.bearing_pa
    assert sources.how_known(loose.lateral_source) == "invented"


def test_fillings_have_no_value_for_anchors():
    """A bed's filling anchors nothing, and wet soil is never lighter than moist."""
    for soil in soils.load_soils().values():
        assert soil.fill is (soil.lateral_pa_per_m is None)
        assert soil.wet_kg_per_m3 >= soil.density_kg_per_m3
        assert soil.wet_weight_n_per_m3 == pytest.approx(soil.wet_kg_per_m3 * 9.81)
        assert soil.unit_weight_n_per_m3 == pytest.approx(soil.density_kg_per_m3 * 9.81)
        if soil.lateral_source:
            assert sources.how_known(soil.lateral_source)
    with pytest.raises(InputError, match=r"^soil: got 'moon', needs one of garden-soil, sand"):
        soils.find("moon")


def test_every_tube_has_its_straps_caps_and_sleeve():
    """Each EMT size can be strapped, capped and sleeved; each PVC size strapped and capped."""
    for member in members.load_members().values():
        if member.family in ("emt", "pvc"):
            assert fixings.fixing_for("end_cap", member.key).fits == member.key
            assert fixings.fixing_for("strap_two_hole", member.key).fits == member.key
        if member.family == "emt":
            assert fixings.fixing_for("ground_sleeve", member.key).fits == member.key
    for fixing in fixings.load_fixings().values():
        assert fixing.fits is None or fixing.fits in members.load_members()


def test_every_kind_of_fixing_is_sold():
    """No kind that only the schema knows; cable ties hold the remembered 50 lbf."""
    assert {fixing.kind for fixing in fixings.load_fixings().values()} == set(fixings.KINDS)
    assert fixings.fixing_for("cable_tie").holds_n == pytest.approx(50 * 4.4482216, rel=0.02)


def test_a_fixing_that_is_not_made_in_that_size_is_named():
    """The sentence lists the sizes made."""
    with pytest.raises(InputError, match=r"^fixing: got 'strap_one_hole for pvc-1', needs one made for emt-1/2"):
        fixings.fixing_for("strap_one_hole", "pvc-1")
    with pytest.raises(InputError, match=r"^fixing: got 'glue', needs a kind that the fixings table has"):
        fixings.fixing_for("glue")


def test_constants_agree_with_the_published_ones_in_other_units():
    """29 000 and 11 200 ksi, 36, 80 and 24 in, 3-1/2 and 9 in, 1000 lb."""
    ksi_gpa = 0.00689475729
    assert constants.value("steel_modulus_gpa") == pytest.approx(29_000 * ksi_gpa, rel=1e-3)
    assert constants.value("steel_shear_modulus_gpa") == pytest.approx(11_200 * ksi_gpa, rel=1e-3)
    inches = {"path_clear_mm": 36, "headroom_mm": 80, "reach_mm": 24, "head_trap_low_mm": 3.5, "head_trap_high_mm": 9}
    for key, inch in inches.items():
        assert constants.value(key) == pytest.approx(inch * 25.4, abs=0.7)
    assert constants.value("stake_hold_n") == pytest.approx(1000 * 4.4482216, abs=0.5)
    for member in members.load_members().values():
        if member.family in ("emt", "bar", "wire"):
            assert member.modulus_gpa == constants.value("steel_modulus_gpa")
            assert member.shear_modulus_gpa == constants.value("steel_shear_modulus_gpa")
            assert member.density_kg_per_m3 == constants.value("steel_density_kg_per_m3")
    with pytest.raises(InputError, match=r"^constant: got 'c', needs a key of constants\.csv"):
        constants.value("c")


def test_a_constants_unit_ends_its_key():
    """The name alone says the unit."""
    for constant in constants.load_constants().values():
        assert math.isfinite(constant.value)
        if constant.unit is not None:
            assert constant.key.endswith("_" + constant.unit.lower().replace("/", "_per_").replace(" ", "_"))


def test_cautions_of_every_build_come_first_and_once():
    """Tags pick cautions in the order of the table, each once."""
    chosen = cautions.cautions_for(["stakes", "always", "net", "nothing-of-the-kind"])
    keys = [caution.key for caution in chosen]
    assert keys == [key for key in cautions.load_cautions() if key in keys]
    assert len(keys) == len(set(keys))
    assert {"overhead-lines", "wildlife-net", "stake-test"} <= set(keys)
    assert "heater-fumes" not in keys


def test_the_cautions_from_the_start_are_always_there():
    """Lines, services, eyes and hands, burrs, zinc, caps, climbing, two people."""
    told = " ".join(caution.text for caution in cautions.cautions_for(["always"])).lower()
    for word in (
        "overhead lines",
        "buried services",
        "eye",
        "gloves",
        "ream",
        "zinc",
        "cap every",
        "climbing",
        "two people",
    ):
        assert word in told


def test_every_named_caution_has_its_sentences():
    """What the later builds name: each has a tag and at least one caution with its word."""
    wanted = {
        "net": "birds",
        "snow": "snow",
        "heater": "monoxide",
        "heat": "heat",
        "ladder": "ladder",
        "bending": "bend",
        "digging": "dig|hole",
        "children": "child",
        "sharp_mesh": "sharp",
        "head_trap": "head",
        "deck": "deck",
        "treated_timber": "treated",
        "lifting": "lift",
        "tension_wire": "wire",
        "electricity": "residual-current",
        "tipping": "tips",
        "water_stand": "floor",
        "lamp": "lamps",
        "fish": "welfare",
        "climbing": "climbing",
    }
    for tag, words in wanted.items():
        told = " ".join(caution.text for caution in cautions.cautions_for([tag], strict=True)).lower()
        assert any(word in told for word in words.split("|")), tag


def test_no_caution_or_price_calls_anything_safe():
    """Nothing is promised: where `safe` stands it is denied or names glass."""
    for caution in cautions.load_cautions().values():
        text = caution.text.lower().replace("makes a structure safe", "").replace("safety glazing", "")
        assert " safe" not in text
        assert caution.text.endswith(".")
        assert caution.text.count(". ") <= 1


def test_an_unknown_caution_tag_is_named_when_asked_to():
    """For the tests of builds: a mistyped tag does not pass."""
    with pytest.raises(InputError, match=r"^caution: got 'nett', needs a tag that cautions\.csv has"):
        cautions.cautions_for(["nett"], strict=True)


def test_sources_say_how_they_are_known():
    """A line for the page; an unknown key is named; a reader's own table is read by the same rules."""
    assert sources.how_known("ibc-1806-memory") == "memory"
    assert sources.load_sources()["wire-gauge"].line.endswith("(seen)")
    with pytest.raises(InputError, match=r"^source: got 'hearsay', needs a key of sources\.csv"):
        sources.how_known("hearsay")
    head = "source,title,edition,place,url,read_on,how_known\n"
    with pytest.raises(TableError, match=r"column how_known: got 'guess', needs one of seen, computed, memory"):
        sources.load_sources(head + "x,y,none,none,none,none,guess\n")
