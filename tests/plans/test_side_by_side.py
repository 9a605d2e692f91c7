"""Kits side by side: parts matched by what they do, what differs, and what is common to both cancels."""

from math import hypot, pi, sqrt

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.part_differences import compared
from kitbuilder.plans.side_by_side import Row, SideBySide, Total, are_versions, set_side_by_side
from tests.assess.kits import (
    CASES_FOLDER,
    SALT,
    WHOLE,
    assessed,
    changed,
    config,
    hose_text,
    kit_of,
    with_keys,
    without,
)

SINGLE, LAKE, TWINSET, SIDEMOUNT = (config(name) for name in WHOLE)
TECHNICAL = tuple((CASES_FOLDER / "technical" / f"{name}.toml").read_text("utf-8") for name in ("twin", "twinstage"))


def beside(*texts: str) -> SideBySide:
    return set_side_by_side([assessed(text) for text in texts])


def hoses(*tables: str) -> str:
    """A kit of hoses only."""
    return f'format = 1\nname = "hoses"\nlayout = "single"\n{SALT}\n' + "".join(tables)


def tags(row: Row) -> tuple[str | None, ...]:
    """The tags of what does the same in each kit."""
    return tuple(side and side.item.tag for side in row.sides)


def by_function(found: SideBySide) -> dict[tuple[str, ...], list[tuple[str | None, ...]]]:
    """The tags of all rows by what they do."""
    rows: dict[tuple[str, ...], list[tuple[str | None, ...]]] = {}
    for row in found.rows:
        rows.setdefault(row.functions, []).append(tags(row))
    return rows


def only_row(found: SideBySide) -> Row:
    [row] = found.rows
    return row


def total(found: SideBySide, name: str) -> Total:
    [total] = [each for each in found.totals if each.name == name]
    return total


# --- what does the same -----------------------------------------------------------------------------------------------


def test_the_shipped_single_against_the_twinset() -> None:
    """Read from the files: octopus and long hose are given; the one keeps its primary, the other its necklace.

    The twinset has a stage, which its file gives no first stage and no regulator.
    """
    found = by_function(beside(SINGLE, TWINSET))
    assert {functions: rows for functions, rows in found.items() if functions[0] not in GEAR} == {
        ("breathed",): [("primary hose", "long hose")],
        ("given",): [("octopus hose", "long hose")],
        ("kept",): [("primary hose", "necklace hose")],
        ("inflator hose",): [("inflator hose", "wing hose")],
        ("suit hose",): [(None, "drysuit hose")],
        ("gauge",): [("gauge hose", "gauge hose")],
        ("first stage",): [("first", "right post"), (None, "left post")],
        ("cylinder",): [("hire cylinder", "right cylinder"), (None, "left cylinder")],
        ("stage",): [(None, "stage")],
        ("wing or jacket",): [("jacket", "wing")],
        ("suit",): [("suit", "drysuit")],
        ("light",): [(None, "canister torch")],
    }


GEAR = {
    *("fins", "mask", "hood", "wrist computer", "back-plate", "harness", "manifold", "cylinder bands", "stage rigging"),
}


def test_a_row_that_is_the_same_for_two_functions_stands_once() -> None:
    """Both long hoses are breathed and given."""
    found = by_function(beside(LAKE, TWINSET, SIDEMOUNT))
    assert found["breathed", "given"] == [("long hose", "long hose", "long hose")]
    assert found["kept",] == [("necklace hose", "necklace hose", "short hose")]
    assert found["gauge",] == [
        ("gauge hose", "gauge hose", "right gauge hose"),
        ("transmitter", None, "left gauge hose"),
    ]


def test_regulators_of_a_stage_are_a_function_of_their_own() -> None:
    """The case file `twinstage.toml` has a regulator and a gauge on its stage; `twin.toml` has neither."""
    found = by_function(beside(*TECHNICAL))
    assert [row[0] for row in found["stage regulator",]] == [None]
    assert [row[0] for row in found["stage gauge",]] == [None]


def test_a_spare_is_beside_spares_and_is_neither_breathed_nor_worn() -> None:
    """A second mask in the bag is no mask of the dive; two spare masks of one preset are the same."""
    spare = '[[other]]\ntag = "second mask"\npreset = "mask"\nin_spares = true\n'
    found = by_function(beside(SINGLE + spare, TWINSET))
    assert found["mask",] == [("mask", "mask")]
    assert found["spare",] == [("second mask", None)]
    [row] = [row for row in beside(SINGLE + spare, TWINSET + spare).rows if row.functions == ("spare",)]
    assert row.is_equal


