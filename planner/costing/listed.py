"""How each kind of price is listed: its unit, and its item where there is only one."""

from collections.abc import Mapping

from planner.costing.lines import CostKind
from planner.costing.options import OptionKind
from planner.costing.rates import PriceKind
from planner.costing.sheet import BAY_HOUR, DISPOSAL, ENERGY, INSPECTION, TRIP

# A sheet counts in these units, so a price for any other would be wrong by a factor; a material has its own.
UNITS: Mapping[PriceKind, str] = {
    CostKind.LABOUR: "h",
    CostKind.ENERGY: "kWh",
    CostKind.HEATER_SET: "h",
    CostKind.BAY: "h",
    CostKind.TRANSPORT: "trip",
    CostKind.INSPECTION: "inspection",
    CostKind.DISPOSAL: "tyre",
    OptionKind.NEW: "tyre",
    OptionKind.RETREAD: "tyre",
    OptionKind.SEND_OUT: "tyre",
}
ONLY_ITEMS: Mapping[PriceKind, str] = {
    CostKind.ENERGY: ENERGY,
    CostKind.BAY: BAY_HOUR,
    CostKind.TRANSPORT: TRIP,
    CostKind.INSPECTION: INSPECTION,
    CostKind.DISPOSAL: DISPOSAL,
}
