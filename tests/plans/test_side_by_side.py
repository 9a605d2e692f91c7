"""Two kits side by side: hoses matched by role, what differs first, and what is common to both cancels."""

from math import hypot, pi, sqrt

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.side_by_side import Compared, Pair, SideBySide, compared, set_side_by_side
from tests.assess.kits import SALT, WHOLE, assessed, config, hose_text, kit_of, with_keys, without

TWINSET, SIDEMOUNT = config("twinset"), config("sidemount")


def beside(left: str, right: str) -> SideBySide:
    return set_side_by_side(assessed(left), assessed(right))


def hoses(*tables: str) -> str:
    """A kit of hoses only."""
    return f'format = 1\nname = "hoses"\nlayout = "single"\n{SALT}\n' + "".join(tables)


def tags(pair: Pair) -> tuple[str, str | None, str | None]:
    """Role and tags of a pair."""
    return pair.role, pair.left and pair.left.hose.tag, pair.right and pair.right.hose.tag


# --- pairs ------------------------------------------------------------------------------------------------------------


def test_hoses_of_one_role_make_a_pair_whatever_they_are_called() -> None:
    """The necklace of one kit is the short hose of the other."""
    pairs = {pair.role: tags(pair)[1:] for pair in beside(TWINSET, SIDEMOUNT).pairs if pair.role != "gauge"}
    assert pairs == {
        "long hose": ("long hose", "long hose"),
        "wing inflator": ("wing hose", "wing hose"),
        "necklace": ("necklace hose", "short hose"),
        "drysuit": ("drysuit hose", "drysuit hose"),
    }


def test_within_a_role_equal_tags_go_together() -> None:
    """In whatever order they stand."""
    one, other = hose_text(tag="one", role="gauge"), hose_text(tag="other", role="gauge")
    found = {tags(pair)[1:] for pair in beside(hoses(one, other), hoses(other, one)).pairs}
    assert found == {("one", "one"), ("other", "other")}


def test_the_rest_of_a_role_goes_by_the_order_of_the_files() -> None:
    """Tag first, then place; who is left over stands alone."""
    left = hoses(*(hose_text(tag=tag, role="gauge") for tag in ("a", "b", "c")))
    right = hoses(*(hose_text(tag=tag, role="gauge") for tag in ("x", "b")))
    found = {tags(pair)[1:] for pair in beside(left, right).pairs}
    assert found == {("b", "b"), ("a", "x"), ("c", None)}


def test_one_tag_in_two_roles_is_no_pair() -> None:
    """A hose that was called the same and does something else."""
    left, right = hoses(hose_text(tag="hose", role="primary")), hoses(hose_text(tag="hose", role="alternate"))
    assert [tags(pair) for pair in beside(left, right).pairs] == [
        ("primary", "hose", None),
        ("alternate", None, "hose"),
    ]


def test_missing_first_then_differing_then_equal() -> None:
    """What has to be bought, what has to be changed, what can stay."""
    found = [
        (pair.left is None or pair.right is None, bool(pair.differs_in)) for pair in beside(TWINSET, SIDEMOUNT).pairs
    ]
    assert found == sorted(found, reverse=True)
    changed = with_keys(without(TWINSET, "gauge hose"), "wing hose", length="66 cm")
    order = [tags(pair)[0] for pair in beside(TWINSET, changed).pairs]
    assert order[:2] == ["gauge", "wing inflator"]
    assert [pair.is_equal for pair in beside(TWINSET, changed).pairs] == [False, False, True, True, True]


# --- what differs -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", WHOLE)
def test_a_kit_differs_in_nothing_from_itself(name: str) -> None:
    """Neither in a pair nor in a total."""
    found = beside(config(name), config(name))
    assert found.pairs
    assert all(pair.is_equal for pair in found.pairs)
    assert not any(
        pair.build_differs or pair.ends_differ or pair.fit_differs or pair.weight_differs for pair in found.pairs
    )
    assert not any(total.differs for total in totals(found))


