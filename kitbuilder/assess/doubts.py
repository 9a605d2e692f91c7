"""Values that are more likely a slip of the unit or the comma than true, in every kind of file.

Whoever takes a typed value asks here first: the forms, the weigh-in and the steps of measuring.
"""

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.float_checks import Seen
from kitbuilder.assess.defaults import NOTHING_WORN
from kitbuilder.assess.findings import Amount, Words, words
from kitbuilder.assess.fit.measures import MEASURE_OF_KEY, Wearer, wearer_of
from kitbuilder.assess.rules.float_checks import contradiction
from kitbuilder.assess.rules.routes import unlike_the_body
from kitbuilder.assess.rules.weighings import other_sign
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.gear import Gear, Owned, OwnedHose
from kitbuilder.kit.items import KINDS, Cylinder, Header, Hose, Item, Kit
from kitbuilder.kit.owned import of_kit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kit.spare import in_hand

NO_DOUBT: Words = ()
OF_THE_WEIGHING = ("seen", "by", "lead", "pressure", "stage_pressure", "depth", "water")
"""The keys of a float check that its result follows from."""
PRESSURES_OF_CYLINDERS = ("filled", "turn", "reserve")
PRESSURES_OF_CHECKS = ("pressure", "stage_pressure")
LEAST_READ_PA = 1e5
"""No gauge of a cylinder is read to less; chosen, no source."""


def doubt_in_kit(typed: Assessment, item: int | None, key: str, before: Item | None = None) -> Words:
    """Say why a value of a kit is more likely a slip; empty when nothing speaks against it.

    Args:
        typed: What follows from the kit with the value.
        item: The number of the item; None for the top of the file.
        key: The key of the value.
        before: The item as it was; None where it does not matter.
    """
    if finding := typed.doubt(item, key):
        return finding.what
    if item is None:
        return NO_DOUBT
    entry = in_hand(typed.kit.items[item])
    if isinstance(entry, Hose) and key == "length":
        return _unlike_its_role(entry)
    if isinstance(entry, Cylinder) and key in PRESSURES_OF_CYLINDERS:
        return _next_to_nothing(getattr(entry, f"{key}_pa"))
    return (other_sign(typed.kit, item, before) or NO_DOUBT) if key == "buoyancy" else NO_DOUBT


def _next_to_nothing(pressure_pa: float | None) -> Words:
    """Say that a gauge pressure is too low to be read: the point of 3.000 psi sets thousands apart in many countries.

    An empty cylinder has zero.
    """
    if not pressure_pa or pressure_pa >= LEAST_READ_PA:
        return NO_DOUBT
    return words(Amount(pressure_pa, "pressure"), " is next to nothing: write thousands without a point")


def _unlike_its_role(hose: Hose) -> Words:
    """Say that a length is far from those in use for the role, in whatever layout; a shifted comma or a wrong unit."""
    lengths = [length for usual in catalogue().roles[hose.role].customary.values() for length in usual]
    far = catalogue().limits["unlike_role"].value
    low, high = min(lengths, default=hose.length_m), max(lengths, default=hose.length_m)
    if low / far <= hose.length_m <= high * far:
        return NO_DOUBT
    return words(
        Amount(hose.length_m, "length"),
        f" is far from what is usual for the role {hose.role}: ",
        *(Amount(low, "length"), " to ", Amount(high, "length")),
    )


def doubt_in_gear(before: Gear, typed: Gear, item: int | None, key: str) -> Words:
    """Say the same of a value of a gear file: its item is looked at as a kit of nothing else."""
    if item is None:
        return NO_DOUBT
    earlier, now = _in_a_kit(before.items[item]), _in_a_kit(typed.items[item])
    if now is None:
        return NO_DOUBT
    alone = Kit(Header(format=1, name="", layout="single"), (now,))
    return doubt_in_kit(assess(resolve(alone)), 0, key, earlier)


def _in_a_kit(entry: Owned) -> Item | None:
    """Give an entry of a gear file as an item of a kit; None for a kind that no kit has."""
    if entry.kind not in KINDS:
        return None
    return of_kit(entry, _role_of(entry) if isinstance(entry, OwnedHose) else "")


def _role_of(hose: OwnedHose) -> str:
    """Name a role of the hose's pressure class without a usual length: a gear file does not say what a hose is for."""
    trade = catalogue()
    service = trade.fittings[hose.from_end or ""].service
    return next(name for name, role in trade.roles.items() if role.service == service and not role.customary)


def doubt_in_diver(before: Diver, typed: Diver, key: str) -> Words:
    """Say why a measure of a body is more likely a slip: others do not go with it, or next to nobody has it.

    Args:
        before: What the file said before. A contradiction that was there already raises no question.
        typed: What it says with the value.
        key: The key of the value.
    """
    earlier, wearer = _body_of(before), _body_of(typed)
    known = {doubtful.key for doubtful in earlier.implausible if doubtful.key != key}
    for doubtful in wearer.implausible:
        if doubtful.key not in known:
            return unlike_the_body(doubtful)
    if key in wearer.outside_survey:
        value = getattr(typed.header, f"{key}_{'kg' if key == 'mass' else 'm'}")
        amount = Amount(value, "body mass" if key == "mass" else "length")
        return words(f"next to nobody has a {MEASURE_OF_KEY.get(key, key)} of ", amount)
    return NO_DOUBT


def _body_of(diver: Diver) -> Wearer:
    return wearer_of(resolve(NOTHING_WORN, LinkedFiles(diver=diver)))


def doubt_in_check(seen: Seen | None, counted: int, key: str) -> Words:
    """Say why a value of a float check is more likely a slip: the check contradicts all else that is known.

    Args:
        seen: What is computed for the check; None when its kit cannot be read.
        counted: How many checks count.
        key: The key of the value.
    """
    if seen and key in PRESSURES_OF_CHECKS and (doubt := _next_to_nothing(getattr(seen.check, f"{key}_pa"))):
        return doubt
    return contradiction(seen, counted) if seen and seen.contradicts and key in OF_THE_WEIGHING else NO_DOUBT
