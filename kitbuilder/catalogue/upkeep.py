"""Upkeep, from `upkeep.toml`: which tasks recur and how often. Read on first use, not at the start."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

SINCE = ("made", "serviced", "inspected", "tested", "cleaned")
"""The dates that something may count from, keys of the gear file."""
CLEANED = "cleaned"
"""The date that counts only for what is said to be clean for oxygen."""
SIGNALS = ("notice", "caution", "warning")


class UpkeepInterval(NamedTuple):
    """One recurring task and its interval."""

    name: str
    kinds: tuple[str, ...]
    """Tables of the gear file."""
    bodies: tuple[str, ...]
    """Of hoses; empty for all."""
    all_bodies_but: tuple[str, ...]
    """Bodies of hoses for which it does not hold; empty for none."""
    since: str
    """The date it counts from: one of `SINCE`."""
    months: int
    earliest: int
    """The short end of practice; `months` where it has no range."""
    latest: int
    """The long end of practice; `months` where it has no range."""
    region: str
    """Whose rule it is; empty for practice."""
    why: str
    do: str
    signal: str
    """A signal word in small letters."""
    origin: str

    def is_for_body(self, body: str) -> bool:
        """Tell whether it holds for a hose of a body."""
        return (not self.bodies or body in self.bodies) and body not in self.all_bodies_but

    @property
    def is_rule(self) -> bool:
        """Whether a regulation requires it, and not only common practice."""
        return bool(self.region)


class Upkeep(NamedTuple):
    """The intervals of all recurring tasks."""

    intervals: tuple[UpkeepInterval, ...]
    due_soon_days: int
    """From how many days before on it is worth knowing."""
    due_soon_origin: str

    @property
    def regions(self) -> tuple[str, ...]:
        """Those whose rules are known, in the order of the file."""
        return tuple(dict.fromkeys(interval.region for interval in self.intervals if interval.is_rule))


@lru_cache(maxsize=1)
def upkeep() -> Upkeep:
    """Give the upkeep that comes with the program, read once."""
    return load_upkeep(FOLDER / "upkeep.toml")


def load_upkeep(path: Path) -> Upkeep:
    """Give the upkeep of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, an interval has no origin, or its months are no range.
    """
    document = read_catalogue_file(path)
    soon = document.table("due_soon")
    found = Upkeep(tuple(map(_interval, document.tables("upkeep"))), _whole(soon, "days"), soon.text("origin"))
    soon.finish()
    document.finish()
    return found


def _interval(table: CatalogueTable) -> UpkeepInterval:
    months = _whole(table, "months")
    interval = UpkeepInterval(
        name=table.text("name"),
        kinds=tuple(table.texts("kinds")),
        bodies=tuple(table.texts("bodies")) if "bodies" in table else (),
        all_bodies_but=tuple(table.texts("all_bodies_but")) if "all_bodies_but" in table else (),
        since=table.text("since", SINCE),
        months=months,
        earliest=_whole(table, "earliest") if "earliest" in table else months,
        latest=_whole(table, "latest") if "latest" in table else months,
        region=table.text("region") if "region" in table else "",
        why=table.text("why"),
        do=table.text("do"),
        signal=table.text("signal", SIGNALS),
        origin=table.text("origin"),
    )
    table.finish()
    if not interval.earliest <= months <= interval.latest:
        raise CatalogueError(f"{table.place}, months: do not lie between earliest and latest")
    return interval


def _whole(table: CatalogueTable, key: str) -> int:
    """Give a whole number, more than zero."""
    number = table.number(key)
    if number != int(number) or number < 1:
        raise CatalogueError(f"{table.place}, {key}: is not a whole number from 1 on")
    return int(number)