@pytest.mark.parametrize(
    ("change", "differs_in"),
    [
        ({"length": "80 cm"}, ("length",)),
        ({"body": "braided"}, ("body",)),
        ({"measured": "hose only"}, ("measured",)),
        ({"from_end": "LP 1/2"}, ("from_end",)),
        ({"from_adapter": "adapter 1/2 to 3/8"}, ("from_adapter",)),
        ({"to_end": "second stage 1/2"}, ("to_end",)),
        ({"to_adapter": "elbow 90"}, ("to_adapter",)),
        ({"run": "71 cm"}, ("run",)),
        ({"span": "39 cm"}, ("span",)),
        ({"stowed": "3 cm"}, ("stowed",)),
        ({"length": "80 cm", "body": "braided"}, ("body", "length")),
    ],
)
def test_a_pair_says_by_key_in_what_it_differs(change: dict[str, str], differs_in: tuple[str, ...]) -> None:
    """What changes the hose that is built or the way it lies."""
    plain = {"from_end": "LP 3/8", "to_end": "second stage 9/16", "run": "70 cm", "span": "38 cm"}
    [pair] = beside(hoses(hose_text(**plain)), hoses(hose_text(**(plain | change)))).pairs
    assert sorted(pair.differs_in) == sorted(differs_in)
    assert not pair.is_equal


@pytest.mark.parametrize(
    ("said", "also"),
    [
        ({"tag": "red"}, {"tag": "blue"}),
        ({"notes": "old"}, {"notes": "new"}),
        ({"length": "84 in"}, {"length": "7 ft"}),
        ({"length": "35 cm"}, {"length": "0.35 m"}),
        ({"measured": "end to end"}, {}),
        ({"stowed": "0 cm"}, {}),
        ({"run": "70 cm", "span": "70 cm"}, {"run": "70 cm"}),
    ],
)
def test_what_means_the_same_is_equal(said: dict[str, str], also: dict[str, str]) -> None:
    """A name, a note, another unit, or a key left out where the format says what it means."""
    [pair] = beside(hoses(hose_text(**said)), hoses(hose_text(**also))).pairs
    assert pair.is_equal


@pytest.mark.parametrize(
    ("change", "differing"),
    [
        ({"length": "80 cm"}, {"build", "fit", "weight"}),
        ({"body": "braided"}, {"build", "weight"}),
        ({"measured": "hose only"}, {"build", "fit", "weight"}),
        ({"to_end": "second stage 1/2"}, {"ends"}),
        ({"to_adapter": "elbow 90"}, {"ends", "fit", "weight"}),
        ({"run": "71 cm"}, {"fit"}),
        ({"span": "39 cm"}, {"fit"}),
        ({"owned": "red"}, set()),
    ],
)
def test_what_follows_from_a_difference_differs_as_well(change: dict[str, str], differing: set[str]) -> None:
    """Another length lies and weighs otherwise, another run only lies otherwise.

    In the catalogue both ends of second stages have 38 g, and an elbow has 50 g and is 2.5 cm long.
    """
    plain = {"from_end": "LP 3/8", "to_end": "second stage 9/16", "run": "70 cm", "span": "38 cm"}
    [pair] = beside(hoses(hose_text(**plain)), hoses(hose_text(**(plain | change)))).pairs
    found = {
        "build": pair.build_differs,
        "ends": pair.ends_differ,
        "fit": pair.fit_differs,
        "weight": pair.weight_differs,
    }
    assert {name for name, differs in found.items() if differs} == differing


def test_everything_differs_where_a_hose_is_missing() -> None:
    [pair] = beside(hoses(hose_text()), hoses()).pairs
    assert pair.build_differs and pair.ends_differ and pair.fit_differs and pair.weight_differs


def test_sides_changed_over_are_a_mirror() -> None:
    """Role by role, the same pairs with left for right."""
    there, back = beside(TWINSET, SIDEMOUNT), beside(SIDEMOUNT, TWINSET)
    assert {(pair.left, pair.right, pair.differs_in) for pair in map(Hashed, there.pairs)} == {
        (pair.right, pair.left, pair.differs_in) for pair in map(Hashed, back.pairs)
    }
    assert (there.left, there.right) == (back.right, back.left)


