"""Which cylinder a first stage sits on, and how much oxygen its gas has."""

from kitbuilder.assess.fit.routes import side_of_stage
from kitbuilder.assess.gas.mixes import parts_given
from kitbuilder.kit.items import Cylinder, FirstStage
from kitbuilder.kit.resolved import ResolvedKit


def cylinder_of(stage: FirstStage, kit: ResolvedKit) -> Cylinder | None:
    """Give the cylinder a first stage sits on: as given, else the only one, else the one of its side; else None.

    A cylinder carried as a stage has a first stage of its own, and is taken only where it is given.
    """
    cylinders = [item for item in kit.items if isinstance(item, Cylinder)]
    if stage.on is not None:
        return next((cylinder for cylinder in cylinders if cylinder.tag == stage.on), None)
    worn = [cylinder for cylinder in cylinders if cylinder.carried != "stage"]
    if len(worn) == 1:
        return worn[0]
    side = side_of_stage(stage)
    own = [cylinder for cylinder in worn if side and side in cylinder.tag.lower().split()]
    return own[0] if len(own) == 1 else None


def oxygen_of(cylinder: Cylinder) -> float:
    """Give the part of oxygen in the gas of a cylinder, from 0 to 1, as the file gives it."""
    oxygen, _, _ = parts_given(cylinder)
    return min(max(0.0, oxygen), 1.0)


def format_part(part: float) -> str:
    """Give a part of a gas in words: "50 %"."""
    return f"{part * 100:.3g} %"
