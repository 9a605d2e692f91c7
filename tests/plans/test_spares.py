"""The list of spares follows from what a kit consists of, and a list for several kits has nothing twice."""

from dataclasses import replace
from functools import cache
from itertools import permutations
from math import pi
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from kitbuilder.catalogue import spares as catalogue_of_spares
from kitbuilder.catalogue.spares import BATTERIES, DAY_BOAT, REMOTE, TOOLS
from kitbuilder.catalogue.table import CatalogueError
from kitbuilder.kit.items import Cylinder, FirstStage, Hose, Item, Other
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.spares import KitToSupply, SparesList, kit_to_supply, list_spares
from tests.assess.kits import CONFIGS, WHOLE, config, kit_of
from tests.each import each

FILE = Path(catalogue_of_spares.__file__).with_suffix(".toml")


@cache
def supplied(name: str) -> KitToSupply:
    """A kit that comes with the program."""
    return kit_to_supply(name, resolve(kit_of(config(name))))


def supplied_with(name: str, *items: Item) -> KitToSupply:
    """The same with more items."""
    kit = kit_of(config(name))
    return kit_to_supply(name, resolve(replace(kit, items=(*kit.items, *items))))


def pieces(found: SparesList) -> dict[str, int]:
    """How many of each."""
    return {line.key: line.pieces for line in found.lines}


def test_o_rings_are_those_of_the_joints_of_the_kit() -> None:
    """Counted in the file: three LP hoses and one LP plug, one HP hose and one HP plug, two second stages on 9/16, one
    gauge swivel with two rings, one DIN first stage. Two to four of each size, four of the valve face.
    """
    found = pieces(list_spares([supplied("warm-single")], DAY_BOAT))
    rings = {key.removeprefix("O-ring "): count for key, count in found.items() if key.startswith("O-ring")}
    assert rings.pop("pick of brass") == 1
    assert rings == {"003": 2, "010": 2, "011": 4, "012": 2, "112": 4}
    assert {key for key in found if key.startswith("plug")} == {"plug LP 3/8-24 UNF", "plug HP 7/16-20 UNF"}


def test_four_of_a_size_are_enough_however_many_joints_there_are() -> None:
    """Counted in the file of the twinset: LP hoses and plugged LP ports of both first stages, each on a 3/8 port."""
    kit = kit_of(config("twinset"))
    hoses = [hose for hose in kit.hoses if " LP" in (hose.from_ or "")]
    plugs = [port for stage in kit.items if isinstance(stage, FirstStage) for port in stage.plugged if port[:2] == "LP"]
    assert len(hoses) + len(plugs) > 4
    assert pieces(list_spares([supplied("twinset")], DAY_BOAT))["O-ring 011"] == 4


def test_the_mass_of_o_rings_is_that_of_rubber_of_their_size() -> None:
    """AS568-112: 12.37 mm by 2.62 mm; a ring of that is a bent cylinder of 2.62 mm, as long as its middle circle."""
    [ring] = [line for line in list_spares([supplied("warm-single")], DAY_BOAT).lines if line.key == "O-ring 112"]
    volume_m3 = pi * (2.62e-3 / 2) ** 2 * pi * (12.37e-3 + 2.62e-3)
    middle_kg_m3 = (1150 + 2 * 1300 + 1850) / 4
    assert ring.mass.value == pytest.approx(4 * volume_m3 * middle_kg_m3, rel=1e-6)
    assert ring.mass.spread > 0


def test_the_day_boat_list_weighs_what_such_a_box_weighs() -> None:
    """A published packing list of this kind, its masses from memory, adds up to about 0.85 kg."""
    mass = list_spares([supplied("warm-single")], DAY_BOAT).mass
    assert abs(mass.value - 0.85) < mass.spread


def test_tools_are_those_that_the_joints_ask_for() -> None:
    found = list_spares([supplied("warm-single")], DAY_BOAT).of_group(TOOLS)
    fits = {line.key: line.fits for line in found}
    assert any("hex key 4 mm" in fit for fit in fits["hex keys, a set of 4, 5 and 6 mm"])
    assert any("17 or 18 mm" in fit for fit in fits["two small adjustable spanners"])
    assert not any("hex key" in fit for fit in fits["two small adjustable spanners"])


def test_a_remote_place_adds_a_hose_for_each_pair_of_ends_and_takes_nothing_away() -> None:
    """The octopus hose of 90 cm also reaches where the primary hose of 75 cm does."""
    near, far = (pieces(list_spares([supplied("warm-single")], level)) for level in (DAY_BOAT, REMOTE))
    assert near.items() <= far.items()
    hoses = {
        line.key: line.fits for line in list_spares([supplied("warm-single")], REMOTE).lines if "hose," in line.key
    }
    assert hoses == {
        "LP hose, LP 3/8 to second stage 9/16": ("octopus hose",),
        "LP hose, LP 3/8 to standard nipple coupling": ("inflator hose",),
        "HP hose, HP 7/16 to gauge swivel": ("gauge hose",),
    }


