"""What the laws do with words that they do not know and numbers that make no sense, and what their help says."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import pydoc
from collections.abc import Callable, Iterator
from math import inf, nan
from types import ModuleType
from typing import Any

import pytest

from postcheck import physics
from postcheck.physics import (
    battery,
    bundle,
    colour_difference,
    copper,
    fill,
    flat_pack,
    fuse,
    given,
    heat,
    network,
    preferred,
    pulse,
    threading,
    tubes,
    twist,
    wire_heat,
)

WORDS: list[tuple[Callable[..., Any], tuple[Any, ...], str]] = [
    (fuse.surely_open_by, (0.5, 2.0, "fast"), "kind is one of quick, slow, UL, resettable; not 'fast'"),
    (fuse.may_hold, ("slo",), "kind is one of"),
    (fuse.surely_opens_at, ("slo",), "kind is one of"),
    (twist.strain_allowed, (1000, "foo"), "relation is one of foil, "),
    (preferred.nearest, (100.0, "E6"), "series is one of E12, E24, E96"),
    (preferred.is_preferred, (100.0, "E6"), "series is one of"),
    (bundle.pack, ([1.0], None, "hard"), "effort is one of light, quick, long"),
]


@pytest.mark.parametrize(("law", "words", "says"), WORDS)
def test_a_word_that_is_not_known_is_told_with_those_that_are(
    law: Callable[..., Any], words: tuple[Any, ...], says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        law(*words)


# a call that is sound, and what cannot be: the number of the argument with a value for it
NUMBERS: list[tuple[Callable[..., Any], tuple[Any, ...], dict[int, float]]] = [
    (battery.runtime, (7200.0, 0.1, 0.75), {0: -1.0, 1: 0.0, 2: 0.0}),
    (battery.time_to_voltage, (7200.0, 0.1, 9.0, 6.0, 7.0), {1: 0.0, 3: 9.0}),
    (colour_difference.lab_of_srgb, (10, 20, 30), {0: -1, 1: 256}),
    (colour_difference.in_poor_light, (colour_difference.Lab(50.0, 1.0, 1.0), 0.5, 0.5), {1: 1.5, 2: -0.1}),
    (copper.area, (1e-3,), {0: -1.0}),
    (copper.strand_area, (7, 1e-4), {0: 0, 1: -1.0}),
    (copper.ohms_per_metre, (1e-6, True, 1.02), {0: 0.0, 2: 0.0}),
    (copper.at_temperature, (1.0, 60.0), {0: -1.0, 1: -300.0}),
    (copper.breaking_load, (1e-8,), {0: -1.0}),
    (copper.yield_load, (1e-8,), {0: -1.0}),
    (copper.minimum_elongation, (1e-4,), {0: -1.0}),
    (copper.awg_diameter, (28,), {0: 51.0}),
    (fill.fill, ((1.0, 2.0), 5.0), {1: 0.0}),
    (fill.conduit_count, (10.0, 1.0), {0: -1.0, 1: 0.0}),
    (fill.jam_ratio, (3.0, 1.0), {0: 0.0, 1: 0.0}),
    (fill.jams, (3.0, 3), {0: -1.0, 1: -1}),
    (fill.bore_for_bundle, (2.0,), {0: -1.0}),
    (fill.smallest_bore_by_fill, ((1.0, 2.0), 0.4), {1: 0.0}),
    (flat_pack.free_circle, (2.0, 0.5, 4.0), {0: 0.0, 1: -1.0, 2: 0.0}),
    (flat_pack.goes_past, (2.0, 0.5, (0.4,), 4.0), {0: 0.0, 3: 0.0}),
    (flat_pack.laid, (2.0, 0.5, (0.4,), 4.0), {0: 0.0, 3: 0.0}),
    (fuse.surely_open_by, (0.5, 2.0), {0: 0.0, 1: -1.0}),
    (fuse.may_hold, ("quick", 1.5), {1: 0.0}),
    (fuse.surely_opens_at, ("quick", 2.1), {1: 0.0}),
    (fuse.next_fuse, (0.3,), {0: -1.0}),
    (heat.place_rise, (1.0, 0.01, 4.0), {0: -1.0, 1: 0.0, 2: 0.0}),
    (heat.resistor_rise, (0.1, 0.25), {0: -1.0, 1: 0.0}),
    (network.thermal_voltage, (25.0,), {0: -300.0}),
    (network.diode_through, (2.8, 0.005, 3.2, 0.02), {0: 0.0, 1: 0.0, 3: 0.001}),
    (network.fit_diode, (2.8, 0.005, 3.2, 0.02), {0: 0.0, 3: 0.001}),
    (preferred.nearest, (100.0,), {0: 0.0}),
    (pulse.on_time, (0.1, 10.0), {0: 1.1, 1: 0.0}),
    (pulse.duty, (0.01, 10.0), {0: -1.0, 1: 0.0}),
    (pulse.average, (1.0, 0.1), {1: -0.1}),
    (pulse.root_mean_square, (1.0, 0.1), {1: -0.1}),
    (pulse.short_enough, (1e-5,), {0: -1.0}),
    (pulse.rare_enough, (0.1,), {0: -0.1}),
    (pulse.applies_pulse_rating, (1e-5, 0.1), {0: -1.0, 1: 1.2}),
    (pulse.pulse_limit, (0.02, 0.1, 1e-5, 0.1), {0: -1.0, 2: -1.0, 3: 1.2}),
    (threading.room_beside, ((0.4,), 4.0, 8), {1: 0.0, 2: 0}),
    (threading.alone, (threading.Thick(2.0), 3.0), {1: 0.0}),
    (tubes.tube_with_bore, (3e-3,), {0: -1.0}),
    (twist.path_length, (0.1, 1e-3, 1.0), {0: 0.0, 1: -1.0}),
    (twist.slack_needed, (0.1, 1e-3, 1.0), {0: 0.0, 1: -1.0}),
    (twist.axial_strain, (0.1, 1e-3, 1.0, 0.0), {0: 0.0, 3: -1.0}),
    (twist.curvature, (0.1, 1e-3, 1.0), {0: 0.0, 1: -1.0}),
    (twist.torsion, (0.1, 1e-3, 1.0), {0: 0.0, 1: -1.0}),
    (twist.shear_strain, (1e-4, 0.1, 1.0), {0: -1.0, 1: 0.0}),
    (twist.strain_range, (1e-4, 0.1, -1.0, 1.0), {0: -1.0, 1: 0.0}),
    (twist.working_radius, (1e-4, 7), {0: -1.0, 1: 0}),
    (twist.shortest_span, (1e-4, 1.0, 0.01), {0: -1.0, 1: -1.0, 2: 0.0}),
    (twist.bend_strain, (1e-4, 5e-3), {0: 0.0, 1: -1.0}),
    (twist.repeated_bend_radius, (1e-4, 0.01), {0: 0.0, 1: 0.0}),
    (twist.swing_range, (0.01, 1.0), {0: -1.0, 1: -1.0}),
    (twist.swings, (1.0,), {0: -1.0}),
    (twist.lay_of, (1e-4, 7, 6e-3), {0: -1.0, 1: 0, 2: 0.0}),
    (twist.lay_strain, (twist.Lay(6e-3, 1e-4, 3e-9), 5e-5, 0.1, -1.0, 1.0), {2: 0.0}),
    (twist.fold_strain, (1e-4, 0.1, 1.0), {0: 0.0, 1: 0.0, 2: -1.0}),
    (twist.fold_length, (1e-4, 1.0, 0.01), {0: 0.0, 1: -1.0, 2: 0.0}),
    (twist.coil_radius, (0.1, 0.01, 1e-3), {0: 0.0, 1: -1.0, 2: -1.0}),
    (twist.coil_length, (0.1, 1e-3, 5e-3), {0: 0.0, 1: -1.0, 2: 0.0}),
    (twist.minimum_bend_radius, (1e-3,), {0: -1.0}),
    (twist.loop_limit, (0.34,), {0: 0.6}),
    (twist.capstan, (1.0, 0.3, 1.0), {0: -1.0, 1: -1.0, 2: -1.0}),
    (twist.pull_limit, (1e-8,), {0: -1.0}),
    (twist.bends_borne, (1.0, 0.3, 5.0), {0: 0.0, 1: 0.0, 2: 0.0}),
    (twist.strain_allowed, (1000.0,), {0: 0.5}),
    (twist.life, (0.01, 1e9), {0: -1.0, 1: 0.5}),
    (wire_heat.film, (5e-4, 30.0, 25.0), {0: 0.0, 1: -1.0, 2: -300.0}),
    (wire_heat.loss_per_metre, (5e-4, 30.0, 25.0, 4e-3), {0: 0.0, 1: -1.0, 2: -300.0, 3: 0.0}),
    (wire_heat.company_rise, (1.0, 2e-3, 4e-3, 20.0), {0: -1.0, 1: 0.0, 2: 0.0}),
    (wire_heat.settles_at, (0.5, 0.2, 5e-4, 25.0, 4e-3), {1: -1.0, 2: 0.0, 3: -300.0, 4: 0.0}),
    (wire_heat.warms_to, (0.5, 1.0, 1e-7, 0.2, 0.1), {1: -1.0, 2: 0.0, 3: -1.0, 4: -1.0}),
]  # fmt: skip


@pytest.mark.parametrize(("law", "sound", "wrong"), NUMBERS, ids=[row[0].__name__ for row in NUMBERS])
def test_a_number_out_of_range_is_one_clear_error(
    law: Callable[..., Any], sound: tuple[Any, ...], wrong: dict[int, float]
) -> None:
    law(*sound)
    for place, value in wrong.items():
        for bad in (value, nan):
            with pytest.raises(ValueError) as caught:  # noqa: PT011 - each law has words of its own
                law(*sound[:place], bad, *sound[place + 1 :])
            assert len(str(caught.value)) > 10
            assert "math domain" not in str(caught.value)


@pytest.mark.parametrize("law", [fill.rule_of_thumb_diameter, fill.smallest_bore_by_fill, bundle.pack])
def test_none_of_several_wires_is_below_zero(law: Callable[..., Any]) -> None:
    with pytest.raises(ValueError, match="above zero"):
        law([1.0, -1.0])


def test_what_cannot_be_is_named() -> None:
    with pytest.raises(ValueError, match="diameter must not be below zero, but is -1"):
        copper.area(-1)
    given.above(current=inf)
    given.from_zero(current=0.0)
    assert twist.repeated_bend_radius(1e-4, 2.0) == 0.0
    assert wire_heat.settles_at(0.1, 0.2, 5e-4, ambient=90.0, most=80.0) is None


def test_a_node_that_is_not_there_is_told() -> None:
    source = network.Source(plus=0, minus=1, volts=5.0, ohms=1.0)
    solution = network.solve(network.Circuit(2, (source, network.Resistance(0, 1, 100.0))))
    for node in (-1, 2):
        with pytest.raises(ValueError, match="no node"):
            network.influence(solution, {node: 1.0})
    for element in (-1, 2):
        with pytest.raises(ValueError, match="no element"):
            network.ports(solution, [element])


@pytest.mark.parametrize(
    ("check", "sound", "wrong"),
    [
        (lambda v: given.above(it=v), [1e-300, inf], [0.0, -1e-300, nan]),
        (lambda v: given.from_zero(it=v), [0.0, inf], [-1e-300, nan]),
        (lambda v: given.each_above("things", [1.0, v]), [1e-300, inf], [0.0, -1.0, nan]),
        (lambda v: given.share(it=v), [0.0, 1.0], [-1e-9, 1.0 + 1e-9, nan]),
        (lambda v: given.warmer_than_nothing(it=v), [-273.0, 1e4], [-273.15, -300.0, nan]),
        (lambda v: given.one_of("it", v, ("a", "b")), ["a", "b"], ["c", ""]),
    ],
)
def test_what_is_just_within_and_just_without(
    check: Callable[[Any], None], sound: list[Any], wrong: list[Any]
) -> None:
    for value in sound:
        check(value)
    for value in wrong:
        with pytest.raises(ValueError, match=r"it|things"):
            check(value)


# -- help


def _modules() -> Iterator[ModuleType]:
    yield physics
    for found in pkgutil.walk_packages(physics.__path__, "postcheck.physics."):
        yield importlib.import_module(found.name)


def test_help_of_the_laws_tells_every_room() -> None:
    told = physics.__doc__ or ""
    for found in pkgutil.iter_modules(physics.__path__):
        assert f"- `{found.name}`: " in told


def test_help_names_every_field_of_what_the_laws_give() -> None:
    assert "no arrangement can beat" in pydoc.plain(pydoc.render_doc(bundle.Packing))
    for kind in (
        bundle.Packing,
        twist.Lay,
        twist.Life,
        twist.TwistStrain,
        network.Port,
        network.Solution,
        threading.Order,
    ):
        told = inspect.getdoc(kind) or ""
        for field in kind.__annotations__:
            assert f"`{field}`" in told or f"`{field}[" in told, (kind, field)
    assert twist.Life._fields == ("low", "high", "middle")


@pytest.mark.parametrize("module", list(_modules()), ids=lambda module: module.__name__)
def test_what_help_shows_as_worked_is_worked(module: ModuleType) -> None:
    run = doctest.testmod(module)
    assert run.failed == 0
    assert run.attempted > 0 or module is not network