def test_within_a_function_equal_tags_go_together_and_the_rest_by_the_order_of_the_files() -> None:
    """Tag first, then place; who is left over stands alone."""
    left = hoses(*(hose_text(tag=tag, role="gauge") for tag in ("a", "b", "c")))
    right = hoses(*(hose_text(tag=tag, role="gauge") for tag in ("x", "b")))
    assert set(map(tags, beside(left, right).rows)) == {("b", "b"), ("a", "x"), ("c", None)}


def test_kits_that_share_no_function() -> None:
    """Nothing beside anything, and no error."""
    found = beside(hoses(hose_text(tag="gauge", role="gauge")), hoses(hose_text(tag="suit", role="drysuit")))
    assert list(map(tags, found.rows)) == [(None, "suit"), ("gauge", None)]
    assert not any(row.is_equal for row in found.rows)
    assert all(row.differs("fit", "mass") for row in found.rows)


# --- what differs -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", WHOLE)
def test_a_kit_differs_in_nothing_from_itself(name: str) -> None:
    """Neither in a row, a sum nor a finding, be it there twice or four times."""
    for times in (2, 4):
        found = beside(*[config(name)] * times)
        assert found.rows
        assert found.equal_rows == found.rows
        assert not any(total.differs for total in found.totals)
        assert found.findings == ((),) * times


@pytest.mark.parametrize(("left", "right"), [(SINGLE, TWINSET), (TWINSET, SIDEMOUNT), TECHNICAL])
def test_sides_changed_over_are_a_mirror(left: str, right: str) -> None:
    """The same rows, sums and findings with left for right."""
    there, back = beside(left, right), beside(right, left)

    def rows(found: SideBySide, step: int) -> set[tuple[object, ...]]:
        return {(row.functions, tags(row)[::step], frozenset(row.differs_in)) for row in found.rows}

    assert rows(there, 1) == rows(back, -1)
    assert there.findings == back.findings[::-1]
    for one, other in zip(there.totals, back.totals, strict=True):
        assert (one.figures, one.differs) == (other.figures[::-1], other.differs)
        change, back_again = one.changes[0].change, other.changes[0].change
        assert (change is None) is (back_again is None) is (None in one.figures)
        if change and back_again:
            assert (change.value, change.spread) == pytest.approx((-back_again.value, back_again.spread))


HOSE = {"from_end": "LP 3/8", "to_end": "second stage 9/16", "run": "70 cm", "span": "38 cm"}


@pytest.mark.parametrize(
    ("change", "differs_in"),
    [
        ({"length": "90 cm"}, {"length", "fit", "mass"}),
        ({"body": "braided"}, {"body", "mass"}),
        ({"to_end": "second stage 1/2"}, {"ends"}),
        ({"to_adapter": "elbow 90"}, {"adapters", "fit", "mass"}),
        ({"run": "60 cm"}, {"fit"}),
        ({"make": "grey"}, set()),
        ({"owned": "red"}, set()),
        ({"notes": "old"}, set()),
        ({"tag": "red"}, set()),
        ({"stowed": "0 cm"}, set()),
        ({"bore": "6 mm"}, set()),
    ],
)
def test_in_what_two_hoses_differ(change: dict[str, str], differs_in: set[str]) -> None:
    """As `sameness` judges, and in what follows: length, body and adapters weigh, another run only lies otherwise.

    In the catalogue both ends of second stages have 38 g; an elbow has 50 g and is 2.5 cm long. Rubber has 104 g/m and
    braid 65 g/m. What only one file gives (make, bore) does not decide. Buoyancy has tests of its own.
    """
    row = only_row_of_breathed(hoses(hose_text(**HOSE)), hoses(hose_text(**(HOSE | change))))
    assert set(row.differs_in) - {"buoyancy"} == differs_in


def only_row_of_breathed(left: str, right: str) -> Row:
    """The row of the one hose, which is breathed and given."""
    row = only_row(beside(left, right))
    assert row.functions == ("breathed", "given")
    return row


@pytest.mark.parametrize(
    ("said", "also"),
    [
        ({"length": "84 in"}, {"length": "7 ft"}),
        ({"length": "35 cm"}, {"length": "0.35 m"}),
        ({"measured": "end to end"}, {}),
        ({"from_end": "LP 3/8"}, {}),
        ({"run": "70 cm", "span": "70 cm"}, {"run": "70 cm"}),
    ],
)
def test_what_means_the_same_is_equal(said: dict[str, str], also: dict[str, str]) -> None:
    """Another unit, or a key left out where the format says what it means."""
    assert only_row(beside(hoses(hose_text(**said)), hoses(hose_text(**also)))).is_equal


def test_a_stated_make_differs_from_another_one() -> None:
    left, right = (hoses(hose_text(make=make)) for make in ("grey", "blue"))
    assert only_row(beside(left, right)).differs_in == ("make",)


