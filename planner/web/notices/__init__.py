"""Pages of what somebody is told: notices, and the tyres that they follow."""
