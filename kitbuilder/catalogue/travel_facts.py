"""What a traveller has to know of an item of the catalogue, from `travel_facts.toml`. Read on first use."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.air_rules import VITAL
from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

LITHIUM_ION, LITHIUM_METAL, NO_LITHIUM = "lithium ion", "lithium metal", "no lithium"
KINDS = (
    "cylinder",
    "first_stage",
    "hose",
    "second_stage",
    "gauge",
    "transmitter",
    "wing",
    "jacket",
    "drysuit",
    "suit",
    "lead",
    "other",
)


class TravelFacts(NamedTuple):
    """What travel asks of an item."""

    name: str
    battery_type: str
    """Empty without a battery."""
    battery: Value | None
    """Energy of one battery [J]; None where it is not of lithium ion."""
    is_lamp: bool
    is_breakable: bool
    is_sharp: bool
    vital_as: str
    """What it is, a word of `VITAL`, where the dive cannot be done without it; else empty."""
    is_extra: bool
    """Whether the dive can be done without it."""
    is_with_cylinder: bool
    """Whether it belongs to the cylinders and is rented with them."""
    wet: Value | None
    """Water that it holds on the way home, as a part of its dry mass; None where that is not worth counting."""
    packed_density: Value | None
    """Its mass by the room that it takes in a bag, with the air between its folds [kg/m3]; None where not known."""


NOTHING_SPECIAL = TravelFacts(
    name="",
    battery_type="",
    battery=None,
    is_lamp=False,
    is_breakable=False,
    is_sharp=False,
    vital_as="",
    is_extra=False,
    is_with_cylinder=False,
    wet=None,
    packed_density=None,
)


class AllTravelFacts(NamedTuple):
    """The facts of all items."""

    by_kind: dict[str, TravelFacts]
    by_preset: dict[tuple[str, str], TravelFacts]

    def of(self, kind: str, preset: str | None) -> TravelFacts:
        """Give the facts of an item of a kind: those of its preset, else those of its kind."""
        return self.by_preset.get((kind, preset or "")) or self.by_kind.get(kind, NOTHING_SPECIAL)


@lru_cache(maxsize=1)
def travel_facts() -> AllTravelFacts:
    """Give the facts that come with the program, read once."""
    return load_travel_facts(FOLDER / "travel_facts.toml")


def load_travel_facts(path: Path) -> AllTravelFacts:
    """Give the facts of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, a preset is not one of the catalogue, two entries are about the
            same items, or a battery of lithium ion has no energy.
    """
    document = read_catalogue_file(path)
    by_kind, by_preset = dict[str, TravelFacts](), dict[tuple[str, str], TravelFacts]()
    for table in document.tables("item"):
        kinds = table.texts("kinds", KINDS)
        known = {name for kind, name in catalogue().presets if kind in kinds}
        presets = table.texts("presets", known) if "presets" in table else []
        facts = _facts(table)
        keys = [(kind, preset) for kind in kinds for preset in presets if (kind, preset) in catalogue().presets]
        if any(key in by_preset for key in keys) or (not presets and any(kind in by_kind for kind in kinds)):
            raise CatalogueError(f"{table.place}: there is an entry for one of its items already")
        by_preset |= dict.fromkeys(keys, facts)
        by_kind |= {} if presets else dict.fromkeys(kinds, facts)
    document.finish()
    return AllTravelFacts(by_kind, by_preset)


def _facts(table: CatalogueTable) -> TravelFacts:
    facts = TravelFacts(
        name=table.text("name"),
        battery_type=table.choice("battery_type", (LITHIUM_ION, LITHIUM_METAL, NO_LITHIUM)),
        battery=table.optional("battery", "energy"),
        is_lamp=table.flag("lamp"),
        is_breakable=table.flag("breakable"),
        is_sharp=table.flag("sharp"),
        vital_as=table.choice("vital", tuple(VITAL)),
        is_extra=table.flag("extra"),
        is_with_cylinder=table.flag("with_cylinder"),
        wet=table.optional("wet", "fraction"),
        packed_density=table.optional("packed_density", "density"),
    )
    table.finish()
    if (facts.battery is not None) != (facts.battery_type == LITHIUM_ION):
        raise CatalogueError(f"{table.place}, battery: goes with the battery_type {LITHIUM_ION}, and only with that")
    return facts
