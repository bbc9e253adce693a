"""Writing money: prices, assumptions, costs, approvals, closed months and imports."""