def test_a_long_hose_is_no_spare_for_the_short_ones() -> None:
    """The twinset's hose of about 2 m; its necklace is a short one."""
    found = [line for line in list_spares([supplied("twinset")], REMOTE).lines if line.key.startswith("LP hose")]
    lengths = {hose.tag: hose.length_m for hose in kit_of(config("twinset")).hoses}
    assert max(lengths.values()) > 1.5
    assert all(lengths[tag] < 1.5 for line in found for tag in line.fits)


def test_nothing_is_brought_at_the_level_none() -> None:
    found = list_spares([supplied("twinset")], "none")
    assert (found.lines, found.mass.value) == ((), 0.0)


@each("pair", list(permutations(WHOLE, 2)))
def test_a_list_for_two_has_the_larger_need_of_each(pair: tuple[str, str]) -> None:
    first, second = (list_spares([supplied(name)], REMOTE) for name in pair)
    both = list_spares([supplied(name) for name in pair], REMOTE)
    one, other = pieces(first), pieces(second)
    assert pieces(both) == {key: max(one.get(key, 0), other.get(key, 0)) for key in one | other}
    assert max(first.mass.value, second.mass.value) <= both.mass.value + 1e-9
    assert both.mass.value <= first.mass.value + second.mass.value + 1e-9
    for line in both.lines:
        assert line.serves == tuple(name for name, own in zip(pair, (one, other), strict=True) if line.key in own)


@each("name", WHOLE)
def test_two_of_the_same_kit_need_no_more_than_one(name: str) -> None:
    """One spare serves both: who carries it is for them to agree."""
    assert pieces(list_spares([supplied(name), supplied(name)], REMOTE)) == pieces(
        list_spares([supplied(name)], REMOTE)
    )


def test_a_spare_that_the_kit_file_has_is_not_listed_again() -> None:
    spare = Hose(tag="box hose", in_spares=True, role="alternate", body="rubber", length_m=0.9)
    spare = replace(spare, from_end="LP 3/8", to_end="second stage 9/16")
    mask = Other(tag="second mask", preset="spare mask", in_spares=True)
    before, after = (list_spares([kit], REMOTE) for kit in (supplied("twinset"), supplied_with("twinset", spare, mask)))
    gone = set(pieces(before)) - set(pieces(after))
    assert gone == {"LP hose, LP 3/8 to second stage 9/16", "back-up mask"}
    assert after.in_kits == (("twinset", "box hose"), ("twinset", "second mask"))


def test_a_mask_in_the_pocket_needs_no_other() -> None:
    worn = supplied_with("warm-single", Other(tag="second mask", preset="spare mask"))
    assert "back-up mask" not in pieces(list_spares([worn], DAY_BOAT))


def test_adapters_are_for_the_valves_of_rented_cylinders() -> None:
    kit = kit_of(config("warm-single"))
    own = [replace(item, rented=None) if isinstance(item, Cylinder) else item for item in kit.items]
    hired = [replace(item, rented=True) if isinstance(item, Cylinder) else item for item in kit.items]
    keys = [
        set(pieces(list_spares([kit_to_supply("kit", resolve(replace(kit, items=tuple(items))))], DAY_BOAT)))
        for items in (own, hired)
    ]
    assert keys[1] - keys[0] == {"clamp adapter for a DIN first stage"}


def test_only_small_batteries_are_brought_as_spares() -> None:
    """Of a canister torch, 70 to 160 Wh, the pack is charged there; a computer gets a cell."""
    kit = supplied_with(
        "warm-single", Other(tag="canister", preset="canister torch"), Other(tag="back-up", preset="back-up torch")
    )
    fits = {fit for line in list_spares([kit], DAY_BOAT).of_group(BATTERIES) for fit in line.fits}
    assert fits == {"computer", "back-up"}


def test_a_kit_that_contradicts_itself_has_a_list_without_o_rings_and_says_why() -> None:
    found = list_spares([supplied("wrong-on-purpose")], REMOTE)
    assert found.not_built
    assert "mouthpiece with cable ties" in pieces(found)


@each(
    ("old", "new", "wanted"),
    [
        ('need = "mask"', 'need = "msak"', "msak"),
        ('ring = "014"', 'ring = "999"', "999"),
        ('connection = "yoke"', 'connection = "joke"', "joke"),
        ("least = 2", "least = 9", "below `least`"),
        ('up_to = "30 Wh"\n', "", "up_to"),
        ('group = "hoses"\n', 'group = "hoses"\nmass = { value = "1 g", origin = "x" }\n', "mass"),
    ],
)
def test_a_broken_catalogue_is_named(old: str, new: str, wanted: str) -> None:
    text = FILE.read_text(encoding="utf-8")
    assert old in text
    with TemporaryDirectory() as folder:
        path = Path(folder) / "spares.toml"
        path.write_text(text.replace(old, new), encoding="utf-8")
        with pytest.raises(CatalogueError, match=wanted):
            catalogue_of_spares.load_spares(path)


def test_every_shipped_kit_gives_a_list() -> None:
    for path in CONFIGS.glob("*.toml"):
        if "holds" not in path.read_text(encoding="utf-8"):
            assert list_spares([supplied(path.stem)], REMOTE).lines, path
