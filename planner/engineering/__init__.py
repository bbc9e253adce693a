"""Heat, cure and life of a repair: numpy and scipy, no framework."""
