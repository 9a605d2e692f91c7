"""Gas rich in oxygen: which cylinder a first stage sits on, and what its gas touches."""

from kitbuilder.assess.context import port_reference
from kitbuilder.assess.on_body.routes import side_of_stage
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.gas import AIR
from kitbuilder.kit.things import Cylinder, FirstStage, Hose, Kit, split_port


def cylinder_of(stage: FirstStage, kit: Kit) -> Cylinder | None:
    """The cylinder a first stage sits on: as told, else the only one, else the one of its side; None when not known.

    A cylinder carried as a stage has a first stage of its own, and is taken only where it is told.
    """
    cylinders = [thing for thing in kit.things if isinstance(thing, Cylinder)]
    if stage.on is not None:
        return next((cylinder for cylinder in cylinders if cylinder.tag == stage.on), None)
    worn = [cylinder for cylinder in cylinders if cylinder.carried != "stage"]
    if len(worn) == 1:
        return worn[0]
    side = side_of_stage(stage)
    own = [cylinder for cylinder in worn if side and side in cylinder.tag.lower().split()]
    return own[0] if len(own) == 1 else None


def oxygen_of(cylinder: Cylinder) -> float:
    """The part of oxygen in the gas of a cylinder."""
    if cylinder.oxygen is not None:
        return cylinder.oxygen
    return (cylinder.gas or AIR).oxygen


def needs_clean(kit: Kit) -> frozenset[str]:
    """The tags of all that touches gas with so much oxygen that it has to be clean for it."""
    limit = catalogue().limits["oxygen_clean_from"].value
    rich = set[str]()
    for stage in kit.things:
        if isinstance(stage, FirstStage) and (cylinder := cylinder_of(stage, kit)) and oxygen_of(cylinder) > limit:
            rich.add(stage.tag)
    touched = set(rich)
    for thing in kit.things:
        reference = port_reference(thing)
        if reference and split_port(reference)[0] in rich:
            touched.add(thing.tag)
            if isinstance(thing, Hose) and thing.to:
                touched.add(thing.to)
    return frozenset(touched)