def test_the_same_gear_in_other_water_is_the_same() -> None:
    """Fins float otherwise in fresh water, and are the same fins; the sums show it."""
    found = beside(TWINSET, changed(TWINSET, ('"ocean"', '"fresh"')))
    assert {row.functions for row in found.rows} == {row.functions for row in found.equal_rows}
    assert total(found, "everything_buoyancy_kgf").differs


def test_gas_filling_and_reserve_of_a_cylinder() -> None:
    """Air where no gas is given: a key as written does not decide, what it means does."""
    air = changed(SINGLE, ('gas     = "nitrox 31"', ""))
    [row] = [row for row in beside(SINGLE, air).rows if row.functions == ("cylinder",)]
    assert "gas" in row.differs_in
    assert not {"cylinder", "filling"} & set(row.differs_in)
    said = changed(air, ('filled  = "200 bar"', 'filled  = "200 bar"\ngas = "air"'), ('reserve = "50 bar"', ""))
    [row] = [row for row in beside(air, said).rows if row.functions == ("cylinder",)]
    assert row.is_equal


def test_the_lift_of_a_wing_counts_beyond_its_spread() -> None:
    """The twinset gives 23 kg; 30 kg is more than the makers' tolerance of some per cent."""
    [row] = [each for each in beside(TWINSET, with_keys(TWINSET, "wing", lift="30 kg")).rows if "wing" in tags(each)]
    assert row.differs_in == ("lift",)


# --- sums -------------------------------------------------------------------------------------------------------------

SUMS = ("hoses_mass_kg", "hoses_buoyancy_kgf", "everything_mass_kg", "everything_buoyancy_kgf", "lead_needed_kg")


def figures_of(kit: Assessment) -> tuple[Figure, ...]:
    assert kit.balance is not None
    weights = (kit.all_hoses, kit.everything)
    return *(figure for weight in weights for figure in (weight.mass, weight.buoyancy)), kit.balance.lead


def test_the_sums_are_those_of_the_kits() -> None:
    """And the difference that of their values, in which the body and what else is common cancel."""
    found = beside(TWINSET, SIDEMOUNT)
    for name, left, right in zip(SUMS, *map(figures_of, found.kits), strict=True):
        sums = total(found, name)
        assert sums.figures == (left, right)
        change = sums.changes[0].change
        assert change is not None
        assert change.value == pytest.approx(right.value - left.value)
        assert change.spread <= hypot(left.spread, right.spread) * 1.000001
        assert sums.differs is (abs(change.value) > change.spread)
    lead = total(found, "lead_needed_kg")
    assert lead.changes[0].change is not None
    assert lead.changes[0].change.spread < hypot(*(figure.spread for figure in lead.figures if figure))


def test_lead_carried_and_droppable() -> None:
    """By the files: 4 pieces of 1 kg on a belt; 2 of 1 kg between the cylinders, which cannot be dropped."""
    found = beside(SINGLE, TWINSET)
    carried, droppable = total(found, "lead_carried_kg"), total(found, "lead_droppable_kg")
    assert [figure and figure.value for figure in carried.figures] == [4.0, 2.0]
    assert [figure and figure.value for figure in droppable.figures] == [4.0, 0.0]
    assert carried.differs and droppable.differs


def test_the_lead_of_a_kit_without_a_cylinder_is_not_known() -> None:
    lead = total(beside(TWINSET, hoses(hose_text())), "lead_needed_kg")
    assert (lead.figures[1], lead.changes[0].change, lead.differs) == (None, None, True)


def test_every_kit_is_compared_with_the_first() -> None:
    lead = total(beside(SINGLE, TWINSET, SIDEMOUNT), "lead_carried_kg")
    assert [each.change and each.change.value for each in lead.changes] == [-2.0, 2.0]


def test_what_is_common_to_both_kits_cancels_in_the_difference() -> None:
    """JCGM 100:2008, 5.2.2: a hose 15 cm longer is heavier by 15 cm of rubber, ± what those may be off.

    82 to 105 to 125 g/m: a mean of 105 + (20 - 23)/4, a deviation of the root of (23^2 + 20^2)/6 - (3/4)^2. The density
    of the wall lies evenly within 100 kg/m3 on a ring of 11.95 and 6.4 mm, 11 to 12 to 12.8 mm having that mean. The
    ends, the stated length of the same hose and all the other hoses are no part of it.
    """
    by_diameter, by_density = sqrt((23**2 + 20**2) / 6 - 0.75**2), 100 / sqrt(3) * pi / 4 * (11.95**2 - 6.4**2) / 1e3
    longer = with_keys(TWINSET, "drysuit hose", length="90 cm")
    found = beside(TWINSET, longer)
    change = difference(found.kits[1].all_hoses.mass, found.kits[0].all_hoses.mass, "")
    assert change.value == pytest.approx(0.15 * 0.10425)
    assert change.combined == pytest.approx(0.15e-3 * 1.959964 * hypot(by_diameter, by_density), rel=1e-3)
    assert change.spread < found.kits[0].all_hoses.mass.spread / 10


