"""Ports: there must be enough, none used twice and none left open."""

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.hoses.ports import port_reference
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.kit.items import FirstStage, Gauge, Hose, Item, Transmitter, split_port


@rule("no such port")
def no_such_port(context: Context) -> RuleResults:
    """Report a reference to a first stage or a port that is not there."""
    for number, item in enumerate(context.kit.items):
        reference = port_reference(item)
        if not reference:
            continue
        tag, name = split_port(reference)
        stage = context.item(tag)
        key = "from" if isinstance(item, Hose) else "port"
        if not isinstance(stage, FirstStage):
            stages = ", ".join(t.tag for t in context.kit.items if isinstance(t, FirstStage)) or "none in this kit"
            yield Finding(
                Signal.WARNING,
                number,
                key,
                words(f'the port is "{reference}", but the kit has no first stage "{tag}"'),
                words("Without a port it gets no gas."),
                words(f"Name one of the first stages: {stages}."),
            )
        elif tag in context.ports and name not in context.ports[tag]:
            yield Finding(
                Signal.WARNING,
                number,
                key,
                words(f'the first stage "{tag}" has no port {name}'),
                words("There is no place to screw it in."),
                words(f"Name one of its ports: {', '.join(context.ports[tag])}."),
            )


@rule("port used twice")
def port_used_twice(context: Context) -> RuleResults:
    """Report two items in one port."""
    for (tag, name), numbers in context.users.items():
        for number in numbers[1:]:
            first: Item = context.kit.items[numbers[0]]
            free = ", ".join(_free_ports(context, tag, name[:2])) or ("none" if tag in context.ports else "not known")
            yield Finding(
                Signal.WARNING,
                number,
                "from" if isinstance(context.kit.items[number], Hose) else "port",
                words(f'"{first.tag}" already sits in the port {tag} {name}'),
                words("A port takes only one hose or instrument."),
                words(f'Choose another port. Free {name[:2]} ports on "{tag}": {free}.'),
            )


@rule("plug and hose")
def plug_and_hose(context: Context) -> RuleResults:
    """Report a port said to be plugged that something is screwed into, or that is not there."""
    for number, stage in enumerate(context.kit.items):
        if not isinstance(stage, FirstStage):
            continue
        known = context.ports.get(stage.tag)
        for name in stage.plugged:
            if (stage.tag, name) in context.users:
                user = context.kit.items[context.users[stage.tag, name][0]]
                yield Finding(
                    Signal.CAUTION,
                    number,
                    "plugged",
                    words(f'{name} is listed as plugged, but "{user.tag}" sits in it'),
                    words("The list of plugs contradicts the hoses."),
                    words(f'Remove {name} from `plugged`, or move "{user.tag}" to another port.'),
                )
            elif known is not None and name not in known:
                yield Finding(
                    Signal.CAUTION,
                    number,
                    "plugged",
                    words(f"{name} is listed as plugged, but the first stage has no such port"),
                    words("The list of plugs contradicts the ports."),
                    words(f"Correct `plugged`. The ports are {', '.join(known)}."),
                )


@rule("open port")
def open_port(context: Context) -> RuleResults:
    """Report a port with neither hose nor plug."""
    for number, stage in enumerate(context.kit.items):
        if not isinstance(stage, FirstStage):
            continue
        if stage.tag not in context.ports:
            yield Unchecked(
                number,
                "ports",
                words("threads, pressure classes and plugs of the first stage: its ports are not known"),
            )
            continue
        if open_ones := [name for name in _free_ports(context, stage.tag, "") if name not in stage.plugged]:
            yield Finding(
                Signal.WARNING,
                number,
                "plugged",
                words(_open_ports(open_ones)),
                words(
                    "Gas escapes from an open port as soon as the valve is opened. In storage, water and sand get in."
                ),
                words(
                    "Fit a blanking plug with the right thread and list the port under `plugged`, "
                    "or connect a hose to it."
                ),
            )


@rule("port count")
def port_count(context: Context) -> RuleResults:
    """Report more hoses and instruments than ports."""
    stages = [item.tag for item in context.kit.items if isinstance(item, FirstStage)]
    if not stages or any(tag not in context.ports for tag in stages):
        return
    in_ports = sum(isinstance(item, (Gauge, Transmitter)) and bool(item.port) for item in context.kit.items)
    for service, instruments in (("LP", 0), ("HP", in_ports)):
        ports = sum(port.service == service for known in context.ports.values() for port in known.values())
        hoses = sum(figures.service == service for figures in context.hoses)
        if hoses + instruments > ports:
            also = f" and {_counted(instruments, 'instrument')} without a hose" if instruments else ""
            wanted = _counted(hoses, f"{service} hose") + also
            yield Finding(
                Signal.WARNING,
                None,
                None,
                words(f"the kit has {wanted}, but only {_counted(ports, f'{service} port')}"),
                words("Not every hose can be connected."),
                words("Remove a hose, or choose a first stage with more ports."),
            )


def _open_ports(names: list[str]) -> str:
    is_one = len(names) == 1
    return f"the port{'' if is_one else 's'} {', '.join(names)} {'has' if is_one else 'have'} neither a hose nor a plug"


def _counted(count: int, item: str) -> str:
    return f"{count} {item}" if count == 1 else f"{count} {item}s"


def _free_ports(context: Context, tag: str, service: str) -> list[str]:
    """Give the ports of a first stage that nothing is screwed into."""
    return [
        name for name in context.ports.get(tag, {}) if name.startswith(service) and (tag, name) not in context.users
    ]
