"""Pages of the fleet: machines, their tyres and the spare tyres behind them."""
