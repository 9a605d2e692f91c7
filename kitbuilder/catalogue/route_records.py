"""Readers for landmarks, poses and routes: an entry for the right side is mirrored for the left side."""

import re
from collections.abc import Collection, Iterator, Mapping

from kitbuilder.catalogue.body_entries import Landmark, Pose, Reach, Route, Terms
from kitbuilder.catalogue.records import LAYOUTS
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable

TURNS = ("left", "right", "back")
SIDES = ("left", "right")
SUIT = "suit"
"""Stands for the thickness of what is worn over the trunk, beside the measures of the survey."""

NOWHERE = Landmark("", "", Terms(0.0, ()), Terms(0.0, ()), Terms(0.0, ()), False, (), "")
"""What a landmark lies on that lies on no place of skin: the skin over C7."""

_SIDE = re.compile(r"\b(left|right)\b")


def other_side(text: str) -> str:
    """Give a text with left and right changed about."""
    return _SIDE.sub(lambda match: "right" if match[0] == "left" else "left", text)


def make_skin(
    tables: Iterator[CatalogueTable], measures: Collection[str], known: Mapping[str, Landmark]
) -> dict[str, Landmark]:
    """Make all places on bare skin by name, on both sides; each may lie on a known one, or on one made before it.

    Raises:
        CatalogueError: A measure is not in the survey, another place is not known, or a name is there twice.
    """
    skin = dict(known)
    for table in tables:
        _enter(_make_landmark(table, measures, skin), table, skin)
    return skin


def make_landmarks(
    tables: Iterator[CatalogueTable], measures: Collection[str], skin: Mapping[str, Landmark]
) -> dict[str, Landmark]:
    """Make all landmarks by name, those of the left side beside those of the right; each may lie on a place of skin.

    Raises:
        CatalogueError: A measure is not in the survey, a place on the skin is not known, or a name is there twice.
    """
    landmarks: dict[str, Landmark] = {}
    for table in tables:
        _enter(_make_landmark(table, measures, skin), table, landmarks)
    return landmarks


def _enter(landmark: Landmark, table: CatalogueTable, entries: dict[str, Landmark]) -> None:
    both = (landmark, _mirrored(landmark)) if table.choice("side", ("right",)) else (landmark,)
    table.finish()
    for made in both:
        if made.name in entries:
            raise CatalogueError(f"{table.place}, name: is there twice")
        entries[made.name] = made


def _make_landmark(table: CatalogueTable, measures: Collection[str], skin: Mapping[str, Landmark]) -> Landmark:
    on = skin.get(table.choice("on", skin), NOWHERE)
    return Landmark(
        name=table.text("name"),
        where=table.text("where"),
        right=_added(on.right, _terms(table, "right", measures)),
        forward=_added(on.forward, _terms(table, "forward", measures)),
        up=_added(on.up, _terms(table, "up", measures)),
        on_head=table.flag("on_head"),
        knob_of=tuple(table.texts("knob_of", LAYOUTS)) if "knob_of" in table else (),
        origin=table.text("origin"),
    )


def _terms(table: CatalogueTable, axis: str, measures: Collection[str]) -> Terms:
    rows = table.table(axis)
    plus = rows.quantity("plus", "length") if "plus" in rows else 0.0
    times = {name: rows.number(name) for name in (*measures, SUIT) if name in rows}
    rows.finish()
    return Terms(plus, tuple(times.items()))


def _added(one: Terms, other: Terms) -> Terms:
    times = dict(one.times)
    for name, factor in other.times:
        times[name] = times.get(name, 0.0) + factor
    return Terms(one.plus + other.plus, tuple(times.items()))


def _mirrored(landmark: Landmark) -> Landmark:
    plus, times = landmark.right
    return landmark._replace(
        name=other_side(landmark.name),
        where=other_side(landmark.where),
        right=Terms(-plus, tuple((name, -factor) for name, factor in times)),
    )


def make_pose(table: CatalogueTable) -> Pose:
    """Make a pose."""
    return Pose(table.text("name"), table.text("how"), table.choice("turn", TURNS), table.text("origin"))


def make_routes(
    tables: Iterator[CatalogueTable],
    landmarks: Mapping[str, Landmark],
    poses: Mapping[str, Pose],
    roles: Collection[str],
) -> dict[str, Route]:
    """Make all routes by name, each mirrored one beside its original.

    Raises:
        CatalogueError: A landmark, a pose or a role is not known, a hold is not on the path, or a name is there twice.
    """
    routes: dict[str, Route] = {}
    for table in tables:
        route = _make_route(table, landmarks, poses, roles)
        both = (route, _mirrored_route(route)) if table.flag("mirrored") else (route,)
        table.finish()
        for made in both:
            if made.name in routes:
                raise CatalogueError(f"{table.place}, name: is there twice")
            routes[made.name] = made
    return routes


def _make_route(
    table: CatalogueTable, landmarks: Mapping[str, Landmark], poses: Mapping[str, Pose], roles: Collection[str]
) -> Route:
    path = tuple(table.texts("path", landmarks))
    return Route(
        name=table.text("name"),
        layouts=tuple(table.texts("layouts", LAYOUTS)),
        roles=tuple(table.texts("roles", roles)),
        side=table.choice("side", SIDES),
        path=path,
        holds=tuple(table.texts("holds", path)) if "holds" in table else (),
        in_use=tuple(table.texts("in_use", landmarks)) if "in_use" in table else path,
        bow=table.number("bow"),
        hangs=table.flag("hangs"),
        stowed=table.flag("stowed"),
        poses=tuple(table.texts("poses", poses)) if "poses" in table else (),
        reaches=tuple(_reach(row, landmarks, poses) for row in table.rows("reaches")),
        wishes=tuple(_reach(row, landmarks, poses) for row in table.rows("wishes")),
        given=tuple(table.texts("given", landmarks)) if "given" in table else (),
        origin=table.text("origin"),
    )


def _reach(table: CatalogueTable, landmarks: Mapping[str, Landmark], poses: Mapping[str, Pose]) -> Reach:
    reach = Reach(table.text("pose", poses), tuple(table.texts("path", landmarks)))
    table.finish()
    return reach


def _mirrored_route(route: Route) -> Route:
    def turned(names: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(map(other_side, names))

    return route._replace(
        name=other_side(route.name),
        side=other_side(route.side),
        path=turned(route.path),
        holds=turned(route.holds),
        in_use=turned(route.in_use),
        reaches=tuple(Reach(reach.pose, turned(reach.path)) for reach in route.reaches),
        wishes=tuple(Reach(reach.pose, turned(reach.path)) for reach in route.wishes),
        given=turned(route.given),
    )
