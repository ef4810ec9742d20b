"""What animals ask for, against the figures of extension services, and what a set of them asks for together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from printed import as_printed, as_remembered

from gardenframe.errors import InputError
from gardenframe.materials import animals, constants, sources

MM = {"in": 25.4, "ft": 304.8}
# [S] rows: animal, part, inches (or feet) as printed, source key
PRINTED = [
    ("mouse", "opening", "0.25", "rodent-exclusion"),
    ("rat", "opening", "0.5", "rodent-exclusion"),
    ("vole", "opening", "0.25", "kstate-voles"),
    ("vole", "height", "12", "kstate-voles"),
    ("vole", "buried", "6", "kstate-voles"),
    ("rabbit", "opening", "1", "kstate-young-rabbits"),
    ("rabbit", "height", "30", "vpc5-barriers"),
    ("rabbit", "buried", "6", "vpc5-barriers"),
    ("rabbit", "apron", "6", "arizona-apron"),
    ("hare", "height", "3 ft", "nebraska-rabbits"),
    ("hare", "buried", "6", "vpc5-barriers"),
    ("hare", "apron", "6", "arizona-apron"),
    ("woodchuck", "opening", "2", "wvu-fence"),
    ("woodchuck", "height", "3 ft", "wvu-fence"),
    ("woodchuck", "buried", "12", "georgia-woodchuck"),
    ("woodchuck", "apron", "4", "georgia-woodchuck"),
    ("woodchuck", "overhang", "12", "wvu-fence"),
    ("deer", "height", "8 ft", "wildlife-damage-deer"),
]
WORDS = {
    "opening": "opening that keeps it out", "height": "height that it does not climb or jump",
    "buried": "depth that it does not dig under", "apron": "mesh laid flat outside", "overhang": "top bent outwards",
}  # fmt: skip


@pytest.mark.outside("data/animals.csv", source="animals-memory")
@pytest.mark.parametrize(
    ("key", "part", "printed", "source"), PRINTED, ids=[f"{key}-{part}" for key, part, *_ in PRINTED]
)
def test_figures_are_those_that_are_printed(key, part, printed, source):
    """As the named page prints them, to a millimetre, with that page as source."""
    animal = animals.find(key)
    number, _, unit = printed.partition(" ")
    ours_mm, unit = getattr(animal, f"{part}_mm"), unit or "in"
    assert ours_mm / MM[unit] == as_printed(number, unit, f"{animal.label}: {WORDS[part]}", source, copied=True)
    assert ours_mm == pytest.approx(float(number) * MM[unit], abs=0.8)
    assert getattr(animal, animals.SOURCE_OF[f"{part}_mm"]) == source
    assert sources.load_sources()[source].how_known == "seen"


# [M] rows as extension texts commonly give them: animal, part, inches, or millimetres of a net for insects
REMEMBERED = [
    ("rat", "buried", "12"), ("rat", "apron", "12"), ("squirrel", "opening", "0.50"), ("squirrel", "buried", "6.0"),
    ("raccoon", "height", "48"), ("raccoon", "overhang", "15"), ("raccoon", "apron", "12"), ("bird", "opening", "0.75"),
    ("pigeon", "opening", "1.50"), ("gopher", "floor", "0.50"), ("mole", "floor", "0.25"),
    ("raccoon", "opening", "2.0"), ("cat", "opening", "2.0"), ("mouse", "buried", "6.0"), ("hare", "opening", "1.5"),
    ("deer", "opening", "150 mm"), ("butterfly", "opening", "6 mm"), ("fruit-fly", "opening", "1 mm"),
    ("flea-beetle", "opening", "0.8 mm"), ("butterfly", "buried", "25 mm"), ("fruit-fly", "buried", "25 mm"),
    ("flea-beetle", "buried", "25 mm"),
]  # fmt: skip


@pytest.mark.outside("data/animals.csv", source="animals-memory")
def test_figures_from_memory_are_the_common_ones():
    """In the units in which they are told; where a range is told, a raccoon's top of 12 to 18 in, its middle."""
    for key, part, told in REMEMBERED:
        animal = animals.find(key)
        words = WORDS.get(part, "mesh under the whole bed")
        number, _, unit = told.partition(" ")
        ours = getattr(animal, f"{part}_mm") / MM.get(unit or "in", 1.0)
        assert ours == as_remembered(number, unit or "in", f"{animal.label}: {words}", copied=True)
        assert getattr(animal, animals.SOURCE_OF[f"{part}_mm"]) == "animals-memory"


def test_a_fence_is_never_promised_against_gophers():
    """vpc14-gopher: a fence sunk 61 cm with a lip turned in failed; a floor of mesh is what is left."""
    gopher = animals.find("gopher")
    assert not gopher.fence
    assert gopher.floor_mm == pytest.approx(12.7)
    assert gopher.opening_mm is None
    assert animals.asked_of(["gopher", "mole", "deer"]).unstopped == (gopher, animals.find("mole"))


def test_every_figure_has_a_source():
    """No figure stands without where it is from, and what is from memory is not dressed up as seen."""
    known = sources.load_sources()
    for animal in animals.load_animals().values():
        for part, source in animals.SOURCE_OF.items():
            if getattr(animal, part) is not None:
                assert getattr(animal, source) in known
    assert known["animals-memory"].how_known == "memory"


@given(st.sets(st.sampled_from(sorted(animals.load_animals())), min_size=1))
def test_a_set_asks_for_the_most_of_each(keys):
    """No animal of the set passes the opening asked for, jumps the height or digs under; adding one never asks less."""
    asked = animals.asked_of(keys)
    for key in keys:
        one = animals.find(key)
        assert one.opening_mm is None or asked.opening.value_mm <= one.opening_mm
        for part in ("height", "buried", "apron", "overhang"):
            assert (getattr(one, f"{part}_mm") or 0.0) <= getattr(asked, part).value_mm
    for part in ("opening", "height"):
        ask = getattr(asked, part)
        assert ask.animal is None or (ask.animal.key in keys and ask.source != "none")


def test_an_animal_that_is_not_there():
    """The sentence names those that are."""
    with pytest.raises(InputError, match=r"^animal: got 'unicorn', needs one of rabbit, hare, "):
        animals.find("unicorn")


def test_a_figure_without_a_source_is_refused():
    """Of a reader's own table, the first such row stops the read."""
    row = {name: "none" for name in animals.SCHEMA} | {
        "key": "otter", "label": "otters", "group": "mammal", "opening_mm": "50", "roof": "no", "fence": "yes",
        "gnaws": "no", "note": "x",
    }  # fmt: skip
    table = ",".join(row) + "\n" + ",".join(row.values()) + "\n"
    with pytest.raises(InputError, match="otter: opening_source: got nothing, needs the source of opening_mm"):
        animals.load_animals(table)


def test_a_wheelbarrow_is_narrower_than_a_wheelchair():
    """Both ways in are common figures: 30 in and 32 in."""
    assert constants.value("wheelbarrow_clear_mm") < constants.value("gate_clear_mm")
