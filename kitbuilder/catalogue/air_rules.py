"""Rules of air travel, from `air_rules.toml`: what may fly where. Read on first use, not at the start."""

from collections.abc import Iterable
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

BATTERY, SPARE_BATTERY = "battery", "spare battery"
WITH_ENERGY = (BATTERY, SPARE_BATTERY)
"""What has a rule for each class of energy: free, with approval, refused."""
CLASSES = 3
METAL_CELLS, SPARE_METAL_CELLS = "lithium metal", "spare lithium metal"
LAMP, CYLINDER, JACKET_CARTRIDGE, CARTRIDGE = "lamp", "cylinder", "life-jacket cartridge", "cartridge"
SHARP, BREAKABLE = "sharp item", "breakable item"
REGULATOR_SET = "regulator set"
VITAL = {
    "regulator": "vital regulator",
    REGULATOR_SET: "vital part of the regulator set",
    "mask": "vital mask",
    "computer": "vital computer",
    "transmitter": "vital transmitter",
}
"""What a rule about an item that the dive cannot be done without is about, by what the item is."""
ABOUT = (
    *WITH_ENERGY,
    METAL_CELLS,
    SPARE_METAL_CELLS,
    LAMP,
    CYLINDER,
    JACKET_CARTRIDGE,
    CARTRIDGE,
    SHARP,
    BREAKABLE,
    *VITAL.values(),
)
"""What a rule may be about."""
OWN = "own rule of an airline"
"""What a rule of a trip file is about: an item that it names."""
PLACES = ("cabin", "hold", "body")
FROM_MEMORY = "from memory"
LIMITS = {"handling": "mass", "advised piece": "mass", "hold edges": "length"}
"""The limits there are, each with what it measures."""
CONFIRM = "Confirm with the airline."
"""Stands wherever a rule decides."""


class AirRule(NamedTuple):
    """One rule: where something may travel."""

    name: str
    about: str
    """One of `ABOUT`."""
    up_to_j: float | None
    """The energy up to which it holds; None without an upper limit [J]."""
    may_go: tuple[str, ...]
    """Empty where it may not fly."""
    needs_approval: bool
    is_advice: bool
    """Whether it is a practice that may give way, and no rule."""
    most: int | None
    """How many each person may bring; None for as many as wanted."""
    why: str
    do: str
    do_approved: str
    """What to do once every airline has approved it; empty where none need to."""
    origin: str
    read: str
    """The day on which the origin was read, as year, month and day; or that it is from memory."""


class AirLimit(NamedTuple):
    """A limit for a bag."""

    name: str
    value: Value
    """[kg] or [m]"""
    why: str
    read: str


class AirRules(NamedTuple):
    """All published rules."""

    rules: tuple[AirRule, ...]
    limits: dict[str, AirLimit]

    def about(self, subject: str) -> tuple[AirRule, ...]:
        """List the rules about a subject; of a battery the smallest class first."""
        return tuple(rule for rule in self.rules if rule.about == subject)

    def for_energy(self, subject: str, energy_j: float) -> AirRule:
        """Give the rule for a battery of lithium ion.

        Args:
            subject: `BATTERY` or `SPARE_BATTERY`.
            energy_j: Its energy [J]; a limit itself belongs to the class below it.
        """
        return next(
            rule for rule in self.about(subject) if rule.up_to_j is None or energy_j <= rule.up_to_j * (1 + SAME)
        )


SAME = 1e-9
"""Of an energy: 100 Wh written in two units may differ by less."""


@lru_cache(maxsize=1)
def air_rules() -> AirRules:
    """Give the rules that come with the program, read once."""
    return load_air_rules(FOLDER / "air_rules.toml")


def load_air_rules(path: Path) -> AirRules:
    """Give the rules of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing; a limit, or a rule for something, is missing; the classes of a
            battery do not rise to one without an upper limit; or a rule does not say when it was read.
    """
    document = read_catalogue_file(path)
    limits = {limit.name: limit for limit in map(_limit, document.tables("limit"))}
    rules = tuple(map(_rule, document.tables("rule")))
    document.finish()
    if lacking := [name for name in LIMITS if name not in limits]:
        raise CatalogueError(f'{path.name}: there is no limit "{lacking[0]}"')
    for subject in ABOUT:
        classes = [rule.up_to_j for rule in rules if rule.about == subject]
        _check_classes(classes, f'{path.name}, of "{subject}"', subject)
    small, large = ([rule.up_to_j for rule in rules if rule.about == subject] for subject in WITH_ENERGY)
    if len(small) != CLASSES or small != large:
        raise CatalogueError(f"{path.name}: batteries and spare batteries do not have the same {CLASSES} classes")
    return AirRules(rules, limits)


def _limit(table: CatalogueTable) -> AirLimit:
    name = table.text("name", LIMITS)
    limit = AirLimit(name, table.value("value", LIMITS[name]), table.text("why"), _day_read(table))
    table.finish()
    return limit


def _rule(table: CatalogueTable) -> AirRule:
    rule = AirRule(
        name=table.text("name"),
        about=table.text("of", ABOUT),
        up_to_j=table.quantity("up_to", "energy") if "up_to" in table else None,
        may_go=tuple(table.texts("may_go", PLACES)) if "may_go" in table else (),
        needs_approval=table.flag("approval"),
        is_advice=table.flag("advice"),
        most=_whole(table, "most") if "most" in table else None,
        why=table.text("why"),
        do=table.text("do"),
        do_approved=table.text("approved") if table.flag("approval") else "",
        origin=table.text("origin"),
        read=_day_read(table),
    )
    table.finish()
    return rule


def _day_read(table: CatalogueTable) -> str:
    read = table.text("read")
    if read != FROM_MEMORY:
        try:
            date.fromisoformat(read)
        except ValueError:
            raise CatalogueError(f'{table.place}, read: is neither a day nor "{FROM_MEMORY}"') from None
    return read


def _whole(table: CatalogueTable, key: str) -> int:
    number = table.number(key)
    if number != int(number) or number < 1:
        raise CatalogueError(f"{table.place}, {key}: is not a whole number from 1 on")
    return int(number)


def _check_classes(up_to_j: Iterable[float | None], place: str, subject: str) -> None:
    """Check that there is a rule for every energy, or one rule for what has none.

    Raises:
        CatalogueError: A class is missing, or they are not in order.
    """
    *classes, last = (*up_to_j,) or (0.0,)
    known = [energy for energy in classes if energy is not None]
    if last is not None or len(known) < len(classes) or known != sorted(set(known)):
        raise CatalogueError(f"{place}: the rules do not rise to one without up_to")
    if known and subject not in WITH_ENERGY:
        raise CatalogueError(f"{place}: has an energy, and is no battery")
