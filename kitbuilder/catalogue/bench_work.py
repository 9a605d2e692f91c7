"""Work at the bench, from `bench_work.toml`: joints, O-rings and checks. Read when first asked."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.records import SERVICES
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

PORT, DEVICE = "port", "device"
HOSE, PLUG, INSTRUMENT = "hose", "plug", "instrument"
CLOSED, OPEN, COUPLED, WET = "before the valves open", "under pressure", "couplings on", "in the water"
ALWAYS, IF_WING, IF_DRYSUIT, IF_GAUGES, IF_TWO = "always", "wing", "drysuit", "gauges on one gas", "two first stages"
IF_MANIFOLD, IF_CYLINDERS, INTERMEDIATE = "manifold", "other cylinders", "first stage"
WHEN = (ALWAYS, IF_WING, IF_DRYSUIT, IF_GAUGES, IF_TWO, IF_MANIFOLD, IF_CYLINDERS, INTERMEDIATE)


class ORingSize(NamedTuple):
    """An O-ring by its number in AS568."""

    name: str
    inner: Value
    """Inner diameter. [m]"""
    section: Value
    """Diameter of the cord. [m]"""
    used_for: str
    origin: str


class JointWork(NamedTuple):
    """What it takes to make or undo one kind of joint."""

    name: str
    at: str
    """"port" or "device"."""
    part: str
    """"hose", "plug" or "instrument"."""
    thread: str
    """A thread or a coupling."""
    service: str
    o_rings: tuple[str, ...]
    """A size for each ring; none where it has no ring, or no size is known."""
    torque: Value | None
    """[N m]"""
    turn_with: str
    hold_with: str
    """The second spanner; empty where one does."""
    by_hand: bool
    how: str
    origin: str


class Check(NamedTuple):
    """A check after a change."""

    name: str
    phase: str
    """How far the kit is put together and opened."""
    when: str
    """"always", or for which kits."""
    how: str
    origin: str


class BenchWork(NamedTuple):
    """All there is to know about work at the bench."""

    o_rings: dict[str, ORingSize]
    joints: dict[tuple[str, str, str, str], JointWork]
    """By place, part, thread and service."""
    checks: tuple[Check, ...]

    def joint(self, at: str, part: str, thread: str, service: str) -> JointWork | None:
        """Give the work of a joint; None when nothing is known of it."""
        return self.joints.get((at, part, thread, service))


@lru_cache(maxsize=1)
def bench_work() -> BenchWork:
    """Give the work that comes with the program, read once."""
    return load_bench_work(FOLDER / "bench_work.toml")


def load_bench_work(path: Path) -> BenchWork:
    """Give the work of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, a value has no origin, or a ring is not in the list.
    """
    document = read_catalogue_file(path)
    rings = {ring.name: ring for ring in map(_ring, document.tables("o_ring"))}
    joints = [_joint(table, rings) for table in document.tables("joint")]
    checks = tuple(map(_check, document.tables("check")))
    document.finish()
    by_key = {(work.at, work.part, work.thread, work.service): work for work in joints}
    if len(by_key) < len(joints):
        raise CatalogueError(f"{path.name}: a joint is there twice")
    return BenchWork(rings, by_key, checks)


def _ring(table: CatalogueTable) -> ORingSize:
    ring = ORingSize(
        name=table.text("name"),
        inner=table.value("inner", "length"),
        section=table.value("section", "length"),
        used_for=table.text("used_for"),
        origin=table.text("origin"),
    )
    table.finish()
    return ring


def _joint(table: CatalogueTable, rings: dict[str, ORingSize]) -> JointWork:
    work = JointWork(
        name=table.text("name"),
        at=table.text("at", (PORT, DEVICE)),
        part=table.text("part", (HOSE, PLUG, INSTRUMENT)),
        thread=table.text("thread"),
        service=table.text("service", SERVICES),
        o_rings=tuple(table.texts("o_rings", rings)) if "o_rings" in table else (),
        torque=table.optional("torque", "torque"),
        turn_with=table.text("turn_with") if "turn_with" in table else "",
        hold_with=table.text("hold_with") if "hold_with" in table else "",
        by_hand=table.flag("by_hand"),
        how=table.text("how"),
        origin=table.text("origin"),
    )
    table.finish()
    if work.by_hand == bool(work.turn_with):
        raise CatalogueError(f"{table.place}, by_hand: a joint is made by hand or with a tool")
    return work


def _check(table: CatalogueTable) -> Check:
    check = Check(
        name=table.text("name"),
        phase=table.text("phase", (CLOSED, OPEN, COUPLED, WET)),
        when=table.text("when", WHEN),
        how=table.text("how"),
        origin=table.text("origin"),
    )
    table.finish()
    return check
