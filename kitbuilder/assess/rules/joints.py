"""What is screwed into what: threads and pressure classes from the port to the device."""

from collections.abc import Iterator
from dataclasses import dataclass

from kitbuilder.assess.context import Context, Port, inlet_of
from kitbuilder.assess.findings import Finding, Signal, Unchecked, words
from kitbuilder.assess.hose_weight import ends_of
from kitbuilder.assess.rules.registry import Result, rule
from kitbuilder.assess.threads import meeting
from kitbuilder.catalogue import Adapter, Fitting, Inlet, catalogue
from kitbuilder.kit.things import Device, Gauge, Hose, Transmitter
from kitbuilder.physics.threads import Mating


@dataclass(frozen=True, slots=True)
class Side:
    """One half of a joint."""

    called: str
    joint: str
    gender: str


WRONG_THREAD = {
    Mating.CANNOT_ENTER: (Signal.WARNING, "It does not screw in.", "The dive ends on the bench."),
    Mating.DROPS_IN: (
        Signal.DANGER,
        "It slides in without a thread to hold it.",
        "Under pressure it is shot out.",
    ),
    Mating.FORM_DIFFERS: (
        Signal.DANGER,
        "It starts on a few threads, then binds.",
        "Forced, it strips the thread and lets go under pressure.",
    ),
    Mating.SHALLOW: (
        Signal.DANGER,
        "It screws in and holds on part of the thread only.",
        "It lets go under pressure, without warning.",
    ),
}


@rule("thread at the port")
def thread_at_the_port(context: Context) -> Result:
    """The hose end, or its adapter, against the port it is screwed into."""
    for number, hose in _hoses(context):
        port = context.port_of(hose.from_)
        if port is None:
            continue
        chain = [_of_port(port), *_adapter_sides(hose.from_adapter), _of_fitting(ends_of(hose).at_first_stage)]
        yield from _check_chain(number, "from_end", chain)
        if hose.from_end is None:
            yield Unchecked(number, "from_end", words(f"the end at the first stage is taken as {chain[-1].called}"))


@rule("thread at the device")
def thread_at_the_device(context: Context) -> Result:
    """The other hose end, or its adapter, against the device."""
    trade = catalogue()
    for number, hose in _hoses(context):
        device = context.thing(hose.to)
        if not isinstance(device, Device):
            continue
        inlet = trade.inlets.get(inlet_of(device) or "")
        end = ends_of(hose).at_device
        if inlet is None:
            yield Unchecked(
                context.numbers[device.tag], "inlet", words(f"what {device.tag} offers a hose is not known")
            )
        elif not _is_coupling(end.joint) and not _is_coupling(inlet.joint):
            yield from _check_chain(
                number, "to_end", [_of_inlet(inlet), *_adapter_sides(hose.to_adapter), _of_fitting(end)]
            )
            if hose.to_end is None:
                yield Unchecked(number, "to_end", words(f"the end at the device is taken as {end.name}"))


@rule("pressure class")
def pressure_class(context: Context) -> Result:
    """A thread that fits is not a fit: a low-pressure part in a high-pressure port bursts."""
    trade = catalogue()
    for number, hose in _hoses(context):
        port = context.port_of(hose.from_)
        if port is None:
            continue
        end, role = ends_of(hose).at_first_stage, trade.roles[hose.role]
        adapter = trade.adapters.get(hose.from_adapter or "")
        if port.service == "HP" and "LP" in (end.service, role.service):
            fits = " and the thread lets it in" if end.joint == port.thread or adapter else ""
            yield Finding(
                Signal.DANGER,
                number,
                "from",
                words(f"a low-pressure hose ({end.name}) is on the high-pressure port {hose.from_}{fits}"),
                words("At cylinder pressure it bursts. A thread that fits is not a fit: the pressure class decides."),
                words("Move it to an LP port. If a port is not marked, have a technician measure its pressure first."),
            )
        elif port.service == "LP" and "HP" in (end.service, role.service):
            yield Finding(
                Signal.WARNING,
                number,
                "from",
                words(f"a high-pressure hose ({hose.role}) is on the low-pressure port {hose.from_}"),
                words("The gauge then shows the intermediate pressure whatever is left in the cylinder."),
                words("Move it to an HP port."),
            )


@rule("coding defeated")
def coding_defeated(context: Context) -> Result:
    """An adapter between the threads of two pressure classes takes away the only thing that keeps them apart."""
    for number, hose in _hoses(context):
        for key, name in (("from_adapter", hose.from_adapter), ("to_adapter", hose.to_adapter)):
            if name and catalogue().adapters[name].defeats_coding:
                yield Finding(
                    Signal.DANGER,
                    number,
                    key,
                    words(f"{name} joins the threads of two pressure classes"),
                    words("Different threads are what keeps a low-pressure hose off a high-pressure port."),
                    words("Take the adapter out of the kit and use a hose made for the port."),
                )


