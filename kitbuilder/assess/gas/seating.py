"""How a first stage sits on the valve of its cylinder: whether it fits, and whether it bears the pressure."""

from typing import NamedTuple

from kitbuilder.assess.gas.fillings import filled_of, working_pressure_of
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.catalogue import Connection, Seating, catalogue
from kitbuilder.kit.items import Cylinder, FirstStage
from kitbuilder.kit.resolved import ResolvedKit

CLAMPED, LONG = "yoke", "DIN 300"
"""Above what is stamped on the one, valves have the other: EN ISO 12209:2013, scope; clamps go up to 3442 psi."""


class Seat(NamedTuple):
    """A first stage on its valve."""

    connection: Connection
    """Of the first stage."""
    outlet: Connection | None
    """Of the valve; None where it is not known."""
    seating: Seating | None
    """Whether the two fit; None where that is not known."""
    filled_pa: float | None
    """The greatest pressure that stands on it; None where no filling is known."""

    @property
    def weaker(self) -> Connection:
        """The side that bears less."""
        sides = (self.connection, self.outlet or self.connection)
        return min(sides, key=lambda side: side.limit.value)


def seat_of(stage: FirstStage, kit: ResolvedKit, behind: tuple[Cylinder, ...]) -> Seat | None:
    """Give how a first stage sits on its valve; None where its connection is not known.

    Args:
        stage: The first stage.
        kit: Its kit.
        behind: The cylinders whose gas reaches it.
    """
    trade, name = catalogue(), connection_of(stage)
    if name is None:
        return None
    own = cylinder_of(stage, kit)
    outlet = outlet_of(own) if own else None
    fillings = [pressure for each in behind if (pressure := filled_of(each)) is not None]
    return Seat(
        trade.connections[name],
        trade.outlets[outlet] if outlet else None,
        trade.seatings.get((name, outlet)) if outlet else None,
        max(fillings, default=None),
    )


def connection_of(stage: FirstStage) -> str | None:
    """Give the name of a first stage's connection, its own or its preset's; None when neither is given."""
    preset = catalogue().presets.get((stage.kind, stage.preset or ""))
    return stage.connection or (preset.connection if preset else None)


def outlet_of(cylinder: Cylinder) -> str | None:
    """Give the name of a cylinder's outlet: as given, else by its working pressure; None when not known."""
    if cylinder.outlet:
        return cylinder.outlet
    working = working_pressure_of(cylinder)
    return LONG if working is not None and working > catalogue().outlets[CLAMPED].limit.high else None
