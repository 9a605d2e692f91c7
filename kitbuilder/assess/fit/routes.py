"""The route of a hose: as its file says, else as usual for its role in the layout."""

import re
from typing import NamedTuple

from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import RoutedHose, measure_route
from kitbuilder.catalogue import Route, catalogue
from kitbuilder.kit.items import FirstStage, Hose, split_port
from kitbuilder.kit.resolved import ResolvedKit

OWN_PATH = "a path of its own"
USUAL_BOW = 1.06
"""Of a path that somebody wrote down by landmarks; the middle of those in the catalogue."""

_SIDE = re.compile(r"\b(left|right)\b")


def lay_hose(hose: Hose, kit: ResolvedKit, wearer: Wearer) -> RoutedHose | None:
    """Route a hose of a kit over the body of its wearer; None when no route is known, or its path has no length."""
    route = route_of(hose, kit)
    return measure_route(route, kit.header.layout, wearer) if route else None


def route_of(hose: Hose, kit: ResolvedKit) -> Route | None:
    """Give the way a hose is led; None when it is neither given nor usual."""
    route = catalogue().routes[hose.route] if hose.route else _usual(hose, kit)
    if hose.path:
        route = _own(hose, route)
    if route and (more := tuple(name for name in hose.holds if name in route.path and name not in route.holds)):
        route = route._replace(holds=(*route.holds, *more))
    return route


def usual_routes(role: str, layout: str) -> tuple[Route, ...]:
    """Give the ways in which a hose of a role is led in a layout, the most usual first."""
    return tuple(route for route in catalogue().routes.values() if role in route.roles and layout in route.layouts)


class RouteChoice(NamedTuple):
    """A way in which a hose may be led."""

    route: Route
    is_usual: bool
    """Whether it is meant for the role of the hose and for the layout."""


def ranked_routes(role: str, layout: str) -> tuple[RouteChoice, ...]:
    """Rank all routes: those of a role in a layout, then those of the role, then those of the layout, then the rest."""
    usual = usual_routes(role, layout)
    others = [route for route in catalogue().routes.values() if route not in usual]
    others.sort(key=lambda route: (role not in route.roles, layout not in route.layouts))
    return (*(RouteChoice(route, True) for route in usual), *(RouteChoice(route, False) for route in others))


def _usual(hose: Hose, kit: ResolvedKit) -> Route | None:
    routes, side = usual_routes(hose.role, kit.header.layout), side_of(hose, kit)
    fitting = (route for route in routes if side and route.side == side)
    return next(fitting, routes[0] if routes else None)


def side_of(hose: Hose, kit: ResolvedKit) -> str | None:
    """Give the side of the first stage a hose leaves from: as given, else by a word of its tag, else None."""
    tag, _ = split_port(hose.from_ or "")
    stage = next((item for item in kit.items if isinstance(item, FirstStage) and item.tag == tag), None)
    return None if stage is None else side_of_stage(stage)


def side_of_stage(stage: FirstStage) -> str | None:
    """Give the side a first stage sits on: as given, else by a word of its tag, else None."""
    words = _SIDE.findall(stage.tag.lower())
    return stage.side or (words[0] if len(words) == 1 else None)


def _own(hose: Hose, route: Route | None) -> Route:
    """Make a route of a path by landmarks: the poses asked of the hose stay, the way changes."""
    ends_on_head = catalogue().landmarks[hose.path[-1]].on_head
    turns = tuple(pose.name for pose in catalogue().poses.values() if pose.turn) if ends_on_head else ()
    return Route(
        name=OWN_PATH,
        layouts=(),
        roles=(hose.role,),
        side="",
        path=hose.path,
        holds=tuple(name for name in (route.holds if route else ()) if name in hose.path),
        in_use=hose.path,
        bow=route.bow if route else USUAL_BOW,
        hangs=route.hangs if route else False,
        stowed=route.stowed if route else False,
        poses=turns,
        reaches=route.reaches if route else (),
        wishes=route.wishes if route else (),
        given=route.given if route else (),
        origin="kit file",
    )
