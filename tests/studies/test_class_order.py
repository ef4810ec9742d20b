"""Class orders: lists read cell by cell, everything cut once, shares that add up and never exceed buying alone."""

import math
from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printed import as_worked

import gardenframe
from gardenframe import builds
from gardenframe.costs import cutting
from gardenframe.costs.cutting import plan_cuts
from gardenframe.errors import InputError, TableError
from gardenframe.studies import class_cutting
from gardenframe.studies.class_order import order, to_the_cent
from gardenframe.studies.class_order_reading import headings_of, names_of, plain, read_class, short_key, template
from gardenframe.studies.class_sheets import sheets_of

# an invented class; Heron's arch and Moss's trellis cannot be planned
CLASS = """alias,build,units,width,height,bays,tube,covering
Fern,trellis,us,6 ft,5 ft 6 in,,,
Wren,trellis,metric,2.4 m,1830 mm,3,,
Moss,trellis,metric,90 m,1.8 m,,,
Heron,walkway arch,,,2300,,emt-9,
Sorrel,Cold frame,us,5 ft,,,EMT 3/4 in,
Dock,trellis,us,6 ft,5 ft 6 in,,,
"""


@pytest.fixture(scope="module", autouse=True)
def _time_enough():
    """Give the quick cutting plans of single kits time enough on a busy machine."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cutting, "LIVE_S", 5.0)
        yield


@pytest.fixture(scope="module")
def made(_time_enough):
    """Return the order of the invented class."""
    return order(CLASS)


def first_fit_decreasing(pieces, stock, kerf):
    """Return the sticks that first-fit decreasing needs, written for this test."""
    left = []
    for piece in sorted(pieces, reverse=True):
        for place, room in enumerate(left):
            if room >= piece + kerf:
                left[place] -= piece + kerf
                break
        else:
            left.append(stock - piece)
    return len(left)


def test_bad_cells_are_named_and_good_lines_planned(made):
    """Two lines of six are refused, each by its cell; the other four are planned as their own cells say."""
    assert [kit.alias for kit in made.kits] == ["Fern", "Wren", "Sorrel", "Dock"]
    told = [str(problem) for problem in made.problems]
    assert len(told) == 2
    assert told[0].startswith("your table, line 4, column width: got '90 m', needs ")
    assert told[1].startswith("your table, line 5, column tube: got 'emt-9', needs one of: ")
    (fern,) = [entry for entry in read_class(CLASS).entries if entry.alias == "Fern"]
    assert fern.build.width_m == pytest.approx(1.8288)  # 6 ft of 304.8 mm
    assert fern.build.height_m == pytest.approx(1.6764)  # 66 in of 25.4 mm
    assert fern.build == builds.Trellis().changed(width_m=fern.build.width_m, height_m=fern.build.height_m)


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (",trellis,,,", r"line 2, column alias: got nothing, needs 1 to 30 letters"),
        ("Fern,trellis,,,\nfern,trellis,,,", r"line 3, column alias: got 'fern', needs each used once; it .* line 2"),
        ("Fern,pergola,,,", r"line 2, column build: got 'pergola', needs one of trellis, walkway_arch"),
        ("Fern,trellis,imperial,,", r"line 2, column units: got 'imperial', needs metric or us"),
        ("Fern,trellis,,1.8,", r"column width: got '1.8', needs .* A bare number means mm: write the unit behind it"),
        ("Fern,trellis,us,6,", r"column width: got '6', needs .* A bare number means inches: write the unit behind it"),
        ("Fern,trellis,,six,", r"column width: got 'six', needs a length such as"),
        ("Fern,trellis,,6 kg,", r"column width: got '6 kg', needs a length .* kg is the unit of a mass"),
        ("Fern,trellis,,=2+2,", r"column width: got '=2\+2', needs the value itself\. It starts like a spreadsheet"),
        ("Fern,walkway_arch,,,two", r"column bays: got 'two', needs an empty cell: Walkway arch has no such field"),
        ("Fern,trellis,,,2.5", r"column bays: got '2.5', needs a whole number"),
        ("Fern,trellis,,1.8 m,2,extra", r"line 2: got 6 cells, needs 5 cells\. A comma inside a cell"),
    ],
)
def test_each_bad_cell_has_its_sentence(lines, sentence):
    """Line, column, what came, what is needed."""
    listed = read_class(f"alias,build,units,width,bays\nGood,trellis,,,\n{lines}".replace("Good,trellis,,,\n", "", 1))
    assert len(listed.problems) == 1
    with pytest.raises(TableError, match=sentence):
        raise listed.problems[0]


@pytest.mark.parametrize(
    ("table", "sentence"),
    [
        ("alias,width\nFern,2 m", r"column build: got no such column, needs the columns alias and build\. Start from"),
        ("alias,build\n", r"got no rows, needs at least one row"),
        ("alias,build,width,Width\nFern,trellis,,", r"column Width: got the same column twice"),
    ],
)
def test_a_list_that_cannot_be_read_says_why(table, sentence):
    """Nothing is planned of a list whose columns are not known."""
    with pytest.raises(TableError, match=sentence):
        read_class(table)


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_list_pasted_or_saved_with_other_separators_is_read(separator):
    """Spreadsheets paste tabs, and many save semicolons with a comma in numbers; several choices then have quotes."""
    rows = [["alias", "build", "width", "animals"], ["Fern, 1st", "trellis", "1,83 m", ""],
            ["Wren", "enclosure", "12 ft", '"rabbit; vole"'], ["Dock", "shed", "", ""]]  # fmt: skip
    listed = read_class("\ufeff" + "\r\n".join(separator.join(row) for row in rows))
    assert [entry.alias for entry in listed.entries] == ["Fern, 1st", "Wren"]
    assert listed.entries[0].build.width_m == pytest.approx(1.83)
    assert listed.entries[1].build.width_m == pytest.approx(3.6576)
    assert listed.entries[1].build.animals == ("rabbit", "vole")
    assert [problem.line for problem in listed.problems] == [4]


def test_a_misspelt_heading_is_told_and_only_its_empty_lines_are_planned():
    """What stands under an unknown heading is never silently dropped."""
    listed = read_class("alias,build,widht\nFern,trellis,2 m\nWren,trellis,\n")
    assert [entry.alias for entry in listed.entries] == ["Wren"]
    assert "column widht: got a heading that no build has" in str(listed.problems[0])
    assert "line 2, column widht: got '2 m'" in str(listed.problems[1])


def test_nothing_that_can_be_planned_is_refused_in_one_sentence():
    """A class of bad lines alone ends in a sentence that names the first."""
    with pytest.raises(InputError, match=r"needs at least one\. your table, line 2, column build: got 'shed'"):
        order("alias,build\nFern,shed\n")


@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_template_is_read_back_as_every_build_is(system):
    """Each line of the template is that build's own default, to the last mark of a tape."""
    listed = read_class(template(system=system))
    assert not listed.problems
    assert [entry.build.key for entry in listed.entries] == list(builds.ALL)
    for entry in listed.entries:
        usual = type(entry.build)()
        for field in usual.fields():
            value, known = getattr(entry.build, field.key), getattr(usual, field.key)
            assert value == (pytest.approx(known, abs=25.4e-3 / 32 + 1e-9) if isinstance(known, float) else known)


