"""Two kits in two columns: hoses matched by role, what differs first."""

from collections import defaultdict
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import NEGLIGIBLE, Figure, difference
from kitbuilder.assess.fit.fit import Fit
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.items import Hose

NOT_COMPARED = ("tag", "role", "from_", "to", "notes")
"""Attributes of a hose that make no other hose of it."""
COMPARED = tuple(field.attribute for field in fields_of(Hose) if field.attribute not in NOT_COMPARED)
"""The attributes of a hose that make a difference when it is built."""
BUILD = frozenset({"body", "length", "measured"})
ENDS = frozenset({"from_end", "from_adapter", "to_end", "to_adapter"})
"""Keys of what a hose is made as, and of what is at its ends."""


class Pair(NamedTuple):
    """The hoses of one role in two kits; None where a kit has none."""

    role: str
    left: HoseFigures | None
    right: HoseFigures | None
    differs_in: tuple[str, ...]
    """The keys in which they differ; empty for equal hoses, and where one is missing."""

    @property
    def is_equal(self) -> bool:
        """Whether both are there and the same."""
        return self.left is not None and self.right is not None and not self.differs_in

    @property
    def build_differs(self) -> bool:
        """Whether length or body differ; as everything does where one hose is missing."""
        return self.left is None or self.right is None or not BUILD.isdisjoint(self.differs_in)

    @property
    def ends_differ(self) -> bool:
        """Whether ends or adapters differ."""
        return self.left is None or self.right is None or not ENDS.isdisjoint(self.differs_in)

    @property
    def fit_differs(self) -> bool:
        """Whether the hoses fit differently, or one of them is not known to fit."""
        return self.left is None or self.right is None or not _fits_alike(self.left.fit, self.right.fit)

    @property
    def weight_differs(self) -> bool:
        """Whether mass or buoyancy differ."""
        if self.left is None or self.right is None:
            return True
        left, right = self.left.weight, self.right.weight
        return compared(left.mass, right.mass).differs or compared(left.buoyancy, right.buoyancy).differs


class Compared(NamedTuple):
    """A figure of both kits; None where it is not known."""

    left: Figure | None
    right: Figure | None
    change: Figure | None
    """The right one less the left one, in which common origins cancel; None where one is not known."""
    differs: bool


class SideBySide(NamedTuple):
    """Two kits and their hoses in pairs: first those of one kit only, then those that differ, then the equal ones."""

    left: Assessment
    right: Assessment
    pairs: tuple[Pair, ...]
    hoses_mass: Compared
    """Of all hoses [kg]."""
    hoses_buoyancy: Compared
    """[kgf]"""
    mass: Compared
    """Of everything that is weighed [kg]."""
    buoyancy: Compared
    """[kgf]"""
    lead: Compared
    """That each needs at its stop [kg]."""


def set_side_by_side(left: Assessment, right: Assessment) -> SideBySide:
    """Pair the hoses of two kits: by role, within a role by tag, else in the order of the files."""
    pairs: list[Pair] = []
    left_roles, right_roles = _by_role(left), _by_role(right)
    for role in dict.fromkeys([*left_roles, *right_roles]):
        pairs += _pairs(role, left_roles[role], right_roles[role])
    return SideBySide(
        left,
        right,
        tuple(sorted(pairs, key=_rank)),
        compared(left.all_hoses.mass, right.all_hoses.mass),
        compared(left.all_hoses.buoyancy, right.all_hoses.buoyancy),
        compared(left.everything.mass, right.everything.mass),
        compared(left.everything.buoyancy, right.everything.buoyancy),
        compared(left.balance.lead if left.balance else None, right.balance.lead if right.balance else None),
    )


def compared(left: Figure | None, right: Figure | None) -> Compared:
    """Compare a figure of two kits; to differ takes more than the last bits of a sum."""
    if left is None or right is None:
        return Compared(left, right, None, left is not right)
    change = difference(right, left, "right minus left")
    return Compared(left, right, change, abs(change.value) > NEGLIGIBLE)


def _fits_alike(left: Fit | None, right: Fit | None) -> bool:
    """Tell whether two hoses fit alike: as well, known as well, and as far from the body."""
    if left is None or right is None:
        return left is right
    words = ((*fit.verdict.words, fit.is_estimated, fit.slack_by_design) for fit in (left, right))
    if len(set(words)) > 1 or compared(left.slack, right.slack).differs:
        return False
    out, other = left.stand_off, right.stand_off
    if out is None or other is None:
        return out is other
    return all(abs(one - two) <= NEGLIGIBLE for one, two in zip(out, other, strict=True))


def _by_role(assessment: Assessment) -> defaultdict[str, list[HoseFigures]]:
    roles: defaultdict[str, list[HoseFigures]] = defaultdict(list)
    for figures in assessment.hoses:
        roles[figures.hose.role].append(figures)
    return roles


def _pairs(role: str, left: list[HoseFigures], right: list[HoseFigures]) -> list[Pair]:
    right_by_tag = {figures.hose.tag: figures for figures in right}
    same = [(figures, right_by_tag[figures.hose.tag]) for figures in left if figures.hose.tag in right_by_tag]
    rest_left = [figures for figures in left if figures.hose.tag not in right_by_tag]
    matched = {pair[1].number for pair in same}
    rest_right = [figures for figures in right if figures.number not in matched]
    count = max(len(rest_left), len(rest_right))
    rest = zip(_filled(rest_left, count), _filled(rest_right, count), strict=True)
    return [_pair(role, *pair) for pair in (*same, *rest)]


def _filled(figures: list[HoseFigures], count: int) -> list[HoseFigures | None]:
    return [*figures, *[None] * (count - len(figures))]


def _pair(role: str, left: HoseFigures | None, right: HoseFigures | None) -> Pair:
    if left is None or right is None:
        return Pair(role, left, right, ())
    keys = {field.attribute: field.key for field in fields_of(Hose)}
    differing = (name for name in COMPARED if not _same(_meant(left.hose, name), _meant(right.hose, name)))
    return Pair(role, left, right, tuple(keys[name] for name in differing))


def _meant(hose: Hose, name: str) -> str | float | None:
    """Say what a key means when the file leaves it out, as the format says; else what the file says."""
    unsaid = {"measured": "end to end", "span_m": hose.run_m, "stowed_m": 0.0}
    said: str | float | None = getattr(hose, name)
    return unsaid.get(name) if said is None else said


def _same(left: str | float | None, right: str | float | None) -> bool:
    """Say whether two values are equal; lengths to a hundredth of a millimetre, so that 84 in is 7 ft."""
    if isinstance(left, float) and isinstance(right, float):
        return abs(left - right) < 1e-5
    return left == right


def _rank(pair: Pair) -> int:
    if pair.left is None or pair.right is None:
        return 0
    return 1 if pair.differs_in else 2
