"""One file for each rule of the bay, as the solver sees it."""