def test_headings_drop_the_unit_and_nothing_else():
    """No two fields of a build share a heading."""
    for kind in builds.ALL.values():
        names = names_of(kind)
        assert len(set(names.values())) == len(names) == len(kind.fields())
        for key, name in names.items():
            assert headings_of(kind)[plain(name)] == key
            assert short_key(key) == name or short_key(key) in names


def test_every_piece_is_cut_once_and_every_stick_is_long_enough(made):
    """The sheets hold each kit's pieces under its own marks, and pieces and cuts fit the stick."""
    asked, cut = Counter(), Counter()
    for kit in made.kits:
        plan = gardenframe.plan(next(e.build for e in read_class(CLASS).entries if e.alias == kit.alias), live=True)
        for piece in plan.cut:
            asked[piece.member, f"{kit.number}-{piece.mark}", piece.cut] += piece.count
    for member, sheet in made.sheets.items():
        for stick in sheet:
            at = 0
            for piece in stick.cuts:
                cut[member, piece.mark, piece.length] += 1
                assert piece.mark.startswith(f"{piece.kit}-")
                assert piece.end == at + piece.length
                at = piece.end + made.cutting[member].kerf
            assert stick.cuts[-1].end <= stick.stock
            assert stick.left == max(0, stick.stock - at)
        assert [stick.number for stick in sheet] == list(range(1, made.cutting[member].sticks + 1))
    assert cut == asked


def test_no_more_sticks_than_first_fit_and_within_one_percent_of_the_bound(made):
    """The rule of thumb on all pieces of the class is never better."""
    for member, found in made.cutting.items():
        pieces = [p.cut for kit in made.kits for p in kit.pieces if p.member == member for _ in range(p.count)]
        assert found.sticks <= first_fit_decreasing(pieces, 3048, 1)
        assert found.cost <= 1.01 * found.lower_bound
    assert made.sticks <= sum(kit.sticks_alone for kit in made.kits)