@rule("instrument in a port")
def instrument_in_a_port(context: Context) -> Result:
    """A gauge or transmitter screwed straight into a port."""
    for number, thing in enumerate(context.kit.things):
        if not isinstance(thing, (Gauge, Transmitter)) or not thing.port:
            continue
        port, inlet = context.port_of(thing.port), catalogue().inlets.get(inlet_of(thing) or "")
        if port is None:
            continue
        if port.service == "LP":
            yield Finding(
                Signal.WARNING,
                number,
                "port",
                words(f"it sits in the low-pressure port {thing.port}"),
                words("It then shows the intermediate pressure whatever is left in the cylinder."),
                words("Move it to an HP port."),
            )
        if inlet is None:
            yield Unchecked(number, "inlet", words("its thread is not known"))
        else:
            yield from _check_chain(number, "port", [_of_port(port), _of_inlet(inlet)])


def _hoses(context: Context) -> Iterator[tuple[int, Hose]]:
    return ((figures.number, figures.hose) for figures in context.hoses)


def _check_chain(number: int, key: str, chain: list[Side]) -> Iterator[Finding]:
    """Every joint of a chain of sides; an adapter stands in it with both its sides, one after the other."""
    for near, far in zip(chain[0::2], chain[1::2], strict=True):
        if finding := _check_joint(number, key, near, far):
            yield finding


def _check_joint(number: int, key: str, near: Side, far: Side) -> Finding | None:
    if near.gender == far.gender:
        return Finding(
            Signal.WARNING,
            number,
            key,
            words(f"{far.called} ({far.gender}) is to go on {near.called} ({near.gender})"),
            words("Two of the same gender do not go together."),
            words("Choose the other end, or an adapter made for it."),
        )
    if near.joint == far.joint:
        return None
    male, female = (near, far) if near.gender == "male" else (far, near)
    if "built-in swivel" in (near.joint, far.joint):
        return _own_hose_only(number, key, near, far)
    threads = catalogue().threads
    if male.joint not in threads or female.joint not in threads:
        return Finding(
            Signal.WARNING,
            number,
            key,
            words(f"{far.called} ({far.joint}) does not go on {near.called} ({near.joint})"),
            words("They are joined in different ways."),
            words("Choose the end that is made for it."),
        )
    signal, happens, matters = WRONG_THREAD[meeting(male.joint, female.joint)]
    what = f"{far.called} has {far.joint}, {near.called} has {near.joint}. {happens}"
    if {near.joint, far.joint} == {"1/2-20 UNF", "3/8-24 UNF"}:
        what += " A half-inch hose bought for a three-eighths port, or the reverse: the classic mistake."
    return Finding(signal, number, key, words(what), words(matters), words(_advice(near, far)))


def _advice(near: Side, far: Side) -> str:
    adapters = [
        adapter.name
        for adapter in catalogue().adapters.values()
        if not adapter.defeats_coding
        and adapter.far_side[0] == near.joint
        and adapter.far_side[1] != near.gender
        and adapter.hose_side[0] == far.joint
        and adapter.hose_side[1] != far.gender
    ]
    fitting = f"Get a hose with a {near.joint} end. Read the thread on the part, or measure it, before you buy."
    return f"{fitting} The {adapters[0]} would also do." if adapters else fitting


def _own_hose_only(number: int, key: str, near: Side, far: Side) -> Finding:
    return Finding(
        Signal.WARNING,
        number,
        key,
        words(f"{far.called} does not go on {near.called}: a built-in swivel takes only its own replacement hose"),
        words("No stock hose fits it, at home or abroad."),
        words("Order the replacement hose from the maker of the second stage, and carry one as a spare."),
    )


def _is_coupling(joint: str) -> bool:
    coupling = catalogue().couplings.get(joint)
    return coupling is not None and coupling.kind == "quick-disconnect"


def _of_port(port: Port) -> Side:
    return Side(f"the port {port.name}", port.thread, "female")


def _of_fitting(fitting: Fitting) -> Side:
    return Side(f"the hose end {fitting.name}", fitting.joint, fitting.gender)


def _of_inlet(inlet: Inlet) -> Side:
    return Side(f"the inlet {inlet.name}", inlet.joint, inlet.gender)


def _adapter_sides(name: str | None) -> list[Side]:
    """The two sides of an adapter, the one away from the hose first."""
    if name is None:
        return []
    adapter: Adapter = catalogue().adapters[name]
    return [Side(f"the {name}", *adapter.far_side), Side(f"the {name}", *adapter.hose_side)]
