"""The diver's page in words: the list of float checks, what one tells, and how one is made."""

from pathlib import Path

from kitbuilder.assess.float_checks import look_at_checks, stop_of
from kitbuilder.assess.made_of import made_of
from kitbuilder.assess.on_body.measures import TAPES, wearer_of
from kitbuilder.assess.thing_weight import lead_mass
from kitbuilder.assess.water import USUAL_WATER
from kitbuilder.catalogue import Value as TradeValue
from kitbuilder.catalogue import catalogue
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.fields import Field
from kitbuilder.kit.resolved import Linked, ResolvedKit, resolve
from kitbuilder.kit.things import Cylinder, Entry, Header, Kit, Lead
from kitbuilder.kitfile.edits import Value
from kitbuilder.kitfile.folder import kit_worn_by
from kitbuilder.report.balance import seen_words
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, digits, shown, with_spread

WIDTH = 71
"""Columns of the longest line of the procedure."""


def first_check(kit_name: str, tag: str, kit: ResolvedKit) -> dict[str, Value]:
    """The keys of a new float check: all but what was seen, as the kit has them, so that later edits do not matter.

    Args:
        kit_name: The file name of the kit.
        tag: Its tag, not taken in the diver file.
        kit: The kit that was worn.
    """
    reserves = [
        thing.reserve_pa for thing in kit.things if isinstance(thing, Cylinder) and thing.reserve_pa is not None
    ]
    reserve = reserves[0] if reserves else catalogue().limits["reserve"].value
    return {
        "tag": tag,
        "kit": kit_name,
        "lead": f"{sum(lead_mass(thing) for thing in kit.things if isinstance(thing, Lead)):g} kg",
        "pressure": f"{reserve / 1e5:g} bar",
        "depth": f"{stop_of(kit):g} m",
        "water": kit.header.water or USUAL_WATER,
        "worn": made_of(kit),
    }


def check_row(check: FloatCheck) -> str:
    """A float check in the list."""
    return f"{visible(check.tag)}{', not counted' if check.excluded or check.seen is None else ''}"


def check_lines(diver: Diver, number: int | None, path: Path, system: System) -> list[str]:
    """What the selected float check tells of body and kit."""
    if number is None:
        return []
    check = diver.things[number]
    kit = kit_worn_by(path, check.kit, diver)
    seen = next((found for found in look_at_checks(kit) if found.check == check), None) if kit else None
    if kit is None or seen is None:
        return [f"The kit {visible(check.kit)} is not in this folder or cannot be read."]
    told = seen_words(seen, system)
    lines = [f"What it tells: {told}." if seen.is_counted else f"{told[:1].upper()}{told[1:]}."]
    if seen.computed is not None:
        lines.append(f"Computed without it: {with_spread(seen.computed, 'lift', system)} with the lead it names.")
    return [*lines, *not_used_lines(kit.linked.problems, WIDTH)]


def procedure_lines(system: System) -> list[str]:
    """How a float check is made: common practice, no source."""
    stop = shown(catalogue().limits["stop"].value, "depth", system)
    reserve = shown(catalogue().limits["reserve"].value, "pressure", system)
    return [
        f"1. At the end of a dive, at about {stop}, with {reserve} or less left,",
        "   beside a line and with a buddy. Nothing may hold or push you.",
        "2. Let all gas out of the wing, and out of the suit until it just",
        "   squeezes. Lie still, fins at rest.",
        "3. Breathe quietly. Neutral: you rise a little as you breathe in and",
        "   sink as you breathe out, and stay where you are in the mean.",
        "4. If you rise or sink all the time, take lead from the buddy or give",
        "   it, a piece at a time, until it is so. Write down how much: plus for",
        "   lead added, minus for lead given.",
        "5. Write down lead, pressure, depth and water, here, the same day.",
        "",
        "Hold on to the line before you are light. Stop if anything is amiss:",
        "no number is worth an ascent that cannot be held.",
    ]


def taken_for_diver(diver: Diver, record: Entry | None, field: Field, system: System) -> str:
    """What is taken for a key that the diver file does not have."""
    body = catalogue().body
    if field.key in TAPES:
        estimated = wearer_of(resolve(NOTHING_WORN, Linked(diver=diver))).measures[TAPES[field.key]]
        return f"estimated {with_spread(estimated, 'length', system)}"
    match field.key:
        case "stature" if record is None:
            return f"taken as {_between(body.stature, 'length', system)}"
        case "mass" if record is None:
            return f"taken as {_between(body.mass, 'body mass', system)}"
        case "sex":
            return "between both"
        case "neck_turns":
            return "free, as usual"
        case "lead_sizes":
            return shown(catalogue().limits["lead_piece"].value, "lead", system)
        case "seen":
            return "what was it? It counts from then"
        case "by":
            return "lead added + or taken - until so"
        case "worn":
            return "the kit as it is now"
        case "lead":
            return "what the kit carries"
        case "pressure":
            return "the reserve of each cylinder"
        case "depth":
            return "the stop of the kit"
        case "water":
            return "the kit's water"
        case "excluded":
            return "no: it counts"
    return ""


NOTHING_WORN = Kit(Header(format=1, name="nothing", layout="single"), ())
"""What a diver has on whose body alone is asked about."""


def _between(value: TradeValue, measure: str, system: System) -> str:
    return f"{digits(value.low, measure, system)} to {shown(value.high, measure, system)}"
