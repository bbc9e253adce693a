"""How far the rubber is cured, how long a cure takes, and what the chart says of it."""
