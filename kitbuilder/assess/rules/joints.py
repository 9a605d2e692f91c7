"""What is screwed into what: threads and pressure classes from the port to the device."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.findings import Finding, RuleResults, Signal, Unchecked, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.hoses.ports import Port, inlet_of
from kitbuilder.assess.hoses.threads import meeting
from kitbuilder.assess.rules.context import Context
from kitbuilder.assess.rules.registry import rule
from kitbuilder.catalogue import Adapter, Fitting, Inlet, catalogue
from kitbuilder.kit.items import Device, Gauge, Hose, Transmitter
from kitbuilder.physics.threads import Mating


class Side(NamedTuple):
    """One half of a joint."""

    called: str
    joint: str
    gender: str
    key: str
    """The key of the hose or instrument that says so."""


WRONG_THREAD = {
    Mating.CANNOT_ENTER: (Signal.WARNING, "It does not screw in.", "The dive ends on the bench."),
    Mating.DROPS_IN: (
        Signal.DANGER,
        "One slides over the other without a thread to hold.",
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
def thread_at_the_port(context: Context) -> RuleResults:
    """Compare the hose end, or its adapter, with the port it is screwed into."""
    for figures in context.hoses:
        number, hose, service = figures.number, figures.hose, figures.service
        port = context.port_of(hose.from_)
        if port is None:
            continue
        end = figures.ends.at_first_stage
        if hose.from_adapter or end.joint != port.thread or end.gender != "male":
            other_pressure = "" if port.service == service else f"Do not adapt it. Put it on an {service} port."
            yield from _check_chain(number, _chain_at_port(figures, port), service, do=other_pressure)
        if hose.from_end is None:
            called = _of_fitting(end, "from_end").called
            yield Unchecked(number, "from_end", words(f"the end at the first stage is taken as {called}"))


@rule("thread at the device")
def thread_at_the_device(context: Context) -> RuleResults:
    """Compare the other hose end, or its adapter, with the device."""
    trade = catalogue()
    for figures in context.hoses:
        number, hose, service, end = figures.number, figures.hose, figures.service, figures.ends.at_device
        device = context.item(hose.to)
        if not isinstance(device, Device):
            continue
        inlet = trade.inlets.get(inlet_of(device) or "")
        if inlet is None:
            yield Unchecked(
                context.numbers[device.tag], "inlet", words(f"what {device.tag} offers a hose is not known")
            )
        elif hose.to_adapter or not (_is_coupling(end.joint) or _is_coupling(inlet.joint)):
            if hose.to_adapter or end.joint != inlet.joint or end.gender == inlet.gender:
                adapter = _adapter_sides(hose.to_adapter, "to_adapter")
                chain = [_of_inlet(inlet, "to"), *adapter, _of_fitting(end, "to_end")]
                other_pressure = "" if inlet.service == service else f"Do not adapt it. Use an {inlet.service} hose."
                yield from _check_chain(number, chain, service, do=other_pressure)
            if hose.to_end is None:
                yield Unchecked(number, "to_end", words(f"the end at the device is taken as {end.name}"))


@rule("pressure class")
def pressure_class(context: Context) -> RuleResults:
    """Report a low-pressure part in a high-pressure port, which bursts although the thread fits."""
    trade = catalogue()
    for figures in context.hoses:
        number, hose, service, end = figures.number, figures.hose, figures.service, figures.ends.at_first_stage
        port = context.port_of(hose.from_)
        if port is None:
            continue
        adapter = trade.adapters.get(hose.from_adapter or "")
        weak = [part for part in (end, adapter) if part and part.service == "LP"]
        if port.service == "HP" and (service == "LP" or weak):
            lets_in = not any(_check_chain(number, _chain_at_port(figures, port), service))
            fits = " and the thread lets it in" if lets_in else ""
            what = f"{'part' if service == 'HP' else 'hose'} ({(weak or [end])[0].name})"
            yield Finding(
                Signal.DANGER,
                number,
                "from",
                words(f"a low-pressure {what} is on the high-pressure port {hose.from_}{fits}"),
                words("At cylinder pressure it bursts. A thread that fits is not a fit: the pressure class decides."),
                words(
                    "Get a hose made for high pressure from end to end."
                    if service == "HP"
                    else "Move it to an LP port. If a port is not marked, have a technician measure its pressure first."
                ),
            )
        elif port.service == "LP" and service == "HP":
            yield Finding(
                Signal.WARNING,
                number,
                "from",
                words(f"a high-pressure hose ({hose.role}) is on the low-pressure port {hose.from_}"),
                words("The gauge then shows the intermediate pressure whatever is left in the cylinder."),
                words("Move it to an HP port."),
            )


@rule("coding defeated")
def coding_defeated(context: Context) -> RuleResults:
    """Report an adapter that joins threads of two pressure classes, whose threads differ to keep them apart."""
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
def instrument_in_a_port(context: Context) -> RuleResults:
    """Report a gauge or transmitter screwed straight into a port."""
    for number, item in enumerate(context.kit.items):
        if not isinstance(item, (Gauge, Transmitter)) or not item.port:
            continue
        port, inlet = context.port_of(item.port), catalogue().inlets.get(inlet_of(item) or "")
        if port is None:
            continue
        if port.service == "LP":
            yield Finding(
                Signal.WARNING,
                number,
                "port",
                words(f"it sits in the low-pressure port {item.port}"),
                words("It then shows the intermediate pressure whatever is left in the cylinder."),
                words("Move it to an HP port."),
            )
        if inlet is None:
            yield Unchecked(number, "inlet", words("its thread is not known"))
        else:
            do = "Move it to an HP port." if port.service == "LP" else "Put an HP hose between them that fits both."
            yield from _check_chain(number, [_of_port(port), _of_inlet(inlet, "port")], "HP", do=do)


def _hoses(context: Context) -> Iterator[tuple[int, Hose]]:
    return ((figures.number, figures.hose) for figures in context.hoses)


def _check_chain(number: int, chain: list[Side], service: str, do: str = "") -> Iterator[Finding]:
    """Check every joint of a chain of sides; an adapter stands in it with both its sides, one after the other.

    Args:
        service: The pressure class of the hose or instrument.
        do: The advice, where it is not to get a part that fits.
    """
    joints = zip(chain[0::2], chain[1::2], strict=True)
    found = [finding for near, far in joints if (finding := _check_joint(number, near, far, service))]
    first, last = chain[0], chain[-1]
    if found and not do and len(chain) > 2 and first.joint == last.joint and first.gender != last.gender:
        do = f"Take {chain[1].called} off: {last.called} fits {first.called} without it."
        found = [found[0]._replace(key=chain[1].key)]
    yield from (finding._replace(do=words(do)) if do else finding for finding in found)


def _check_joint(number: int, near: Side, far: Side, service: str) -> Finding | None:
    if near.gender == far.gender:
        return Finding(
            Signal.WARNING,
            number,
            far.key,
            words(f"{far.called} ({far.gender}) is to go on {near.called} ({near.gender})"),
            words("Two of the same gender do not go together."),
            words("Choose the other end, or an adapter made for it."),
        )
    if near.joint == far.joint:
        return None
    male, female = (near, far) if near.gender == "male" else (far, near)
    if "built-in swivel" in (near.joint, far.joint):
        return _own_hose_only(number, near, far)
    threads = catalogue().threads
    if male.joint not in threads or female.joint not in threads:
        return Finding(
            Signal.WARNING,
            number,
            far.key,
            words(f"{far.called} ({far.joint}) does not go on {near.called} ({near.joint})"),
            words("They are joined in different ways."),
            words("Choose the end that is made for it."),
        )
    happening = meeting(male.joint, female.joint)
    if happening is Mating.MATES:
        return None
    signal, happens, matters = WRONG_THREAD[happening]
    what = f"{far.called} has {far.joint}, {near.called} has {near.joint}. {happens}"
    if (near.key, far.key) == ("from", "from_end") and {near.joint, far.joint} == {"1/2-20 UNF", "3/8-24 UNF"}:
        what += " A half-inch hose bought for a three-eighths port, or the reverse: the classic mistake."
    return Finding(signal, number, far.key, words(what), words(matters), words(_advice(near, far, service)))


def _advice(near: Side, far: Side, service: str) -> str:
    if far.key.endswith("adapter"):
        return f"Choose an adapter that fits {near.joint}. Read the thread on the part, or measure it, before you buy."
    adapters = [
        adapter.name
        for adapter in catalogue().adapters.values()
        if not adapter.defeats_coding
        and adapter.service == service
        and adapter.far_side[0] == near.joint
        and adapter.far_side[1] != near.gender
        and adapter.hose_side[0] == far.joint
        and adapter.hose_side[1] != far.gender
    ]
    fitting = f"Get a hose with a {near.joint} end. Read the thread on the part, or measure it, before you buy."
    return f"{fitting} The {adapters[0]} would also do." if adapters else fitting


def _own_hose_only(number: int, near: Side, far: Side) -> Finding:
    """Report a built-in swivel on one side only: on the device, or on the hose."""
    on_the_hose = far.joint == "built-in swivel"
    return Finding(
        Signal.WARNING,
        number,
        far.key,
        words(f"{far.called} does not go on {near.called}: a built-in swivel takes only its own replacement hose"),
        words("That hose fits nothing else." if on_the_hose else "No stock hose fits it, at home or abroad."),
        words(
            f"Get a hose with a {near.joint} end."
            if on_the_hose
            else "Order the replacement hose from the maker of the second stage, and carry one as a spare."
        ),
    )


def _is_coupling(joint: str) -> bool:
    coupling = catalogue().couplings.get(joint)
    return coupling is not None and coupling.kind == "quick-disconnect"


def _chain_at_port(figures: HoseFigures, port: Port) -> list[Side]:
    end = _of_fitting(figures.ends.at_first_stage, "from_end")
    return [_of_port(port), *_adapter_sides(figures.hose.from_adapter, "from_adapter"), end]


def _of_port(port: Port) -> Side:
    return Side(f"the port {port.name}", port.thread, "female", "from")


def _of_fitting(fitting: Fitting, key: str) -> Side:
    return Side(f"the hose end {fitting.name}", fitting.joint, fitting.gender, key)


def _of_inlet(inlet: Inlet, key: str) -> Side:
    return Side(f"the inlet {inlet.name}", inlet.joint, inlet.gender, key)


def _adapter_sides(name: str | None, key: str) -> list[Side]:
    """Give the two sides of an adapter, the one away from the hose first."""
    if name is None:
        return []
    adapter: Adapter = catalogue().adapters[name]
    return [Side(f"the {name}", *adapter.far_side, key), Side(f"the {name}", *adapter.hose_side, key)]
