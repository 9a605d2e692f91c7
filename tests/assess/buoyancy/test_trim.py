"""Trim: where items sit, which way they turn the diver, and what levels him."""

from math import atan2, copysign, hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.balance import work_out_balance
from kitbuilder.assess.buoyancy.buoyancy_model import AS_IT_IS, Switches
from kitbuilder.assess.buoyancy.item_weight import lead_mass
from kitbuilder.assess.buoyancy.trim import Pitch, Pull, Trim, place_of
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.items import Cylinder, Drysuit, Item, Kit, Lead, Other
from kitbuilder.kit.resolved import resolve
from tests.assess.kits import PLAIN, WHOLE, beside, config, kit_of, number_of, swapped, with_items
from tests.laws import tried

pytestmark = pytest.mark.usefixtures("usual_values")

KITS = {name: kit_of(config(name)) for name in WHOLE}
KIT = kit_of(PLAIN)
STATURE = 1.78
FEW = tried(20)


def trim(kit: Kit, switches: Switches = AS_IT_IS) -> Trim:
    found = work_out_balance(resolve(kit, beside()), assess_water(kit.header), switches)
    assert found is not None
    return found.trim


def spot(kit: Kit, tag: str) -> Pull:
    """Where the item of that tag sits."""
    number = number_of(kit, tag)
    [found] = [each for each in trim(kit).spots if each.item == number]
    return found


def moment(pitch: Pitch) -> float:
    """Plus puts the head down [kgf m]."""
    return pitch.kit.value + pitch.body.value


# --- where items sit -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "along", "behind"),
    [
        ({}, 0.21 * STATURE, 0.0),  # the waist
        ({"place": "ankles"}, 0.76 * STATURE, 0.0),
        ({"place": "upper cylinder"}, 0.05 * STATURE, 0.24),
        ({"place": "ankles", "along_m": 0.4}, 0.4, 0.0),
        ({"place": "upper cylinder", "behind_m": 0.1}, 0.05 * STATURE, 0.1),
        ({"along_m": -0.2, "behind_m": -0.3}, -0.2, -0.3),
    ],
)
def test_a_place_beats_the_usual_one_and_a_measure_beats_the_place(
    keys: dict[str, object], along: float, behind: float
) -> None:
    """Shares of stature as in the table of places."""
    found = spot(swapped(KIT, "belt", **keys), "belt")
    assert (found.along.value, found.behind_m) == (pytest.approx(along), pytest.approx(behind))


def test_a_measured_place_is_narrower() -> None:
    """To 3 cm, where the waist may be anywhere within 2 % of stature and the feet within 5 %."""
    assert spot(swapped(KIT, "belt", along_m=0.4), "belt").along.components["where belt sits"] == pytest.approx(0.03)
    assert spot(KIT, "belt").along.components["where belt sits"] == pytest.approx(1.959964 / sqrt(3) * 0.02 * STATURE)


@pytest.mark.parametrize(
    ("item", "layout", "place"),
    [
        (Other(tag="fins", preset="fins, open heel rubber"), "single", "feet"),
        (Other(tag="fins", preset="fins, open heel rubber", place="hands"), "single", "hands"),
        (Other(tag="box"), "single", "trunk"),
        (Cylinder(tag="tank"), "twinset", "back cylinder"),
        (Cylinder(tag="tank"), "sidemount", "side cylinder"),
        (Cylinder(tag="tank", carried="stage"), "sidemount", "stage cylinder"),
        (Lead(tag="belt", mass_kg=1.0), "twinset", "waist"),
    ],
)
def test_where_items_usually_sit(item: Item, layout: str, place: str) -> None:
    """The file, then the preset, then the layout."""
    assert place_of(item, layout).name == place


@pytest.mark.parametrize("length_m", [0.5, 0.7])
def test_the_middle_of_a_cylinder_follows_its_size(length_m: float) -> None:
    """It hangs from 1 % of stature above the shoulders, 15 cm behind: half its length and half its width from there."""
    found = spot(swapped(KIT, "tank", length_m=length_m, diameter_m=0.18), "tank")
    assert found.along.value == pytest.approx(-0.01 * STATURE + length_m / 2)
    assert found.behind_m == pytest.approx(0.15 + 0.09)


# --- which way they turn ----------------------------------------------------------------------------------------------


