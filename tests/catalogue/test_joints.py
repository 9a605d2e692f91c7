"""Hose ends, adapters, inlets, ports and roles of the catalogue belong together."""

import pytest

from kitbuilder.catalogue import Adapter, Fitting, Preset, Role, catalogue
from kitbuilder.catalogue.records import make_adapter
from kitbuilder.catalogue.table import CatalogueTable

TRADE = catalogue()
OTHER = {"male": "female", "female": "male"}
PORTS = {
    (label[:2], thread)
    for preset in TRADE.presets.values()
    for label, _, thread in (port.partition(" ") for port in preset.ports)
}
"""Service and thread of every port of a first stage; a port is female."""
INLETS = {(inlet.service, inlet.joint, inlet.gender) for inlet in TRADE.inlets.values()}


def mates(end: Fitting) -> set[tuple[str, str]]:
    """The joint and gender an end takes."""
    return {(end.joint, OTHER[end.gender])}


@pytest.mark.parametrize("end", TRADE.fittings.values(), ids=lambda end: end.name)
def test_every_end_has_something_to_go_into(end: Fitting) -> None:
    """A port of its own pressure at the first stage, an inlet of its own pressure at the device."""
    if end.place == "first stage":
        assert end.gender == "male"
        assert (end.service, end.joint) in PORTS
    else:
        assert (end.service, end.joint, OTHER[end.gender]) in INLETS


def test_every_inlet_has_a_hose_end() -> None:
    """No preset can be left without a hose."""
    ends = {(end.service, end.joint, OTHER[end.gender]) for end in TRADE.fittings.values() if end.place == "device"}
    assert ends == INLETS


@pytest.mark.parametrize("adapter", TRADE.adapters.values(), ids=lambda adapter: adapter.name)
def test_every_adapter_joins_a_hose_to_a_port_or_device(adapter: Adapter) -> None:
    """The hose side takes a hose end, the far side goes where a hose end goes."""
    taken = {mate for end in TRADE.fittings.values() for mate in mates(end)}
    offered = {(thread, "female") for _, thread in PORTS} | {(joint, gender) for _, joint, gender in INLETS}
    joint, gender = adapter.far_side
    assert adapter.hose_side in taken
    assert (joint, OTHER[gender]) in offered


ALUMINIUM, BRASS = ({"value": f"{density} kg/m3", "origin": "handbooks"} for density in (2700, 8400))


@pytest.mark.parametrize(("own", "density_kg_m3"), [({}, 8400.0), ({"density": ALUMINIUM}, 2700.0)])
def test_an_adapter_has_the_density_of_every_end_unless_it_says_otherwise(
    own: dict[str, object], density_kg_m3: float
) -> None:
    row: dict[str, object] = {
        "name": "turn",
        "service": "LP",
        "hose_side": {"joint": "9/16-18 UNF", "gender": "male"},
        "far_side": {"joint": "9/16-18 UNF", "gender": "female"},
        "mass": {"value": "50 g", "origin": "scales"},
        "length": {"value": "2 cm", "origin": "ruler"},
    }
    every_end = CatalogueTable({"density": BRASS}, "every_end").value("density", "density")
    table = CatalogueTable(row | own, "adapter")
    adapter = make_adapter(table, ("9/16-18 UNF",), every_end)
    table.finish()
    assert adapter.density.value == density_kg_m3


def test_only_an_adapter_that_lets_an_lp_hose_into_an_hp_port_defeats_the_coding() -> None:
    """Threads of 7/16 in. keep an LP hose out of cylinder pressure. Common practice, no source."""
    lp_ends = {(end.joint, end.gender) for end in TRADE.fittings.values() if end.service == "LP"}
    for adapter in TRADE.adapters.values():
        joint, gender = adapter.hose_side
        lets_lp_in = (joint, OTHER[gender]) in lp_ends and adapter.far_side == ("7/16-20 UNF", "male")
        assert adapter.defeats_coding == lets_lp_in
    assert TRADE.adapters["adapter 7/16 to 3/8"].defeats_coding


def test_no_lp_hose_fits_a_present_day_hp_port() -> None:
    """Only the old HP port with the LP thread takes one. Common practice, no source."""
    lp_ends = {end.joint for end in TRADE.fittings.values() if end.service == "LP" and end.place == "first stage"}
    assert {thread for service, thread in PORTS if service == "HP" and thread in lp_ends} == {"3/8-24 UNF"}
    old = [preset.name for preset in TRADE.presets.values() if any(port.startswith("HP1 3/8") for port in preset.ports)]
    assert old == ["old brass, yoke, 3 LP 1 HP 3/8"]


@pytest.mark.parametrize("role", TRADE.roles.values(), ids=lambda role: role.name)
def test_the_usual_ends_of_a_role_fit_its_device(role: Role) -> None:
    """The first-stage end fits the first preset of a first stage, the other end a preset of the device."""
    first = next(preset for preset in TRADE.presets.values() if preset.kind == "first_stage")
    from_end, to_end = TRADE.fittings[role.from_end], TRADE.fittings[role.to_end]
    assert any(port.startswith(role.service) and port.endswith(from_end.joint) for port in first.ports)
    inlets = {
        TRADE.inlets[preset.inlet] for preset in TRADE.presets.values() if preset.kind == role.device and preset.inlet
    }
    assert role.device == "other" or any(
        (inlet.joint, inlet.gender) == (to_end.joint, OTHER[to_end.gender]) for inlet in inlets
    )


@pytest.mark.parametrize("preset", TRADE.presets.values(), ids=lambda preset: f"{preset.kind} {preset.name}")
def test_a_preset_has_all_a_kit_needs_of_it(preset: Preset) -> None:
    """Ports on a first stage, an inlet on what a hose feeds, lift of a bladder, and one way to tell how it floats.

    Places are those of its kind unless it has its own; what is nothing in particular has one.
    """
    assert (preset.density is None) != (preset.buoyancy_salt is None)
    assert bool(preset.ports) == (preset.kind == "first_stage")
    assert (preset.inlet is None) == (preset.kind in ("first_stage", "other"))
    assert (preset.lift is None) == (preset.kind not in ("wing", "jacket"))
    assert (preset.place is None) == (preset.kind != "other")
    assert preset.place is None or preset.place in TRADE.places
