"""Gases where they are breathed: too much oxygen at depth, too little near the surface."""

from kitbuilder.assess.findings import Amount, Finding, RuleResults, Signal, Unchecked, Words, words
from kitbuilder.assess.gas.breathing import (
    Breathable,
    GasUse,
    OxygenLimits,
    ends_without_gas,
    is_rounded,
    judge_gas,
    oxygen_limits,
)
from kitbuilder.assess.gas.oxygen import format_part
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.items import Cylinder


@rule("too much oxygen")
def too_much_oxygen(context: Context) -> RuleResults:
    """Report a gas with too much oxygen for the depth at which it is breathed, or limits that are out of order."""
    limits = oxygen_limits(context.kit.header)
    if limits.highest_pa < limits.limit_pa:
        yield _limits_out_of_order(limits)
    for use in context.gas_uses:
        if use.deepest_m is None or use.at_deepest_pa is None:
            yield Unchecked(
                use.number,
                "deepest",
                words(
                    f"how deep its gas ({format_part(use.oxygen)} oxygen) is breathed. It can be breathed ",
                    *_down_to(use, limits),
                ),
            )
            continue
        verdict = judge_gas(use.cylinder, use.deepest_m, context.kit, context.water)
        if verdict not in (Breathable.RICH, Breathable.TOO_RICH):
            continue
        is_deadly, is_stage = verdict is Breathable.TOO_RICH, use.cylinder.carried == "stage"
        is_at_rest = is_stage and not is_deadly
        yield Finding(
            Signal.DANGER if is_deadly else Signal.CAUTION if is_stage else Signal.WARNING,
            use.number,
            _key_of(use.cylinder),
            words(
                "at ",
                Amount(use.deepest_m, "depth"),
                " the oxygen pressure of the gas is ",
                Amount(use.at_deepest_pa, "oxygen pressure"),
                "; the limit is ",
                Amount(limits.highest_pa if is_deadly else limits.limit_pa, "oxygen pressure"),
            ),
            words(
                "Too much oxygen causes convulsions without warning, and a diver who convulses drowns.",
                *((" By common practice, this much is only for a diver at rest.",) if is_at_rest else ()),
            ),
            words(AT_REST if is_at_rest else _instead(use), " It can be breathed ", *_down_to(use, limits), "."),
            rule_of_thumb=True,
        )


AT_REST = "Rest while you breathe this gas, or write a depth within the limit as `deepest`."


def _instead(use: GasUse) -> str:
    """Say what to do about a gas that is too rich, at its own depth or at that of the dive."""
    whose = "" if use.cylinder.deepest_m is not None else " of the kit"
    return f"Use a gas with less oxygen, or write a depth within the limit as `deepest`{whose}."


@rule("no gas for a depth")
def no_gas_for_a_depth(context: Context) -> RuleResults:
    """Report a kit of which no gas is said to be breathed at its greatest depth, or at the surface."""
    for end in ends_without_gas(context.gas_uses, context.kit):
        nearest, key = Amount(end.nearest_m, "depth"), "deepest" if end.depth_m else "shallowest"
        where = words("down to ", nearest) if end.depth_m else words("below ", nearest)
        yield Finding(
            Signal.WARNING,
            None,
            "deepest" if end.depth_m else None,
            words("the kit has no gas to breathe", *_at(end.depth_m), ": its gases are breathed only ", *where),
            words("The diver has to breathe there, and the file does not say from which cylinder."),
            words(f"Correct the depths of the dive or `{key}` of a cylinder, or carry another gas."),
        )


def _limits_out_of_order(limits: OxygenLimits) -> Finding:
    """Find limits of which the absolute one lies below the other."""
    return Finding(
        Signal.CAUTION,
        None,
        "oxygen_limit",
        words(
            "`oxygen_limit` (",
            Amount(limits.limit_pa, "oxygen pressure"),
            ") is above `oxygen_highest` (",
            Amount(limits.highest_pa, "oxygen pressure"),
            ")",
        ),
        words("The lower of the two decides: no gas above it counts as breathable."),
        words("Write `oxygen_highest` no lower than `oxygen_limit`."),
        rule_of_thumb=True,
    )


@rule("too little oxygen")
def too_little_oxygen(context: Context) -> RuleResults:
    """Report a gas with too little oxygen for the least depth at which it is breathed."""
    limits = oxygen_limits(context.kit.header)
    for use in context.gas_uses:
        if use.shallowest_m is None or use.at_shallowest_pa is None:
            yield Unchecked(
                use.number,
                "shallowest",
                words(
                    f"from which depth its gas ({format_part(use.oxygen)} oxygen) is breathed. It can be breathed ",
                    *_from(use),
                ),
            )
        elif judge_gas(use.cylinder, use.shallowest_m, context.kit, context.water) is Breathable.TOO_LEAN:
            yield Finding(
                Signal.DANGER,
                use.number,
                _key_of(use.cylinder),
                words(
                    "the oxygen pressure of the gas",
                    *_at(use.shallowest_m),
                    " is ",
                    Amount(use.at_shallowest_pa, "oxygen pressure"),
                    "; the gas needs at least ",
                    Amount(limits.lowest_pa, "oxygen pressure"),
                ),
                words("Too little oxygen makes a diver unconscious without warning."),
                words(
                    "Use a gas with more oxygen, or breathe another gas above and write a depth within the limit as "
                    "`shallowest`. It can be breathed ",
                    *_from(use),
                    ".",
                ),
                rule_of_thumb=True,
            )


def _key_of(cylinder: Cylinder) -> str:
    """Give the key that says what the gas is."""
    return "oxygen" if cylinder.oxygen is not None or cylinder.gas is None else "gas"


def _at(depth_m: float) -> Words:
    return words(" at ", Amount(depth_m, "depth")) if depth_m else words(" at the surface")


def _down_to(use: GasUse, limits: OxygenLimits) -> Words:
    """Say how deep a gas can be breathed within either limit, in whole metres on the safe side."""
    if use.down_to_m is None or use.at_most_m is None:
        return words("at no depth")
    return words(
        "down to ",
        Amount(use.down_to_m, "depth"),
        " within ",
        Amount(limits.limit_pa, "oxygen pressure"),
        " and down to ",
        Amount(use.at_most_m, "depth"),
        " within ",
        Amount(limits.highest_pa, "oxygen pressure"),
        " (the surface counts as 1 bar)" if is_rounded(use, limits) else "",
    )


def _from(use: GasUse) -> Words:
    """Say from which depth on a gas can be breathed, in whole metres on the safe side."""
    return words("below ", Amount(use.from_m, "depth")) if use.from_m is not None else words("at no depth")