@given(name=st.sampled_from(WHOLE), along=st.floats(-0.5, 1.5), further=st.floats(0.01, 1.0))
@FEW
def test_lead_moved_towards_the_feet_puts_them_down(name: str, along: float, further: float) -> None:
    """By its weight in water times the way, for a diver who lies level."""
    lead = Lead(tag="moved", mass_kg=2.0, along_m=along)
    before, after = (trim(with_items(swapped_lead(KITS[name]), each)) for each in (lead, moved(lead, further)))
    sinks = before.spots[-1].reserve.value
    assert moment(after.end) - moment(before.end) == pytest.approx(sinks * further, abs=1e-9)
    assert moment(after.end) < moment(before.end)
    if before.end.is_steady:
        assert after.end.pitch_rad > before.end.pitch_rad


def moved(lead: Lead, further: float) -> Lead:
    assert lead.along_m is not None
    return Lead(tag=lead.tag, mass_kg=lead.mass_kg, along_m=lead.along_m + further)


def swapped_lead(kit: Kit) -> Kit:
    """All lead in front of the belly, where it makes the diver steady."""
    for item in kit.items:
        if isinstance(item, Lead):
            kit = swapped(kit, item.tag, behind_m=-0.3)
    return kit


def test_a_steady_diver_with_heavy_ankles_hangs_head_up() -> None:
    """And head down with the lead at the shoulders."""
    low = swapped(KIT, "belt", behind_m=-0.3)
    up, down = (trim(swapped(low, "belt", along_m=along)).end for along in (1.35, -0.2))
    assert up.is_steady
    assert down.is_steady
    assert up.pitch_rad > 0.2 > -0.2 > down.pitch_rad


@pytest.mark.parametrize("name", WHOLE)
def test_the_pitch_by_moments(name: str) -> None:
    """Statics: the forces about the gas of the wing, and the body's weight 1.5 cm below its lift: tan p = -A/B."""
    kit = KITS[name]
    found = trim(kit)
    [wing] = [number for number, item in enumerate(kit.items) if item.kind in ("wing", "jacket")]
    [gas] = [each for each in found.spots if each.item == wing]
    for pitch in (found.start, found.end):
        forces = [each.filled.value if pitch.gas == "filled" else each.reserve.value for each in found.spots]
        arms = [(each.along.value - gas.along.value, each.behind_m - gas.behind_m) for each in found.spots]
        along = sum(force * arm for force, (arm, _) in zip(forces, arms, strict=True)) - 82.0 * 0.015
        behind = sum(force * arm for force, (_, arm) in zip(forces, arms, strict=True))
        assert moment(pitch) == pytest.approx(along)
        assert pitch.moment.value == pytest.approx(along)
        assert pitch.pitch_rad == pytest.approx(atan2(-copysign(1, behind) * along, abs(behind)))
        assert pitch.is_steady == (behind > 0)
        assert pitch.pitch_low_rad <= pitch.pitch_rad <= pitch.pitch_high_rad


@given(along=st.floats(-0.5, 1.5), behind=st.floats(-0.5, 0.5), mass=st.floats(0.1, 10))
@FEW
def test_a_item_that_does_not_pull_does_not_turn(along: float, behind: float, mass: float) -> None:
    """Neutral, wherever it sits."""
    neutral = Other(tag="neutral", mass_kg=mass, volume_m3=mass / 1025, along_m=along, behind_m=behind)
    before, after = trim(KIT).end, trim(with_items(KIT, neutral)).end
    assert moment(after) == pytest.approx(moment(before), abs=1e-9)
    assert after.pitch_rad == pytest.approx(before.pitch_rad, abs=1e-9)


def same(one: Pitch, other: Pitch) -> bool:
    """Whether two kits turn a diver alike, with the same certainty."""
    return (one.moment.value, one.moment.spread, one.pitch_rad, one.is_steady) == (
        pytest.approx(other.moment.value),
        pytest.approx(other.moment.spread),
        pytest.approx(other.pitch_rad),
        other.is_steady,
    )


def test_the_moment_is_that_of_kit_and_body_together() -> None:
    """What they share adds up: its spread is not that of two strangers, the body's own among them."""
    for pitch in (trim(KIT).start, trim(KIT).end):
        assert pitch.moment.value == pytest.approx(moment(pitch))
        components = [
            pitch.kit.components.get(name, 0.0) + pitch.body.components.get(name, 0.0)
            for name in pitch.moment.components
        ]
        assert pitch.moment.combined == pytest.approx(hypot(*components))
        assert pitch.moment.components.keys() == pitch.kit.components.keys() | pitch.body.components.keys()