class Hashed:
    """A pair by the tags of its hoses."""

    def __init__(self, pair: Pair) -> None:
        self.role, self.left, self.right = tags(pair)
        self.differs_in = frozenset(pair.differs_in)


# --- totals -----------------------------------------------------------------------------------------------------------


def totals(found: SideBySide) -> tuple[Compared, ...]:
    return (found.hoses_mass, found.hoses_buoyancy, found.mass, found.buoyancy, found.lead)


def test_the_totals_are_those_of_the_kits() -> None:
    """And the difference that of their values, in which the body and what else is common cancel."""
    found = beside(TWINSET, SIDEMOUNT)
    expected = [
        (
            side.all_hoses.mass,
            side.all_hoses.buoyancy,
            side.everything.mass,
            side.everything.buoyancy,
            side.balance.lead,
        )
        for side in (found.left, found.right)
        if side.balance
    ]
    for total, left, right in zip(totals(found), *expected, strict=True):
        assert (total.left, total.right) == (left, right)
        assert total.change is not None
        assert total.change.value == pytest.approx(right.value - left.value)
        assert total.change.spread <= hypot(left.spread, right.spread) * 1.000001
    assert found.lead.change is not None
    assert found.lead.change.spread < hypot(expected[0][4].spread, expected[1][4].spread)


def test_the_lead_of_a_kit_without_a_cylinder_is_not_known() -> None:
    lead = beside(TWINSET, hoses(hose_text())).lead
    assert (lead.right, lead.change, lead.differs) == (None, None, True)


def test_what_is_common_to_both_kits_cancels_in_the_difference() -> None:
    """JCGM 100:2008, 5.2.2: a hose 15 cm longer is heavier by 15 cm of rubber, ± what those may be off.

    82 to 105 to 125 g/m: a mean of 105 + (20 - 23)/4, a deviation of the root of (23^2 + 20^2)/6 - (3/4)^2. The density
    of the wall lies evenly within 100 kg/m3 on a ring of 11.95 and 6.4 mm, 11 to 12 to 12.8 mm having that mean. The
    ends, the stated length of the same hose and all the other hoses are no part of it.
    """
    by_diameter, by_density = sqrt((23**2 + 20**2) / 6 - 0.75**2), 100 / sqrt(3) * pi / 4 * (11.95**2 - 6.4**2) / 1e3
    longer = with_keys(TWINSET, "drysuit hose", length="90 cm")
    found = beside(TWINSET, longer)
    change = difference(found.right.all_hoses.mass, found.left.all_hoses.mass, "")
    assert change.value == pytest.approx(0.15 * 0.10425)
    assert change.combined == pytest.approx(0.15e-3 * 1.959964 * hypot(by_diameter, by_density), rel=1e-3)
    assert change.spread < found.left.all_hoses.mass.spread / 10


def test_the_order_of_a_file_is_no_difference() -> None:
    """The same items the other way round: nothing differs, and the difference is zero without a spread."""
    kit = kit_of(SIDEMOUNT)
    found = set_side_by_side(assess(resolve(kit)), assess(resolve(Kit(kit.header, kit.items[::-1]))))
    assert not any(total.differs for total in totals(found))
    for total in totals(found):
        assert total.change is not None
        assert (total.change.value, total.change.spread) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_the_difference_between_bodies_keeps_both_doubts() -> None:
    """Braided for rubber: two bodies, each with a spread of its own, and the ends cancel.

    Means by hand: 104.25 g/m of rubber, 64 + (13 - 9)/4 of braid (55 to 77 g/m), and ends of 2.2 + (0.8 - 0.7)/4 cm.
    """
    braided = hoses(hose_text(body="braided"))
    change = difference(
        beside(hoses(hose_text()), braided).right.all_hoses.mass, assessed(hoses(hose_text())).all_hoses.mass, ""
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
    ("left", "right", "differs"),
    [(0.1 + 0.2, 0.3, False), (0.3, 0.301, True), (None, 0.3, True), (0.3, None, True), (None, None, False)],
)
def test_figures_differ_by_more_than_their_last_bits(left: float | None, right: float | None, differs: bool) -> None:
    one, other = (None if value is None else Figure(value, {}, "") for value in (left, right))
    assert compared(one, other).differs is differs
