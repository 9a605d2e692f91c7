"""A swap that is tried on a trip promises what the files say once it is taken."""

import shutil
import tomllib
from pathlib import Path

import pytest

from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.item_edits import apply_edits
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.trip_edits import rent_items
from kitbuilder.plans.swaps.options import RENTED
from kitbuilder.plans.swaps.swaps import Swaps
from kitbuilder.plans.swaps.trial import Chosen, as_it_is, chosen_of, plan_swaps_there, try_on_trip
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from kitbuilder.plans.trip_weights import weigh_trip
from tests.assess.kits import CONFIGS


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in CONFIGS.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def trip_at(folder: Path, name: str) -> ResolvedTrip:
    trip = read(folder / name).contents
    assert isinstance(trip, ResolvedTrip)
    return trip


def chances(found: TripPacking) -> dict[str, float]:
    return {packed.bag.tag: packed.use.chance for packed in found.packing.bags if packed.use}


def take(folder: Path, name: str, file: str, chosen: Chosen) -> None:
    """Write both files as they are when it is taken."""
    kit, there = Document(folder / file), Document(folder / name)
    apply_edits(kit, chosen.kit_edits)
    kit.save()
    if chosen.rented:
        rent_items(there, file, chosen.rented)
    there.save()


def both(plan: Swaps) -> Chosen:
    """The fins rented there, and the best swap of another item that is an edit of the kit."""
    rented = next(swap for swap in plan.swaps if swap.option.kind == RENTED and swap.tags == ("fins",))
    part = next(swap for swap in plan.swaps if swap.option.kind != RENTED and swap.tags != ("fins",))
    return Chosen((rented, part), part.effect)


@pytest.mark.parametrize("name", ["trip-reef.toml", "trip-wreck.toml"])
def test_what_is_tried_is_what_the_files_say_once_it_is_taken(folder: Path, name: str) -> None:
    trip = trip_at(folder, name)
    [travelling] = trip.kits
    plan = plan_swaps_there(trip, travelling)
    chosen = both(plan)
    trial = try_on_trip(plan, chosen, trip, travelling.file)
    assert trial.after.packing is not None
    assert trip_at(folder, name) == trip, "nothing is written"

    take(folder, name, travelling.file, chosen)
    taken = trip_at(folder, name)
    assert trial.after.bag.value == pytest.approx(weigh_trip(taken).dry(Fate.BRING).value)
    assert chances(trial.after.packing) == pytest.approx(chances(pack_trip(taken)))
    lead = plan_swaps_there(taken, taken.kits[0]).before.balance
    assert lead is not None
    assert trial.after.lead is not None
    assert trial.after.lead.value == pytest.approx(lead.lead.value)


def test_the_bags_lose_what_a_swap_saves(folder: Path) -> None:
    """Of a trip, luggage and spares are in the sum before and after; the difference is that of the kit alone."""
    trip = trip_at(folder, "trip-reef.toml")
    plan = plan_swaps_there(trip, trip.kits[0])
    now = as_it_is(plan, pack_trip(trip))
    best = next(swap for swap in plan.swaps if swap.option.kind != RENTED)
    after = try_on_trip(plan, chosen_of(best), trip, trip.kits[0].file).after
    assert now.bag.value - after.bag.value == pytest.approx(best.effect.saved.value)


def test_several_items_are_rented_in_one_step(folder: Path) -> None:
    there = Document(folder / "trip-wreck.toml")
    before = there.text
    rent_items(there, "twinset.toml", ["fins", "plate"])
    assert [entry["item"] for entry in tomllib.loads(there.text)["rent"][-2:]] == ["fins", "plate"]
    assert there.undo()
    assert there.text == before