@pytest.mark.parametrize(
    ("more", "switches"),
    [
        (Cylinder(tag="gone", preset="steel 7 L 232", carried="stage"), Switches(stages_lost=True)),
        (Lead(tag="gone", mass_kg=2.0, place="ankles", droppable=True), Switches(lead_dropped=True)),
    ],
    ids=["stages lost", "lead dropped"],
)
def test_without_what_is_gone_it_is_the_trim_of_the_kit_that_is_left(more: Item, switches: Switches) -> None:
    """From the beginning of the dive to its end, and in what would level the diver."""
    whole = with_items(KIT, more)
    left, asked, as_it_is = trim(KIT), trim(whole, switches), trim(whole)
    for there, here, before in zip(left[1:3], asked[1:3], as_it_is[1:3], strict=True):
        assert same(there, here)
        assert not same(here, before)
    assert asked.shift[:2] == (pytest.approx(left.shift.lead_m), pytest.approx(left.shift.pieces))
    assert asked.shift[2:] == left.shift[2:]


def test_with_all_lead_dropped_none_can_be_moved() -> None:
    """What is gone levels nobody."""
    assert trim(swapped(KIT, "belt", droppable=True), Switches(lead_dropped=True)).shift.lead_m is None


def test_a_flooded_suit_no_longer_lifts_where_it_sits() -> None:
    """13 L of gas in water of 1025 kg/m3, times the way from the gas of the wing."""
    kit = with_items(KIT, Drysuit(tag="drysuit", preset="trilaminate shell", suit_gas_m3=0.013, along_m=0.9))
    before, after = trim(kit), trim(kit, Switches(suit_flooded=True))
    arm = 0.9 - spot(kit, "wing").along.value
    for dry, flooded in ((before.start, after.start), (before.end, after.end)):
        assert flooded.moment.value - dry.moment.value == pytest.approx(-0.013 * 1025 * arm)
    assert same(trim(KIT, Switches(suit_flooded=True)).end, trim(KIT).end)


def test_a_full_wing_turns_nobody() -> None:
    """Moments are taken about its gas."""
    assert trim(KIT, Switches(wing_full=True)) == trim(KIT)


# --- what levels him --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", WHOLE)
def test_all_lead_moved_as_advised_levels_the_diver(name: str) -> None:
    """Plus is towards the head; worked out again, nothing turns him."""
    kit = KITS[name]
    shift = trim(kit).shift.lead_m
    assert shift is not None
    for item in kit.items:
        if isinstance(item, Lead):
            kit = swapped(kit, item.tag, along_m=spot(kit, item.tag).along.value - shift)
    assert moment(trim(kit).end) == pytest.approx(0, abs=1e-9)
    assert trim(kit).end.pitch_rad == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("name", WHOLE)
def test_pieces_moved_as_advised_level_the_diver(name: str) -> None:
    """From the waist to the upper cylinder, or to the ankles: as a piece there, and one less at the waist."""
    kit, pieces = KITS[name], trim(KITS[name]).shift.pieces
    assert pieces is not None
    where = "upper cylinder" if pieces > 0 else "ankles"
    there, gone = Lead(tag="there", mass_kg=abs(pieces), place=where), Lead(tag="gone", mass_kg=-abs(pieces))
    assert moment(trim(with_items(kit, there, gone)).end) == pytest.approx(0, abs=1e-9)


def test_without_lead_none_can_be_moved() -> None:
    """The pieces to take from a belt are named all the same."""
    bare = Kit(KIT.header, tuple(item for item in KIT.items if item.kind != "lead"))
    assert trim(bare).shift.lead_m is None


@pytest.mark.parametrize(("mass_kg", "leaves_body"), [(1.0, False), (0.1, True)])
def test_all_lead_is_moved_no_farther_than_the_shoulders(mass_kg: float, leaves_body: bool) -> None:
    """From the waist, at 21 % of 1.78 m, to the shoulders at 3 % are 32 cm; little lead would have to move farther."""
    found = trim(swapped(KIT, "belt", mass_kg=mass_kg)).shift
    assert found.lead_m is not None
    assert found.lead_m > 0
    assert (found.lead_m > 0.32) is leaves_body
    assert found.leaves_body is leaves_body


def test_pieces_are_taken_from_lead_at_the_waist() -> None:
    """A belt sits there unless the file says where; lead elsewhere, or on a belt that is dropped, does not."""
    worn = with_items(KIT, Lead(tag="spine", mass_kg=2.0, place="back"))
    on_belt = sum(lead_mass(item) for item in KIT.items if isinstance(item, Lead))
    assert trim(worn).shift.at_waist_kg == on_belt
    assert trim(swapped(worn, "belt", along_m=0.4)).shift.at_waist_kg == 0
    assert trim(swapped(worn, "belt", droppable=True), Switches(lead_dropped=True)).shift.at_waist_kg == 0
