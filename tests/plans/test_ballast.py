"""Ballast: the lead in other waters and with other cylinders, each with its spread, and what a float check does."""

from dataclasses import replace

import pytest

from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.items import Cylinder, Kit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.plans.ballast import (
    Ballast,
    ask_ballast,
    counterparts,
    own_cylinders,
    what_if,
    with_cylinders,
    with_water,
)
from tests.assess.kits import CONFIGS, OWN, PLAIN, balance_of, beside, config, float_check, kit_of, swapped

LAYOUTS = ("warm-single", "cold-single", "twinset", "sidemount")
METALS = {
    "warm-single": ("aluminium 11.1 L 207", "steel 10 L 232"),
    "cold-single": ("steel 15 L 232", "aluminium 13 L 228"),
    "twinset": ("steel 12 L 232 long", "aluminium 13 L 228"),
    "sidemount": ("steel 7 L 232", "aluminium 7 L 207"),
}
"""The kit's own cylinder, and one of the other metal that holds about as much gas."""


def around(name: str, *checks: FloatCheck) -> LinkedFiles:
    """The kit's own diver with float checks more."""
    found = resolve_at(CONFIGS / f"{name}.toml", kit_of(config(name))).linked
    assert found.diver is not None
    return found._replace(diver=Diver(found.diver.header, (*found.diver.items, *checks)))


def ask(name: str, *checks: FloatCheck) -> Ballast:
    own, other = METALS[name]
    return ask_ballast(resolve(kit_of(config(name)), around(name, *checks)), ("ocean", "fresh"), (own, other))


# --- the question of the tool -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_layout_is_answered_in_both_waters_with_both_metals(name: str) -> None:
    """A number with its spread; salt asks for more lead, and so does aluminium in place of as much gas in steel."""
    found = ask(name)
    lead = {}
    for water in ("ocean", "fresh"):
        for cylinder in METALS[name]:
            answer = found.answer(water, cylinder)
            assert answer is not None
            assert answer.balance.lead.spread > 0.5
            lead[water, cylinder.split()[0]] = answer.balance.lead.value
    assert lead["ocean", "steel"] > lead["fresh", "steel"]
    assert lead["ocean", "aluminium"] > lead["fresh", "aluminium"]
    assert lead["ocean", "aluminium"] > lead["ocean", "steel"]


@pytest.mark.parametrize("name", LAYOUTS)
def test_two_float_checks_narrow_the_spread_more_than_one(name: str) -> None:
    """Neutral at the stop with the kit's own lead and reserve; one may be a slip, two that agree hardly are."""
    kit = kit_of(config(name))
    checks = [float_check(tag, kit=f"{name}.toml") for tag in ("one", "two")]
    found = [what_if(resolve(kit, around(name, *checks[:count])), None, None) for count in range(3)]
    before, one, two = (each.lead.spread for each in found if each is not None)
    assert two < one < 0.6 * before


@pytest.mark.parametrize("name", LAYOUTS)
def test_a_float_check_helps_in_the_other_water_and_with_the_other_cylinder_too(name: str) -> None:
    """It tells of body and suit, which stay; never of less."""
    before, after = ask(name), ask(name, float_check(kit=f"{name}.toml"))
    for one, other in zip(before.answers, after.answers, strict=True):
        assert other.balance.lead.spread < one.balance.lead.spread


def test_a_check_speaks_of_the_kit_as_it_is_whatever_is_asked() -> None:
    """The same computed figure beside every answer: it was seen with the kit's own cylinder in the kit's own water."""
    kit, given = kit_of(PLAIN), beside(float_check(lead_kg=5.0))
    found = ask_ballast(resolve(kit, given), ("fresh",), ("steel 12 L 232 long",))
    [own] = balance_of(kit, given).checks
    for answer in found.answers:
        [check] = answer.balance.checks
        assert check.computed == own.computed
    assert found.checks[0].computed == own.computed


# --- waters and cylinders ---------------------------------------------------------------------------------------------


def test_the_usual_question_is_the_own_water_ocean_and_fresh() -> None:
    """With the kit's own cylinder and the nearest of each other metal."""
    kit = replace(kit_of(PLAIN), header=replace(kit_of(PLAIN).header, water="brackish"))
    found = ask_ballast(resolve(kit, beside()))
    assert found.waters == ("brackish", "ocean", "fresh")
    assert found.cylinders == (None, "steel 10 L 232")
    assert [(answer.water, answer.cylinder) for answer in found.answers] == [
        (water, cylinder) for water in found.waters for cylinder in found.cylinders
    ]


@pytest.mark.parametrize("name", LAYOUTS)
def test_the_counterpart_holds_about_as_much_gas(name: str) -> None:
    """Nearest by volume times pressure, from the table of cylinders."""
    assert counterparts(kit_of(config(name))) == METALS[name][1:]


def test_in_its_own_water_a_kit_stays_as_it_is() -> None:
    """A measured density is that of its own water only."""
    kit = kit_of(PLAIN)
    assert with_water(kit, "ocean") is kit
    other = with_water(kit, "fresh").header
    assert (other.water, other.density_kg_m3) == ("fresh", None)


def test_another_cylinder_keeps_its_gas_and_its_place() -> None:
    """It is filled no further than it may be, and what was stamped on the old one is forgotten."""
    kit = swapped(kit_of(PLAIN), "tank", oxygen=0.32, filled_pa=205e5, stamped_mass_kg=13.0, turn_pa=140e5)
    [tank, *others] = with_cylinders(kit, "aluminium 13 L 228").items
    assert isinstance(tank, Cylinder)
    assert (tank.tag, tank.oxygen, tank.stamped_mass_kg) == ("tank", 0.32, None)
    assert (tank.filled_pa, tank.turn_pa) == (205e5, 140e5)
    assert tuple(others) == kit.items[1:]
    [capped, *_] = with_cylinders(swapped(kit, "tank", filled_pa=230e5), "aluminium 5.7 L 207").items
    assert capped.filled_pa == pytest.approx(207e5)


def test_a_stage_stays() -> None:
    """Only what breathes on the back or at the sides is changed."""
    twinset = kit_of(config("twinset"))
    changed = with_cylinders(twinset, "steel 10 L 232")
    presets = [item.preset for item in changed.items if isinstance(item, Cylinder)]
    assert presets == ["steel 10 L 232", "steel 10 L 232", "aluminium 7 L 207"]
    assert own_cylinders(twinset) == "2 × steel 12 L 232 long"


def test_what_the_own_cylinders_are_called() -> None:
    """None, stages only, or one without a preset by its metal."""
    kit = kit_of(PLAIN)
    assert own_cylinders(Kit(kit.header, kit.items[1:])) == "no cylinder"
    assert own_cylinders(swapped(kit, "tank", carried="stage")) == "stages only"
    assert own_cylinders(swapped(kit, "tank", preset=None, metal="steel")) == "steel of its own"


@pytest.mark.parametrize(("water", "cylinder"), [("soup", None), (None, "glass 12 L")])
def test_what_is_not_in_the_catalogue_is_refused(water: str | None, cylinder: str | None) -> None:
    """By the name that was asked for."""
    with pytest.raises(KeyError, match=r"soup|glass"):
        what_if(resolve(kit_of(PLAIN), beside()), water, cylinder)


def test_nothing_is_answered_without_a_cylinder() -> None:
    """And nothing is guessed."""
    kit = kit_of(PLAIN)
    found = ask_ballast(resolve(Kit(kit.header, kit.items[1:]), beside()))
    assert found.answers == ()
    assert found.cylinders == (None,)
    assert LinkedFiles(OWN).diver is None
