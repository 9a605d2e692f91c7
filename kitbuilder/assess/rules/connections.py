"""What hoses connect: no loose ends, no device left out, and the right item at each end."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, words
from kitbuilder.assess.hoses.joints import PressureFault, is_quick_disconnect
from kitbuilder.assess.hoses.ports import service_of_device
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import (
    Device,
    Drysuit,
    Gauge,
    Item,
    Jacket,
    Other,
    SecondStage,
    Transmitter,
    Wing,
    split_port,
)


@rule("comes from nowhere")
def comes_from_nowhere(context: Context) -> RuleResults:
    """Report a hose that no port is named for."""
    for figures in context.hoses:
        if not figures.hose.from_:
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "from",
                words("the file does not name the port that the hose leaves from"),
                words("Without the port, thread, pressure class and free ports cannot be checked."),
                words('Name the first stage and its port, such as "first LP1".'),
            )


@rule("leads nowhere")
def leads_nowhere(context: Context) -> RuleResults:
    """Report a hose with nothing at its other end."""
    for figures in context.hoses:
        hose, target = figures.hose, context.item(figures.hose.to)
        if isinstance(target, Device):
            continue
        what = "the file does not name the item that the hose feeds"
        if target is not None:
            what = f'the hose leads to "{target.tag}", a {target.title}, which has no inlet for a hose'
        elif hose.to:
            what = f'the hose leads to "{hose.to}", and no item has this tag'
        closes_itself = is_quick_disconnect(figures.ends.at_device.joint)
        yield Finding(
            Signal.CAUTION if closes_itself else Signal.WARNING,
            figures.number,
            "to",
            words(what),
            words("A hose with an open end empties the cylinder. One that ends in a coupling only dangles."),
            words(
                "Name the item that the hose feeds, or take the hose off and plug its port. If it is a spare, write "
                "`in_spares = true`."
            ),
        )


@rule("no hose")
def no_hose(context: Context) -> RuleResults:
    """Report a device that needs gas and has no hose."""
    fed = {figures.hose.to for figures in context.hoses}
    for number, item in enumerate(context.kit.items):
        if not isinstance(item, (SecondStage, Gauge, Transmitter, Wing, Jacket, Drysuit)) or item.tag in fed:
            continue
        if isinstance(item, (Gauge, Transmitter)) and item.port:
            continue
        yield Finding(
            Signal.WARNING,
            number,
            "port" if isinstance(item, (Gauge, Transmitter)) else None,
            words("no hose leads to this item"),
            words("Without gas it does not work."),
            words(f'Add a hose with to = "{item.tag}", or remove the item from the kit.'),
        )


@rule("fed twice")
def fed_twice(context: Context) -> RuleResults:
    """Report two hoses to an item with one inlet, or a hose to an instrument that sits in a port."""
    seen = {
        item.tag: f"sits in the port {item.port}"
        for item in context.kit.items
        if isinstance(item, (Gauge, Transmitter)) and item.port
    }
    for figures in context.hoses:
        hose = figures.hose
        if hose.to in seen and isinstance(context.item(hose.to), Device):
            yield Finding(
                Signal.WARNING,
                figures.number,
                "to",
                words(f'the hose leads to "{hose.to}", which already {seen[hose.to]}'),
                words("An item with one inlet can take only one hose."),
                words("Lead this hose elsewhere, or take it off and plug its port."),
            )
        elif hose.to:
            seen[hose.to] = f'has the hose "{hose.tag}"'


@rule("pressure at the device")
def pressure_at_the_device(context: Context) -> RuleResults:
    """Report a hose of one pressure class on a device of the other."""
    for figures in context.hoses:
        takes, gives = figures.joints.takes, figures.service
        if PressureFault.WRONG_DEVICE not in figures.joints.pressure_faults:
            continue
        bursts = gives == "HP"
        yield Finding(
            Signal.DANGER if bursts else Signal.WARNING,
            figures.number,
            "to",
            words(f'the {gives} hose leads to "{figures.hose.to}", which takes {takes}'),
            words(
                "Cylinder pressure breaks a low-pressure device."
                if bursts
                else "The device shows or passes nothing useful."
            ),
            words(f'Feed "{figures.hose.to}" from an {takes} port with an {takes} hose.'),
        )


@rule("role and item")
def role_and_item(context: Context) -> RuleResults:
    """Report a role that speaks of one kind of item, and a hose that leads to another."""
    for figures in context.hoses:
        device, role = context.item(figures.hose.to), catalogue().roles[figures.hose.role]
        if not isinstance(device, Device) or role.device in ("other", device.kind):
            continue
        if not service_of_device_differs(device, role.service):
            yield Finding(
                Signal.CAUTION,
                figures.number,
                "role",
                words(f"the role of the hose is {role.name}, but it leads to a {device.title}"),
                words("The role decides which ends, lengths and routes count as usual."),
                words("Correct `role` or `to`."),
            )


def service_of_device_differs(device: object, service: str) -> bool:
    """Say whether role and item differ in their pressure class, which has a finding of its own."""
    takes = service_of_device(device) if isinstance(device, Device) else None
    return takes is not None and takes != service


@rule("nothing vents")
def nothing_vents(context: Context) -> RuleResults:
    """Report a first stage without a second stage: gas has no way out when its seat creeps."""
    fed: dict[str, list[Item | None]] = {}
    for figures in context.hoses:
        if figures.hose.from_:
            fed.setdefault(split_port(figures.hose.from_)[0], []).append(context.item(figures.hose.to))
    for (tag, _), numbers in context.users.items():
        fed.setdefault(tag, []).extend(context.kit.items[number] for number in numbers)
    for tag, items in fed.items():
        if tag in context.numbers and not any(isinstance(item, (SecondStage, Other)) for item in items):
            yield Finding(
                Signal.WARNING,
                context.numbers[tag],
                None,
                words("the first stage feeds no second stage"),
                words("If its seat leaks, the pressure rises until a hose, an inflator or a plug bursts."),
                words(
                    "Connect a second stage to it. Or fit an over-pressure valve in an LP port "
                    "and add it to the file as an [[other]] with its port."
                ),
                rule_of_thumb=True,
            )