@pytest.mark.outside("costs.bill", "studies.class_order", source="second-method")
def test_the_bill_counts_what_all_kits_need():
    """Fittings of all plans, five in a hundred more for loss, rounded up once for the class and not for each."""
    made = order(CLASS)
    wanted = Counter()
    for entry in read_class(CLASS).entries:
        for fitted in gardenframe.plan(entry.build, live=True).fitted:
            if fitted.key:
                wanted[fitted.key] += fitted.count
    bought = {row.item: row.needed for row in made.bill_rows if row.group == "fittings"}
    counted = {item: math.ceil(number * 1.05 - 1e-9) for item, number in wanted.items()}
    assert list(bought) == list(counted)
    assert list(bought.values()) == as_worked(list(counted.values()), "", "fittings of a class, counted", abs=0.0)


def test_paint_is_bought_for_the_cut_ends_of_all(made):
    """Two ends of each tube: one can serves about 200 of them, as its price says, and not one for each person."""
    tubes = sum(p.count for kit in made.kits for p in kit.pieces if p.member.startswith("emt"))
    (row,) = [row for row in made.bill_rows if row.item == "zinc-paint"]
    assert (row.needed, row.bought) == (2 * tubes, math.ceil(2 * tubes / 200))


def test_shares_add_up_to_the_bill_and_nobody_pays_more_than_alone(made):
    """To the cent; whoever builds the same pays the same but for a cent."""
    assert sum(made.shares.values()) == pytest.approx(round(made.cost.usual, 2), abs=1e-9)
    for kit in made.kits:
        assert 0 < made.shares[kit.number] <= kit.alone_cost.usual + 0.01
    fern, dock = (next(kit.number for kit in made.kits if kit.alias == name) for name in ("Fern", "Dock"))
    assert made.shares[fern] == pytest.approx(made.shares[dock], abs=0.011)
    assert 0 < made.sure_saving <= made.saving + 1e-9
    assert made.saving == pytest.approx(made.alone - made.cost.usual)


@pytest.mark.outside("studies.class_order", source="second-method")
@given(st.lists(st.floats(0, 1e4), min_size=1, max_size=40))
def test_cents_add_up(amounts):
    """No amount moves by more than a cent, and the sum is the sum."""
    rounded = to_the_cent(dict(enumerate(amounts)))
    cents = float(sum(Decimal(amount) for amount in amounts) * 100)
    told = round(sum(rounded.values()) * 100)
    assert told == as_worked(cents, "cents", "shares to the cent, their exact sum", abs=0.501)
    assert all(abs(rounded[n] - amount) < 0.01 + 1e-9 for n, amount in enumerate(amounts))


def test_what_is_at_hand_counts_for_the_class_and_not_for_those_who_buy_alone(made):
    """Two leftovers of 2 m and a bag of couplers make the class's order cheaper, not the comparison."""
    item = next(row.item for row in made.bill_rows if row.group == "fittings")
    own = gardenframe.Shop(leftovers={"emt-1": {2000: 2}}, on_hand={item: 3})
    with_own = order(CLASS, shop=own)
    assert with_own.alone == pytest.approx(made.alone)
    assert with_own.cutting["emt-1"].used_at_hand == {2000: 2}
    assert with_own.cost.usual < made.cost.usual
    (row,) = [row for row in with_own.bill_rows if row.item == item]
    assert row.on_hand == 3
    assert sum(with_own.shares.values()) == pytest.approx(round(with_own.cost.usual, 2), abs=1e-9)


def test_strips_of_several_people_come_from_one_roll():
    """Six trellises of one strip each do not buy six rolls where two or three hold all strips."""
    six = "alias,build,width,height\n" + "".join(f"g{n},trellis,1.8 m,1.8 m\n" for n in range(6))
    made = order(six)
    ((width, rolls),) = made.rolls.items()
    strips = [n for kit in made.kits for n, count in kit.strips[width].items() for _ in range(count)]
    assert len(strips) >= 6
    assert sum(n * many * times for _, content, times in rolls.patterns for n, many in content.items()) == sum(strips)
    rolled = [row for row in made.bill_rows if row.item.startswith("roll-")]
    assert sum(row.bought for row in rolled) < 6
    assert all(cost.cost == pytest.approx(cost.price * cost.bought) for cost in rolled)


def test_strength_waits_until_it_is_asked_for(monkeypatch):
    """Without asking, no frame is solved; with asking, each kit carries the hardest of its own plan's checks."""
    one = "alias,build\nFern,trellis\n"
    plan = gardenframe.plan(builds.Trellis(), live=True)
    rows = [*plan.check_rows, *plan.standing.anchors.rows]
    (kit,) = order(one, strength=True).kits
    assert kit.hardest[1] == pytest.approx(max(row.ratio for row in rows))

    def refuse(**_):
        raise AssertionError

    monkeypatch.setattr("gardenframe.road.Standing", refuse)
    assert order(one).kits[0].hardest is None


