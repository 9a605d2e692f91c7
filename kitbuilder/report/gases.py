"""The gases of a kit: how much oxygen they have, and at which depths they can be breathed."""

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount, Tag
from kitbuilder.assess.gas.breathing import GasUse, gas_uses, is_rounded, oxygen_limits
from kitbuilder.report.page import Column, Row, Section, Sentence, Share, Table, text
from kitbuilder.report.shapes import NUMBER, SHARE, TEXT, optional, record

GAS = record(
    tag=TEXT,
    oxygen=SHARE,
    oxygen_at_surface_pa=NUMBER,
    shallowest_m=optional(NUMBER),
    oxygen_at_shallowest_pa=optional(NUMBER),
    deepest_m=optional(NUMBER),
    oxygen_at_deepest_pa=optional(NUMBER),
    breathable_from_m=optional(NUMBER),
    within_limit_to_m=optional(NUMBER),
    breathable_to_m=optional(NUMBER),
)


ROUNDED = (
    "Practice counts the surface as 1 bar, so that a pressure shown may lie a little above the limit that it meets. "
)


def gases_table(assessment: Assessment) -> Section:
    """Build the table of the gases that are breathed, one row for each cylinder, and their limits."""
    limits = oxygen_limits(assessment.kit.header)
    columns = [
        Column("tag", "gas of", may_wrap=True),
        Column("oxygen", "oxygen"),
        Column("oxygen_at_surface_pa", "oxygen pressure, surface", may_wrap=True),
        Column("", "at its deepest"),
        Column("shallowest_m", ""),
        Column("oxygen_at_shallowest_pa", ""),
        Column("deepest_m", ""),
        Column("oxygen_at_deepest_pa", ""),
        Column("breathable_from_m", "breathe from"),
        Column("within_limit_to_m", "within limit to"),
        Column("breathable_to_m", "at most to"),
    ]
    uses = gas_uses(assessment.kit, assessment.water)
    table = Table("gases", columns, [_row(use) for use in uses])
    rounded = (ROUNDED,) if any(is_rounded(use, limits) for use in uses) else ()
    said = text(
        "Oxygen pressure at depth: limit ",
        Amount(limits.limit_pa, "oxygen pressure"),
        ", at most ",
        Amount(limits.highest_pa, "oxygen pressure"),
        "; at least ",
        Amount(limits.lowest_pa, "oxygen pressure"),
        ". ",
        *rounded,
        "No stops and no times are worked out.",
    )
    return Section("Gases", [table, said]) if table.rows else Section("", [table])


def _row(use: GasUse) -> Row:
    return [
        Tag(use.cylinder.tag),
        Share(use.oxygen),
        Amount(use.at_surface_pa, "oxygen pressure"),
        _pressure_at(use.at_deepest_pa, use.deepest_m),
        _depth(use.shallowest_m),
        _pressure(use.at_shallowest_pa),
        _depth(use.deepest_m),
        _pressure(use.at_deepest_pa),
        _depth(use.from_m),
        _depth(use.down_to_m),
        _depth(use.at_most_m),
    ]


def _pressure_at(oxygen_pa: float | None, depth_m: float | None) -> Sentence:
    """Say an oxygen pressure with its depth: "1.39 bar at 45 m"."""
    if oxygen_pa is None or depth_m is None:
        return ("depth not given",)
    return (Amount(oxygen_pa, "oxygen pressure"), " at ", Amount(depth_m, "depth"))


def _pressure(oxygen_pa: float | None) -> Amount | None:
    return None if oxygen_pa is None else Amount(oxygen_pa, "oxygen pressure")


def _depth(depth_m: float | None) -> Amount | None:
    return None if depth_m is None else Amount(depth_m, "depth")
