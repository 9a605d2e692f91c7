"""What is screwed into what: threads and pressure classes from the port to the device."""

from collections.abc import Iterator, Sequence

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Tag, Unchecked, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.hoses.joints import (
    HoseJoints,
    Meeting,
    Outcome,
    PressureFault,
    Side,
    adapters_between,
    is_quick_disconnect,
    meet,
    meet_in_port,
)
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Device, Gauge, Transmitter
from kitbuilder.physics.threads import Mating

WRONG_THREAD = {
    Mating.CANNOT_ENTER: (Signal.WARNING, "The one does not screw into the other", "The hose cannot be connected."),
    Mating.DROPS_IN: (
        Signal.DANGER,
        "One slides over the other and no thread holds it",
        "Under pressure the joint is shot apart.",
    ),
    Mating.FORM_DIFFERS: (
        Signal.DANGER,
        "It starts on a few threads and then binds",
        "If it is forced, it strips the thread and comes apart under pressure.",
    ),
    Mating.SHALLOW: (
        Signal.DANGER,
        "It screws in, but only part of the thread holds it",
        "It comes apart under pressure, without warning.",
    ),
}


@rule("thread at the port")
def thread_at_the_port(context: Context) -> RuleResults:
    """Compare the hose end, or its adapter, with the port it is screwed into."""
    for figures in context.hoses:
        joints, service = figures.joints, figures.service
        if joints.port is None:
            continue
        other_pressure = (
            "" if joints.port.service == service else f"Do not use an adapter. Connect the hose to an {service} port."
        )
        yield from _wrong_joints(figures, joints.at_port, do=other_pressure)
        yield from end_taken(figures, "from_end")


@rule("thread at the device")
def thread_at_the_device(context: Context) -> RuleResults:
    """Compare the other hose end, or its adapter, with the device."""
    for figures in context.hoses:
        joints, service, device = figures.joints, figures.service, context.item(figures.hose.to)
        if isinstance(device, Device) and joints.inlet is None:
            yield Unchecked(
                context.numbers[device.tag],
                "inlet",
                words("the thread at the device: the inlet of ", Tag(device.tag), " is not known"),
            )
        elif joints.inlet is not None and not clicks_on(joints):
            other = (
                "" if joints.inlet.service == service else f"Do not use an adapter. Use an {joints.inlet.service} hose."
            )
            yield from _wrong_joints(figures, joints.at_device, do=other)
            yield from end_taken(figures, "to_end")


def clicks_on(joints: HoseJoints) -> bool:
    """Say whether hose end and device meet without an adapter, and one of them is a quick-disconnect."""
    if joints.hose.to_adapter or not joints.at_device:
        return False
    [meeting] = joints.at_device
    return is_quick_disconnect(meeting.near.joint) or is_quick_disconnect(meeting.far.joint)


def end_taken(figures: HoseFigures, key: str) -> Iterator[Unchecked]:
    """Say which end is assumed where the file gives none, and what else it may be."""
    if key not in figures.taken:
        return
    is_port = key == "from_end"
    end = figures.ends.at_first_stage if is_port else figures.ends.at_device
    role = catalogue().roles[figures.hose.role]
    usual = role.from_end if is_port else role.to_end
    where, called = ("first stage", f"{end.name}") if is_port else ("device", end.name)
    what = f"the {where} end of the hose: assumed to be {called}"
    if end.name != usual:
        what += f", because the usual {usual} does not fit. Read it off the hose"
    yield Unchecked(figures.number, key, words(what))


@rule("pressure class")
def pressure_class(context: Context) -> RuleResults:
    """Report a low-pressure part in a high-pressure port, which bursts although the thread fits."""
    for figures in context.hoses:
        number, hose, service, joints = figures.number, figures.hose, figures.service, figures.joints
        if PressureFault.LOW_IN_HIGH in joints.pressure_faults:
            fits = ", and the thread fits" if all(each.joins for each in joints.at_port) else ""
            weak = (*joints.weak, figures.ends.at_first_stage)[0].name
            what = f"{'part' if service == 'HP' else 'hose'} ({weak})"
            yield Finding(
                Signal.DANGER,
                number,
                "from",
                words(f"a low-pressure {what} sits in the high-pressure port {hose.from_}{fits}"),
                words("It bursts at cylinder pressure. A fitting thread is not enough: the pressure class decides."),
                words(
                    "Use a hose that is made for high pressure from end to end."
                    if service == "HP"
                    else "Move the hose to an LP port. Have a technician measure the pressure of an unmarked port."
                ),
            )
        elif PressureFault.HIGH_IN_LOW in joints.pressure_faults:
            yield Finding(
                Signal.WARNING,
                number,
                "from",
                words(f"a high-pressure hose ({hose.role}) sits in the low-pressure port {hose.from_}"),
                words("The gauge then always shows the intermediate pressure, however little gas is left."),
                words("Move the hose to an HP port."),
            )