def test_progress_is_told_from_first_to_last():
    """Planning counts up, and the end is told."""
    seen = []
    order(CLASS, progress=lambda done, to_do, what: seen.append((done, to_do, what)))
    planning = [done for done, _, what in seen if what.startswith("planning")]
    assert planning == list(range(5))[: len(planning)]
    assert len(planning) == 4
    assert any(what.startswith("cutting") for _, _, what in seen)
    assert seen[-1] == (4, 4, "done")


@pytest.mark.outside("studies.class_sheets", "costs.cutting", source="second-method")
def test_a_person_whose_pieces_fill_a_stick_gets_them_from_that_stick():
    """Three kits of 1000 + 1000 + 1000 and three of 1500 + 1500: six sticks, and no stick is shared."""
    wanted = {n: [(f"{n}-R1", 1000)] * 3 if n <= 3 else [(f"{n}-P1", 1500)] * 2 for n in range(1, 7)}
    plan = plan_cuts([1000, 1500], [9, 6], 3000)
    assert plan.sticks == as_worked(6, "sticks", "sticks that six people fill to the last", abs=0.0)
    assert [stick.kits for stick in sheets_of("emt-1", plan, wanted)] == [(n,) for n in range(1, 7)]


@given(st.lists(st.lists(st.integers(100, 3000), min_size=1, max_size=6), min_size=1, max_size=6))
@settings(deadline=None, max_examples=30)
def test_sheets_hold_every_piece_once(kits):
    """Whatever the kits are, each piece is on one stick, and kits stand in order there."""
    wanted = {n: [(f"{n}-{length}", length) for length in lengths] for n, lengths in enumerate(kits, 1)}
    counts = Counter(length for lengths in kits for length in lengths)
    plan = plan_cuts(list(counts), list(counts.values()), 3048, 1, live=True)
    sheets = sheets_of("emt-1", plan, wanted)
    assert Counter((c.mark, c.length) for s in sheets for c in s.cuts) == Counter(
        piece for own in wanted.values() for piece in own
    )
    assert all(list(stick.kits) == sorted(stick.kits) for stick in sheets)
    assert Counter(tuple(sorted(c.length for c in s.cuts)) for s in sheets) == Counter(
        tuple(sorted(s.pieces)) for s in plan.sticks_list()
    )


def test_the_plan_for_all_is_never_dearer_than_everybody_alone():
    """Where cutting for all falls behind, everybody's own sticks are taken as they are."""
    poor = plan_cuts([1000], [6], [(1000, 5.0, None), (3000, 9.0, None)])
    alone = [((3000, {1000: 3}, 1),), ((3000, {1000: 3}, 1),)]
    worse = replace(poor, cost=99.0)
    mended = class_cutting.not_above(worse, alone, [(1000, 5.0, None), (3000, 9.0, None)])
    assert (mended.cost, mended.sticks, mended.bought) == (18.0, 2, {3000: 2})
    assert class_cutting.not_above(poor, alone, [(1000, 5.0, None), (3000, 9.0, None)]) is poor


@given(st.lists(st.lists(st.integers(300, 2900), min_size=1, max_size=5), min_size=2, max_size=6))
@settings(deadline=None, max_examples=25)
def test_own_sticks_are_kept_only_where_that_costs_nothing(kits):
    """Same pieces, same cost, every stick long enough, and no more kits to a stick than before on the whole."""
    stock = [(3048, 20.0, None)]
    alone = [plan_cuts(list(c), list(c.values()), stock, 1).patterns for c in (Counter(lengths) for lengths in kits)]
    counts = Counter(length for lengths in kits for length in lengths)
    best = plan_cuts(list(counts), list(counts.values()), stock, 1)
    kept = class_cutting.kept_together(best, alone, stock)
    made = Counter()
    for length, content, times in kept.patterns:
        assert sum((n + 1) * many for n, many in content.items()) - 1 <= length
        for piece, many in content.items():
            made[piece] += many * times
    assert made == counts
    assert (kept.cost, kept.sticks, kept.lower_bound) == (best.cost, best.sticks, best.lower_bound)


def test_two_people_whose_own_sticks_serve_keep_them():
    """Mixed or apart it takes two sticks, so each gets their own."""
    stock = [(3000, 9.0, None)]
    alone = [((3000, {2000: 1, 900: 1}, 1),), ((3000, {1900: 1, 1000: 1}, 1),)]
    best = plan_cuts([2000, 1900, 1000, 900], [1, 1, 1, 1], stock)
    mixed = replace(best, patterns=((3000, {2000: 1, 1000: 1}, 1), (3000, {1900: 1, 900: 1}, 1)))
    kept = class_cutting.kept_together(mixed, alone, stock)
    assert {tuple(content) for _, content, _ in kept.patterns} == {(2000, 900), (1900, 1000)}
    assert (kept.cost, kept.proven) == (18.0, True)
