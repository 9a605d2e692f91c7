"""Whether a second stage reaches the mouth of another diver: both bodies laid out, each with its spread.

Face to face, the other's mouth is where every check of a single kit has it. Side by side, both swim level with their
shoulders on one line, the other on the side from which the hose comes. One behind the other, the other swims ahead,
ankles beside the giver's face. A hose enters a second stage from the right of whoever breathes from it.
"""

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, difference, from_catalogue, of_another
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import (
    BodyPoint,
    RequiredLength,
    RoutedHose,
    figures_of,
    laid_length,
    point_of,
)
from kitbuilder.assess.fit.trial import by_string
from kitbuilder.assess.fit.verdict import Test, Verdict, judge
from kitbuilder.assess.hoses.hose_weight import reach
from kitbuilder.catalogue import Route, catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.physics.polyline import polyline_length

FACE_TO_FACE, SIDE_BY_SIDE, IN_FILE = "face to face", "side by side", "one behind the other"
POSITIONS = {
    FACE_TO_FACE: "Face to face, 30 cm from mouth to mouth, each with a hand on the other's strap.",
    SIDE_BY_SIDE: "Side by side, shoulders level, the receiver on the side from which the hose comes.",
    IN_FILE: "One behind the other, the receiver ahead, ankles beside the giver's face.",
}
"""How two divers swim while one breathes from the other, and how to take each position."""
PARTNER = "partner's "
"""Stands before the measures of the other body, and before its sources of spread: two bodies are independent."""
GAP = "room between the shoulders"


class PartnerReach(NamedTuple):
    """Whether a hose reaches the other's mouth in one position."""

    position: str
    """A key of `POSITIONS`."""
    verdict: Verdict

    @property
    def test(self) -> Test:
        """The length tried in this position."""
        return self.verdict.test


def side_of_hand_over(route: Route, giver: Wearer) -> str:
    """Give the side of the giver from which the hose comes, "left" or "right"."""
    right, _, _ = point_of(catalogue().landmarks[route.given[-1]], _values(figures_of(giver)))
    return "left" if right < 0 else "right"


def partner_reaches(hose: Hose, routed: RoutedHose, giver: Wearer, receiver: Wearer) -> tuple[PartnerReach, ...]:
    """Try a hose in every position of `POSITIONS`; nothing where its route is not made for handing over."""
    if not routed.route.given:
        return ()
    covers, needs = reach(hose), _needs(routed.route, giver, receiver)
    return tuple(_tried(by_string(need, hose, routed), covers, is_strung=hose.run_m is not None) for need in needs)


def _tried(need: RequiredLength, covers: Figure, *, is_strung: bool) -> PartnerReach:
    margin = difference(covers, need.length, f"length less what it needs: {need.length.origin}")
    by_hand = is_strung and need.is_worn
    test = Test(need.pose, need.how, margin, is_asked=True, decides=True, needed=need.length, by_string=by_hand)
    return PartnerReach(need.pose, judge([test], has_slack=False, is_too_long=False))


@lru_cache(maxsize=1024)
def _needs(route: Route, giver: Wearer, receiver: Wearer) -> tuple[RequiredLength, ...]:
    figures = figures_of(giver) | {
        f"{PARTNER}{name}": of_another(each, PARTNER) for name, each in figures_of(receiver).items()
    }
    figures[GAP] = from_catalogue(GAP, catalogue().limits["partner_beside"])
    side = side_of_hand_over(route, giver)
    return tuple(_laid(position, side, route, figures) for position in POSITIONS)


def _laid(position: str, side: str, route: Route, figures: Mapping[str, Figure]) -> RequiredLength:
    landmarks, taut = catalogue().landmarks, catalogue().limits["taut"].value

    def length_m(values: Mapping[str, float]) -> float:
        on_giver = (point_of(landmarks[name], values) for name in route.given)
        return taut * polyline_length((*on_giver, _mouth(position, side, values)))

    length = laid_length(length_m, _values(figures), figures, route.name)
    return RequiredLength(position, POSITIONS[position], route.given, length, is_asked=True, is_worn=not route.stowed)


def _values(figures: Mapping[str, Figure]) -> dict[str, float]:
    return {name: figure.value for name, figure in figures.items()}


def _mouth(position: str, side: str, values: Mapping[str, float]) -> BodyPoint:
    """Say where the hose enters the second stage in the other's mouth, seen by the giver [m]."""
    landmarks = catalogue().landmarks
    if position == FACE_TO_FACE:
        return point_of(landmarks["partner's mouth"], values)
    partner = {name.removeprefix(PARTNER): value for name, value in values.items() if name.startswith(PARTNER)}
    mouth, ahead = landmarks["mouth from the right"], landmarks["mouth of a partner ahead"]
    right, forward, up = point_of(mouth, partner)
    if position == IN_FILE:
        # From mouth to ankles it is the other's body, up to the mouth the giver's own.
        _, _, own_mouth_up = point_of(mouth, values)
        beside, below, file_up = point_of(ahead, partner)
        return beside, below, own_mouth_up + file_up - up
    apart = (values["shoulder breadth"] + partner["shoulder breadth"]) / 2 + values[GAP]
    return right + (apart if side == "right" else -apart), forward, up