def test_the_order_of_a_file_is_no_difference() -> None:
    """The same items the other way round: nothing differs, and the difference is zero without a spread."""
    kit = kit_of(SIDEMOUNT)
    found = set_side_by_side([assess(resolve(kit)), assess(resolve(Kit(kit.header, kit.items[::-1])))])
    assert not any(total.differs for total in found.totals)
    for sums in found.totals:
        change = sums.changes[0].change
        assert change is not None
        assert (change.value, change.spread) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_the_difference_between_bodies_keeps_both_doubts() -> None:
    """Braided for rubber: two bodies, each with a spread of its own, and the ends cancel.

    Means by hand: 104.25 g/m of rubber, 64 + (13 - 9)/4 of braid (55 to 77 g/m), and ends of 2.2 + (0.8 - 0.7)/4 cm.
    """
    braided = hoses(hose_text(body="braided"))
    change = difference(
        beside(hoses(hose_text()), braided).kits[1].all_hoses.mass, assessed(hoses(hose_text())).all_hoses.mass, ""
    )
    assert change.value == pytest.approx(-(0.75 - 2 * 0.02225) * (0.10425 - 0.065))
    assert not any("mass of" in source and share for source, share in change.components.items())
    assert {source for source in change.components if "diameter" in source} == {
        "outside diameter of LP rubber hose",
        "outside diameter of LP braided hose",
    }


def test_what_two_figures_have_in_common_cancels() -> None:
    """By hand: 3.0 less 2.0 is 1.0; a scale that is off by 0.1 is off in both; the rest by 0.3 and 0.4, so 0.5."""
    left, right = Figure(2.0, {"scale": 0.1, "one": 0.3}, ""), Figure(3.0, {"scale": 0.1, "other": 0.4}, "")
    found = compared(left, right)
    assert found.change is not None
    assert found.change.value == pytest.approx(1.0)
    assert found.change.spread == pytest.approx(0.5)
    assert found.differs


@pytest.mark.parametrize(
    ("left", "right", "spread", "differs"),
    [
        (0.1 + 0.2, 0.3, 0.0, False),
        (0.3, 0.301, 0.0, True),
        (2.0, 2.4, 0.5, False),
        (2.0, 2.6, 0.5, True),
        (2.6, 2.0, 0.5, True),
        (None, 0.3, 0.0, True),
        (0.3, None, 0.0, True),
        (None, None, 0.0, False),
    ],
)
def test_figures_differ_by_more_than_their_spread(
    left: float | None, right: float | None, spread: float, differs: bool
) -> None:
    """A difference within what it may be off is none, and neither is one in the last bits of a sum."""
    one = None if left is None else Figure(left, {}, "")
    other = None if right is None else Figure(right, {"scale": spread}, "")
    assert compared(one, other).differs is differs


# --- findings, and versions -------------------------------------------------------------------------------------------


def test_a_finding_that_only_one_has() -> None:
    """The long hose cut to 150 cm is too short for its run of 182 cm; nothing else changes for the worse."""
    found = beside(TWINSET, with_keys(TWINSET, "long hose", length="150 cm"))
    gone, new = ([(each.rule, each.item) for each in findings] for findings in found.findings)
    number = next(number for number, item in enumerate(found.kits[0].kit.items) if item.tag == "long hose")
    assert ("too short", number) in new
    assert not [rule for rule, item in gone if item == number]


def test_findings_about_the_same_function_are_the_same_whatever_the_item_is_called() -> None:
    """One tag renamed throughout: no finding is gone or new."""
    renamed = SINGLE.replace('"octopus hose"', '"yellow hose"')
    assert beside(SINGLE, renamed).findings == ((), ())


@pytest.mark.parametrize(
    ("change", "expected"),
    [((), True), ((("25 m", "20 m"),), True), ((("Reef single, warm water", "Pool"),), False)],
)
def test_two_kits_of_one_name_and_layout_are_versions(change: tuple[tuple[str, str], ...], expected: bool) -> None:
    assert are_versions([assessed(SINGLE), assessed(changed(SINGLE, *change))]) is expected
    assert are_versions([assessed(SINGLE)] * 3) is False
    assert are_versions([assessed(SINGLE), assessed(without(changed(SINGLE, *change), "mask"))]) is expected
