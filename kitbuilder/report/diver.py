"""The diver's page in words: the list of float checks, what one tells, and how one is made."""

from pathlib import Path

from kitbuilder.assess.buoyancy.float_checks import look_at_checks, usual_check
from kitbuilder.assess.defaults import ESTIMATED, TAKEN, default_in_diver
from kitbuilder.catalogue import catalogue
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.fields import Field
from kitbuilder.kit.items import Entry
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.folder import kit_worn_by
from kitbuilder.report.balance import format_seen
from kitbuilder.report.form import default_value
from kitbuilder.report.linked import not_used_lines
from kitbuilder.report.numbers import System, shown, with_spread
from kitbuilder.units import convert

WIDTH = 71
"""Columns of the longest line of the procedure."""


def first_check(kit_name: str, tag: str, kit: ResolvedKit) -> dict[str, TomlValue]:
    """The keys of a new float check: all but what was seen, as the kit has them, so that later edits do not matter.

    Args:
        kit_name: The file name of the kit.
        tag: Its tag, not taken in the diver file.
        kit: The kit that was worn.
    """
    said = usual_check(kit)
    return {
        "tag": tag,
        "kit": kit_name,
        "lead": f"{said.lead_kg:g} kg",
        "pressure": f"{convert(said.pressure_pa, 'bar', 'pressure'):g} bar",
        "depth": f"{said.depth_m:g} m",
        "water": said.water,
        "worn": said.worn,
    }


def check_row(check: FloatCheck) -> str:
    """A float check in the list."""
    return f"{visible(check.tag)}{', not counted' if check.excluded or check.seen is None else ''}"


def check_lines(diver: Diver, number: int | None, path: Path, system: System) -> list[str]:
    """What the selected float check tells of body and kit."""
    if number is None:
        return []
    check = diver.items[number]
    kit = kit_worn_by(path, check.kit, diver)
    seen = next((found for found in look_at_checks(kit) if found.check == check), None) if kit else None
    if kit is None or seen is None:
        return [f"The kit {visible(check.kit)} is not in this folder or cannot be read."]
    told = format_seen(seen, system)
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


def default_for_diver(diver: Diver, record: Entry | None, field: Field, system: System) -> str:
    """What is taken for a key that the diver file does not have."""
    default = default_in_diver(diver, record is not None, field.key)
    if default is None:
        return ""
    words = default_value(default, system)
    return {ESTIMATED: f"estimated {words}", TAKEN: f"taken as {words}"}.get(default.source, words)
