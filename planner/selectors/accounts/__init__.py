"""Reading money: prices, assumptions, costs of repairs, comparisons and months."""
