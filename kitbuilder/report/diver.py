"""The diver's page: the list of float checks, what one shows, and how one is made."""

from collections.abc import Sequence

from kitbuilder.assess.buoyancy.float_checks import Seen, usual_check
from kitbuilder.assess.defaults import ESTIMATED, TAKEN, default_in_diver
from kitbuilder.assess.findings import Amount
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.fields import Field
from kitbuilder.kit.items import Entry
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.report.balance import check_result
from kitbuilder.report.form import default_value
from kitbuilder.report.linked import not_used
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Column, Estimate, Node, Page, Row, Section, Sentence, Statements, Table, Tag, text
from kitbuilder.report.page import Statement as Step
from kitbuilder.units import convert


def first_check(kit_name: str, tag: str, kit: ResolvedKit) -> dict[str, TomlValue]:
    """Give the keys of a new float check: all but what was seen, as the kit has them, so later edits do not matter.

    Args:
        kit_name: The file name of the kit.
        tag: Its tag, not taken in the diver file.
        kit: The kit that was worn.
    """
    usual = usual_check(kit)
    return {
        "tag": tag,
        "kit": kit_name,
        "lead": f"{usual.lead_kg:g} kg",
        "pressure": _in_bar(usual.pressure_pa),
        **({} if usual.stage_pressure_pa is None else {"stage_pressure": _in_bar(usual.stage_pressure_pa)}),
        "depth": f"{usual.depth_m:g} m",
        "water": usual.water,
        "worn": usual.worn,
    }


def _in_bar(pressure_pa: float) -> str:
    return f"{convert(pressure_pa, 'bar', 'pressure'):g} bar"


def checks_list(diver: Diver) -> Table:
    """Build the list: the diver, then every float check, with whether it is counted."""
    rows: list[Row] = [["diver", ""], *([Tag(check.tag), _not_counted(check)] for check in diver.items)]
    return Table("", [Column("", "float check", may_wrap=True), Column("", " ")], rows)


def _not_counted(check: FloatCheck) -> str:
    return "not counted" if check.excluded or check.seen is None else ""


def check_page(check: FloatCheck | None, kit: ResolvedKit | None, seen: Seen | None) -> Page:
    """Build the pane: what the selected float check shows of body and kit, and how one is made.

    Args:
        check: The float check under the cursor; None for the diver.
        kit: The kit that was worn; None when it cannot be read.
        seen: What is computed for the check in that kit.
    """
    return Page([*(_check_parts(check, kit, seen) if check else []), *_procedure()])


def _check_parts(check: FloatCheck, kit: ResolvedKit | None, seen: Seen | None) -> Sequence[Node]:
    if kit is None or seen is None:
        return [text("The kit ", Tag(check.kit), " is not in this folder or cannot be read.")]
    start = "What it shows: " if seen.is_counted else "This check is "
    parts: list[Node] = [text(start, *check_result(seen), ".")]
    if seen.computed is not None:
        parts.append(text("Computed without it: ", Estimate(seen.computed, "lift"), " with the lead it names."))
    return [*parts, not_used(kit.linked.problems)]


def _procedure() -> Sequence[Node]:
    """Say how a float check is made: common practice, no source."""
    limits = catalogue().limits
    stop, reserve = Amount(limits["stop"].value, "depth"), Amount(limits["reserve"].value, "pressure")
    assert limits["reserve"].low is not None
    lowest = Amount(limits["reserve"].low, "pressure")
    steps: list[Sentence] = [
        ("Choose a dive that needs no stop. Make the check at its end, after the safety stop, at about ", stop,
         ", beside a line and with a buddy. Never make it on a dive that needs a stop."),
        ("Carry spare lead for the check, in pieces that hang on the line. Leave the buddy's ballast alone.",),
        ("Begin with about ", reserve, ". At ", lowest, " end the check and surface."),
        ("Let all gas out of the wing first, then out of the drysuit until it just squeezes. Lie still, fins at rest. "
         "Nothing may hold or push you.",),
        ("Breathe quietly. Neutral: you rise a little as you breathe in, sink as you breathe out, and on average stay "
         "where you are.",),
        ("If you keep rising, take a piece of the spare lead. If you keep sinking, hang one on the line. Once neutral, "
         "write down how much: plus for lead added, minus for lead taken off.",),
        ("Write down lead, depth, water and the pressure of each gas, stages apart, here, the same day.",),
    ]  # fmt: skip
    numbered = [Step(words, mark=str(number)) for number, words in enumerate(steps, start=1)]
    return [Statements("", numbered), Section("", [text(*SAFETY)])]


SAFETY = (
    "Hold on to the line before you become light. Stop if anything is wrong: no number is worth an ascent that you "
    "cannot control.",
)


def default_for_diver(diver: Diver, record: Entry | None, field: Field, system: System) -> str:
    """Say which default applies to a key that the diver file does not have."""
    default = default_in_diver(diver, record is not None, field.key)
    if default is None:
        return ""
    words = default_value(default, system)
    return {ESTIMATED: f"estimated {words}", TAKEN: f"taken as {words}"}.get(default.source, words)
