"""The invented houses: inside the ranges of the trade, and nobody's values."""

import pytest
import reference_circuits

from solvers.plant import demo_calls, demo_controls, demo_supplies, demos, facts, found_demo
from solvers.plant.parts import Boiler, HeatMotorValve, Stat, Transformer

REFERENCES = (reference_circuits.REF_A, reference_circuits.REF_B, reference_circuits.REF_C, reference_circuits.REF_E)
SIZES = {
    Transformer: {"emf": facts.TRANSFORMER_EMF, "ohms": facts.TRANSFORMER_OHMS, "dc_ohms": facts.TRANSFORMER_DC_OHMS},
    Stat: {"ohms": facts.STAT_OHMS},
    HeatMotorValve: {
        "heater_ohms": facts.HEATER_OHMS,
        "switch_ohms": facts.SWITCH_OHMS,
        "wax_resistance": facts.WAX_RESISTANCE,
        "wax_tau": facts.WAX_TAU,
        "end_degC": facts.WAX_END_DEGC,
        "ambient_degC": facts.INDOOR_DEGC,
    },
    Boiler: {"emf": facts.BOILER_EMF, "ohms": facts.BOILER_SOURCE_OHMS, "input_ohms": facts.BOILER_INPUT_OHMS},
}
HOUSES = [
    getattr(module, name)() for module in (demos, demo_calls, demo_controls, demo_supplies, found_demo) for name in module.__all__
]


@pytest.mark.parametrize("house", HOUSES, ids=lambda house: house.name)
def test_sizes_are_invented_within_the_ranges(house):
    """Every size of every part lies in its range, and no part has the sizes of a part of a reference circuit."""
    for part in house.parts:
        sizes = SIZES.get(type(part), {})
        for name, fact in sizes.items():
            times = part.va / 40 if isinstance(part, Transformer) and name != "emf" else 1.0  # the ranges are for 40 VA
            assert fact.low <= getattr(part, name) * times <= fact.high, (part.name, name)
        if sizes:
            mine = tuple(getattr(part, name) for name in sizes)
            for reference in REFERENCES:
                for other in reference.parts:
                    if type(other) is type(part):
                        assert mine != tuple(getattr(other, name) for name in sizes)
                        main = next(iter(sizes))
                        assert getattr(part, main) != getattr(other, main) or type(part) is Stat


def test_every_fact_has_a_source():
    """Each number of the plant names its unit and a source that the list of sources explains, and lies in its own range."""
    found = [getattr(facts, name) for name in facts.__all__ if isinstance(getattr(facts, name), facts.Fact)]
    assert len(found) > 60
    for fact in found:
        assert fact.source in facts.SOURCES
        assert fact.low <= fact.value <= fact.high