@rule("coding defeated")
def coding_defeated(context: Context) -> RuleResults:
    """Report an adapter that joins threads of two pressure classes, whose threads differ to keep them apart."""
    for figures in context.hoses:
        for key, name in figures.joints.defeating:
            yield Finding(
                Signal.DANGER,
                figures.number,
                key,
                words(f"the {name} joins the threads of two pressure classes"),
                words("The threads differ on purpose: they keep a low-pressure hose off a high-pressure port."),
                words("Remove the adapter and use a hose that is made for the port."),
            )


@rule("instrument in a port")
def instrument_in_a_port(context: Context) -> RuleResults:
    """Report a gauge or transmitter screwed straight into a port."""
    for number, item in enumerate(context.kit.items):
        if not isinstance(item, (Gauge, Transmitter)) or not item.port:
            continue
        port = context.port_of(item.port)
        if port is None:
            continue
        if port.service == "LP":
            yield Finding(
                Signal.WARNING,
                number,
                "port",
                words(f"the {item.title} sits in the low-pressure port {item.port}"),
                words("It always shows the intermediate pressure, however little gas is left."),
                words(f"Move the {item.title} to an HP port."),
            )
        meeting = meet_in_port(item, port)
        if meeting is None:
            yield Unchecked(number, "inlet", words(f"whether the {item.title} fits its port: its thread is not known"))
        elif not meeting.joins:
            do = (
                f"Move the {item.title} to an HP port."
                if port.service == "LP"
                else "Connect it with an HP hose that fits both."
            )
            yield _finding(number, meeting, "HP")._replace(do=words(do))


JOINT_RULES = (
    "thread at the port",
    "thread at the device",
    "pressure class",
    "coding defeated",
    "pressure at the device",
    "coupling family",
    "instrument in a port",
)
"""The rules that speak of joints that cannot be made, or must not be: their dangers and warnings."""


def _wrong_joints(figures: HoseFigures, meetings: Sequence[Meeting], do: str) -> Iterator[Finding]:
    """Report the joints of one end that cannot be made.

    Args:
        figures: The hose.
        meetings: From port or device to the hose end.
        do: The advice, where it is not to get a part that fits.
    """
    found = [_finding(figures.number, meeting, figures.service) for meeting in meetings if not meeting.joins]
    first, last = meetings[0].near, meetings[-1].far
    if found and not do and len(meetings) > 1 and meet(first, last).joins:
        adapter = meetings[0].far
        do = f"Remove {adapter.called}: {last.called} fits {first.called} without it."
        found = [found[0]._replace(key=adapter.key)]
    yield from (finding._replace(do=words(do)) if do else finding for finding in found)


def _finding(number: int, meeting: Meeting, service: str) -> Finding:
    """Put a joint that cannot be made into words."""
    near, far = meeting.near, meeting.far
    match meeting.outcome:
        case Outcome.SAME_GENDER:
            return Finding(
                Signal.WARNING,
                number,
                far.key,
                words(f"{far.called} ({far.gender}) does not fit {near.called} ({near.gender})"),
                words("Two parts of the same gender cannot be joined."),
                words("Choose the other hose end, or an adapter for it."),
            )
        case Outcome.OWN_HOSE_ONLY:
            return _own_hose_only(number, near, far)
        case Outcome.OTHER_THREAD:
            return _wrong_thread(number, meeting, service)
    return Finding(
        Signal.WARNING,
        number,
        far.key,
        words(f"{far.called} ({far.joint}) does not fit {near.called} ({near.joint})"),
        words("The two are joined in different ways."),
        words("Choose a hose end that fits."),
    )


def _wrong_thread(number: int, meeting: Meeting, service: str) -> Finding:
    near, far = meeting.near, meeting.far
    assert meeting.mating is not None
    signal, happens, matters = WRONG_THREAD[meeting.mating]
    what = f"{far.called} has the thread {far.joint}, {near.called} has {near.joint}. {happens}"
    if (near.key, far.key) == ("from", "from_end") and {near.joint, far.joint} == {"1/2-20 UNF", "3/8-24 UNF"}:
        what += ". It is a common mistake to buy a half-inch hose for a three-eighths port, or the reverse"
    return Finding(signal, number, far.key, words(what), words(matters), words(_advice(near, far, service)))


def _advice(near: Side, far: Side, service: str) -> str:
    if far.key.endswith("adapter"):
        return f"Choose an adapter that fits {near.joint}. Read the thread on the part, or measure it, before you buy."
    adapters = adapters_between(near, far, service)
    fitting = f"Buy a hose with a {near.joint} end. Read the thread on the part, or measure it, before you buy."
    return f"{fitting} The {adapters[0]} would also fit." if adapters else fitting


def _own_hose_only(number: int, near: Side, far: Side) -> Finding:
    """Report a built-in swivel on one side only: on the device, or on the hose."""
    on_the_hose = far.joint == "built-in swivel"
    return Finding(
        Signal.WARNING,
        number,
        far.key,
        words(f"{far.called} does not fit {near.called}: a built-in swivel takes only its own replacement hose"),
        words("That hose fits nothing else." if on_the_hose else "No stock hose fits it."),
        words(
            f"Buy a hose with a {near.joint} end."
            if on_the_hose
            else "Order the replacement hose from the maker of the second stage. Carry a spare one."
        ),
    )
