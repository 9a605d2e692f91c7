"""What a new kit still needs once it is put together: hoses of another length, and its lead."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.buoyancy.lead_pieces import LeadToTake
from kitbuilder.assess.buoyancy.measurement_priorities import Priority
from kitbuilder.assess.fit.advice import Advice
from kitbuilder.assess.fit.trial import Option
from kitbuilder.assess.fit.verdict import DOES_NOT_FIT
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.plans.rule_of_thumb import RuleOfThumb, plan_rule_of_thumb

SAME_M = 0.005
"""Lengths in centimetres and inches that differ by less are the same stock length [m]."""
MOST_NAMED = 3
"""Measurements that are named for a new kit."""


class NewKitPlan(NamedTuple):
    """What is set in a new kit, and what to measure first."""

    lengths_m: dict[str, float]
    """Lengths for hoses that do not fit the body that wears them, by tag."""
    lead: LeadToTake | None
    """The lead to carry; None where it cannot be worked out."""
    measure: tuple[Priority, ...]
    """What would narrow the lead most, the best first."""
    rule: RuleOfThumb | None = None
    """What the trade's rule of thumb says of the lead; None where nobody said what keeps the diver warm."""


def plan_new_kit(assessment: Assessment, exposure: str | None = None) -> NewKitPlan:
    """Say what a new kit needs.

    Args:
        assessment: The kit.
        exposure: What keeps the diver warm, a word of `styles.toml`.
    """
    balance = assessment.balance
    return NewKitPlan(
        _other_lengths(assessment),
        balance.pieces if balance else None,
        balance.measurement_priorities[:MOST_NAMED] if balance else (),
        plan_rule_of_thumb(assessment, exposure) if exposure else None,
    )


def _other_lengths(assessment: Assessment) -> dict[str, float]:
    """Give the advised length of each hose that another length suits better."""
    layout = assessment.kit.header.layout
    advised = ((fitted.figures.hose, fitted.advice) for fitted in plan_fitting(assessment).hoses)
    return {
        hose.tag: advice.buy.length_m
        for hose, advice in advised
        if advice is not None and advice.buy is not None and _is_changed(hose, advice, advice.buy, layout)
    }


def _is_changed(hose: Hose, advice: Advice, buy: Option, layout: str) -> bool:
    """Say whether the advised length is taken: for a hose that does not fit, or that a customary one betters.

    One that seems too short is not kept for being usual: the new kit would open with a finding about it.
    """
    verdict = advice.verdict
    if verdict.outcome == DOES_NOT_FIT or verdict.seems_too_short:
        return True
    custom = catalogue().roles[hose.role].customary.get(layout)
    is_usual = custom is None or custom[0] - SAME_M <= buy.length_m <= custom[1] + SAME_M
    has_less_slack = verdict.has_slack and buy.length_m < hose.length_m
    reaches_better = verdict.is_open and buy.length_m > hose.length_m
    return is_usual and (has_less_slack or reaches_better)
